import type { CommissionRateId, PersonId } from '@grainwright/domain';
import {
  endCommissionRate,
  exportCommissions,
  readCommissions,
  setCommissionRate,
  voidInvoice,
} from '@grainwright/operations';
import postgres, { type Sql } from 'postgres';
import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest';
import { codeOf } from './support/billing-desk.ts';
import { billedJob, credited, dealerJob, lineOf, trimJob } from './support/credit-desk.ts';
import { openWeb } from './support/web.ts';
import { aBusiness, type Business, must, openWorld, type World } from './support/world.ts';

let world: World;
let admin: Sql;

beforeAll(async () => {
  world = await openWorld();
  admin = postgres(world.adminUrl, { max: 1, onnotice: () => undefined });
});
afterAll(() => admin.end({ timeout: 5 }));
beforeEach(() => world.at('2026-10-14T18:00'));

interface RateAsked {
  readonly percent: string;
  readonly validFrom?: string;
  readonly validTo?: string | null;
  readonly id?: CommissionRateId;
  readonly personId?: PersonId;
}

function setRate(business: Business, asked: RateAsked, by = business.owner) {
  return setCommissionRate(world.services, by, {
    id: asked.id ?? world.newId<CommissionRateId>(),
    personId: asked.personId ?? business.technician.personId,
    percent: asked.percent,
    validFrom: asked.validFrom ?? '2026-01-01',
    validTo: asked.validTo ?? null,
  });
}

async function paid({ bookkeeper }: Business, from = '2026-10-01', to = '2026-10-31') {
  return must(await readCommissions(world.services, bookkeeper, { from, to }));
}

// INV-2020: 416.48 of labor without after-hours. INV-2004: 548.42.
test('it is earned with the invoice, on the labor of repairs without after-hours', async () => {
  const business = await aBusiness(world);
  must(await setRate(business, { percent: '40' }));
  await billedJob(business, admin, dealerJob);
  await billedJob(business, admin, trimJob);
  const { technicians, entries } = await paid(business);
  expect(technicians).toMatchObject([
    {
      name: 'Tobias Wrenfield',
      laborMinor: 96490n,
      beforeCreditsMinor: 16659n + 21937n,
      creditsMinor: 0n,
      withoutRate: 0,
    },
  ]);
  expect(entries.map((entry) => [entry.kind, entry.laborMinor, entry.commissionMinor])).toEqual([
    ['invoiced', 41648n, 16659n],
    ['invoiced', 54842n, 21937n],
  ]);
  const lines = entries[0]?.lines ?? [];
  expect(lines.reduce((sum, line) => sum + line.laborMinor, 0n)).toBe(41648n);
});

test('a credit takes back the difference in its own month, and a void what is left', async () => {
  const business = await aBusiness(world);
  must(await setRate(business, { percent: '40' }));
  const { invoice } = await billedJob(business, admin, dealerJob);
  const { invoice: wrong } = await billedJob(business, admin, trimJob);
  world.at('2026-11-02T09:00');
  // The agreed credit of 117.88, of which 82.50 is labor of the repair.
  await credited(business, invoice, {
    lines: [{ kind: 'repriced', lineId: lineOf(invoice, 'LT-L'), measuredInches: '2.6' }],
  });
  must(await voidInvoice(world.services, business.bookkeeper, { invoiceId: wrong.id, reason: 'not theirs' }));
  const october = await paid(business);
  const november = await paid(business, '2026-11-01', '2026-11-30');
  expect(october.technicians).toMatchObject([
    { beforeCreditsMinor: 38596n, creditsMinor: 0n, afterCreditsMinor: 38596n },
  ]);
  expect(november.entries.map((entry) => [entry.kind, entry.laborMinor, entry.commissionMinor])).toEqual([
    ['credited', -8250n, -3300n],
    ['voided', -54842n, -21937n],
  ]);
  const both = await paid(business, '2026-10-01', '2026-11-30');
  // 40 % of the 333.98 that remain.
  expect(both.technicians).toMatchObject([
    { beforeCreditsMinor: 38596n, creditsMinor: -25237n, afterCreditsMinor: 13359n },
  ]);
});

