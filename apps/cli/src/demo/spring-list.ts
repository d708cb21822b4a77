import { type Day, day, type PriceDraftId, toId } from '@grainwright/domain';
import {
  type Actor,
  asWritten,
  type ListRowInput,
  readPriceDraft,
  type Services,
  savePriceDraft,
  startPriceDraft,
} from '@grainwright/operations';
import { must } from './must.ts';

/** Invented: what the owner would ask from spring on. */
const newPrices: Readonly<Record<string, string>> = {
  'VC-S': '150.00',
  'VC-M': '210.00',
  'BN-S': '130.00',
  'SC-S': '99.00',
  'LT-M': '235.00',
  'LW-P': '195.00',
  'PL-S': '115.00',
};

const pillarTrim: ListRowInput = {
  code: 'PT-S',
  repair: 'Pillar trim scratch, up to 3 in',
  family: 'Pillar trim scratch',
  overInches: '0',
  toInches: '3',
  part: 'pillar_trim',
  material: null,
  list: '105.00',
  materialsPercent: '12',
  takesFurtherRepair: true,
  repairsDamage: true,
};

/** A price list in the making that counts from a coming day, to be tried and looked at. It is not put into force. */
export async function writeSpringList(services: Services, owner: Actor, today: Day): Promise<void> {
  const draftId = toId<PriceDraftId>(services.newId());
  const head = { name: 'Spring list', countsFrom: comingSpring(today) };
  must(await startPriceDraft(services, owner, { draftId, ...head, copiedFrom: null }));
  const { rates, revision, currency } = must(await readPriceDraft(services, owner, { draftId }));
  const rows = rates.map((rate) => {
    const row = asWritten(rate, currency);
    return { ...row, list: newPrices[rate.code] ?? row.list };
  });
  must(await savePriceDraft(services, owner, { draftId, ...head, revision, rates: [...rows, pillarTrim] }));
}

function comingSpring(today: Day): Day {
  const year = Number(today.slice(0, 4));
  const first = day(`${year}-03-01`);
  return first > today ? first : day(`${year + 1}-03-01`);
}
