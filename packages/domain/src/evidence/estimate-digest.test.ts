import { expect, test } from 'vitest';
import { day } from '../dates.ts';
import { type LineId, toId, type VersionId, type WorkOrderId } from '../ids.ts';
import { canonicalJson } from './canonical-json.ts';
import { type EstimateContent, estimateDigestInput } from './estimate-digest.ts';

const id = (last: number) => `01890a5d-ac96-774b-bcce-b3020990000${last}`;

/** The cut in a tailgate lining for a trade account; 165.75 is 195.00 less 15 percent. */
const estimate: EstimateContent = {
  workOrderId: toId<WorkOrderId>(id(1)),
  versionId: toId<VersionId>(id(2)),
  versionNumber: 1,
  rateDay: day('2026-08-05'),
  expiresOn: null,
  currency: 'USD',
  lines: [
    {
      lineId: toId<LineId>(id(3)),
      code: 'VC-M',
      text: 'Cut or tear, tailgate lining',
      inches: '2.2',
      beforeFurtherRepairMinor: 16575n,
      takesFurtherRepair: true,
      netMinor: 16575n,
      laborMinor: 14586n,
      materialsMinor: 1989n,
    },
  ],
  vehicleMinimumMinor: 0n,
  afterHoursMinor: 0n,
  rushMinor: 0n,
  visitMinimumMinor: 0n,
  tripMinor: 4500n,
  taxMinor: 124n,
  totalMinor: 21199n,
};

const text = (change: Partial<EstimateContent> = {}) =>
  canonicalJson(estimateDigestInput({ ...estimate, ...change }));

test('amounts are written as decimal strings of minor units', () => {
  expect(text()).toContain('"netMinor":"16575"');
  expect(text()).toContain('"totalMinor":"21199"');
});

test.each<[string, Partial<EstimateContent>]>([
  ['a price', { lines: estimate.lines.map((line) => ({ ...line, netMinor: 16574n })) }],
  ['a size', { lines: estimate.lines.map((line) => ({ ...line, inches: '2.3' })) }],
  ['a line', { lines: [] }],
  ['the trip charge', { tripMinor: 0n }],
  ['the rush charge', { rushMinor: 100n }],
  ['the minimum of the visit', { visitMinimumMinor: 100n }],
  ['the version', { versionNumber: 2 }],
  ['the currency', { currency: 'CAD' }],
])('another %s is another text, so the approval of one is not that of the other', (_what, change) => {
  expect(text(change)).not.toBe(text());
});