test('the rate of the day of work counts, and work without one is said', async () => {
  const business = await aBusiness(world);
  const id = world.newId<CommissionRateId>();
  must(await setRate(business, { id, percent: '40', validFrom: '2026-10-15' }));
  await billedJob(business, admin, dealerJob);
  const before = await paid(business);
  expect(before.technicians).toMatchObject([{ withoutRate: 1, beforeCreditsMinor: 0n }]);
  must(await setRate(business, { percent: '35', validFrom: '2026-01-01', validTo: '2026-10-14' }));
  // 35 % of 416.48.
  expect((await paid(business)).technicians).toMatchObject([{ withoutRate: 0, beforeCreditsMinor: 14577n }]);
});

test('rates of one person never overlap, are the owner’s to set, and end once', async () => {
  const business = await aBusiness(world);
  const id = world.newId<CommissionRateId>();
  must(await setRate(business, { id, percent: '40' }));
  must(await setRate(business, { id, percent: '40.000' }));
  expect(codeOf(await setRate(business, { id, percent: '41' }))).toBe('id_reused');
  expect(codeOf(await setRate(business, { percent: '38', validFrom: '2026-12-01' }))).toBe('duplicate');
  expect(codeOf(await setRate(business, { percent: '101' }))).toBe('invalid_input');
  expect(codeOf(await setRate(business, { percent: '38' }, business.bookkeeper))).toBe('not_allowed');
  expect(codeOf(await setRate(business, { percent: '38', personId: world.newId<PersonId>() }))).toBe(
    'not_found',
  );
  must(await endCommissionRate(world.services, business.owner, { id, validTo: '2026-11-30' }));
  must(await endCommissionRate(world.services, business.owner, { id, validTo: '2026-11-30' }));
  expect(codeOf(await endCommissionRate(world.services, business.owner, { id, validTo: '2026-12-31' }))).toBe(
    'wrong_state',
  );
  must(await setRate(business, { percent: '38', validFrom: '2026-12-01' }));
});

test('two who set a rate at once: one of them is told', async () => {
  const business = await aBusiness(world);
  const set = await Promise.all(['38', '39', '40'].map((percent) => setRate(business, { percent })));
  expect(set.map(codeOf).toSorted()).toEqual(['duplicate', 'duplicate', 'ok']);
});

test('page, API and spreadsheet have the same figures; a rate is set on the page', async () => {
  const business = await aBusiness(world);
  await billedJob(business, admin, dealerJob);
  const web = await openWeb(world);
  const headers = await web.signIn(business.emailOf('bookkeeper'), business.password);
  const owner = await web.signInByPage(business.emailOf('owner'), business.password);
  const id = world.newId();
  const { personId } = business.technician;
  const fields = { id, person_id: personId, percent: '40 percent', valid_from: '2026-01-01' };
  const refused = await owner.post('/office/commissions/rates', fields);
  expect([refused.statusCode, refused.body.includes('value="40 percent"')]).toEqual([422, true]);
  expect((await owner.post('/office/commissions/rates', { ...fields, percent: '40' })).statusCode).toBe(303);
  const days = 'from=2026-10-01&to=2026-10-31';
  const page = await owner.get(`/office/commissions?${days}&technician=${personId}`);
  for (const part of ['$416.48', '$166.59', 'Tobias Wrenfield', '40 %']) expect(page.body).toContain(part);
  const answer = await web.app.inject({ url: `/api/v1/reports/commissions?${days}`, headers });
  expect(answer.json()).toMatchObject({
    technicians: [{ before_credits: '166.59', after_credits: '166.59' }],
  });
  const file = must(
    await exportCommissions(world.services, business.bookkeeper, { from: '2026-10-01', to: '2026-10-31' }),
  );
  expect(file.text.split('\r\n')[1]).toMatch(
    /^Tobias Wrenfield,WO-\d+,.*,2026-10-14,invoiced,INV-\d+,2026-10-14,416\.48,40,166\.59,USD$/,
  );
});
