import type { CreditNoteId, LineId } from '@grainwright/domain';
import {
  checkLedger,
  type InvoiceView,
  issueCreditNote,
  previewInvoice,
  readWorkOrder,
} from '@grainwright/operations';
import postgres, { type Sql } from 'postgres';
import { v7 } from 'uuid';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { type AskedEstimate, askedEstimate } from './support/asked-estimates.ts';
import { lineOf } from './support/credit-desk.ts';
import { approvedBy, billedAtOnce, limitedDealer, taken, threeLines } from './support/limited-dealer.ts';
import {
  type Account,
  aBusiness,
  anAccount,
  type Business,
  must,
  openWorld,
  type World,
} from './support/world.ts';

// The rules are common practice of the trade, no source; the figures are worked out by hand from the invented price
// book, the arithmetic beside each. Sales tax in area A is on materials only: 5 % state, 1.25 % local.

let world: World;
let business: Business;
let dealer: Account;
let admin: Sql;

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
  dealer = await limitedDealer(business);
  admin = postgres(world.adminUrl, { max: 1, onnotice: () => undefined });
});
afterAll(() => admin.end({ timeout: 5 }));

const approved = (asked: AskedEstimate, declined: Readonly<Record<number, string>> = {}) =>
  approvedBy(dealer, asked, declined);

const chargesOf = (invoice: InvoiceView) =>
  invoice.charges.map(({ kind, netMinor, trail }) => [kind, netMinor, trail]);

const dropping = (invoice: InvoiceView, lineId: LineId) =>
  issueCreditNote(world.services, business.bookkeeper, {
    creditNoteId: world.newId<CreditNoteId>(),
    invoiceId: invoice.id,
    reason: 'It was there before.',
    lines: [{ kind: 'dropped', lineId }],
    charges: [],
    certificateIds: [],
    issuedOn: null,
    apply: true,
  });

async function faults(): Promise<readonly string[]> {
  return must(await checkLedger(world.services, business.tenantId)).faults;
}

test('a rush visit in a zone goes from the estimate by the account’s own answer to invoice, credit note and ledger', async () => {
  world.at('2026-08-10T09:00');
  const asked = await askedEstimate(dealer, threeLines, { rush: true });
  const { estimate, visit } = must(await readWorkOrder(world.services, dealer.viewer, asked.workOrderId));
  expect(visit).toMatchObject({ rush: true, afterHours: false });
  // × 300 ÷ 397: 147.36, 95.21, 57.43. Rush 300.00 × 30 %; 320.00 − 300.00; 24 miles are in the Foothills.
  expect(estimate?.price.vehicle.lines.map((line) => line.netMinor)).toEqual([14736n, 9521n, 5743n]);
  expect(estimate?.price.visit.rush?.trail).toBe('rush 30 % of 300.00 → 90.00');
  expect(estimate?.price.visit.minimum?.trail).toBe('visit minimum 320.00, repairs 300.00 → 20.00');
  expect(estimate?.price.visit.trip?.trail).toBe('trip zone “Foothills” up to 35 mi 70.00 → 70.00');
  // A limit counts repairs and rush: 390.00.
  const preview = await approved(asked);
  expect(preview).toMatchObject({ comparedMinor: 39000n, rushMinor: 9000n, visitMinimumMinor: 2000n });

  const invoice = await billedAtOnce(business, asked.workOrderId);
  expect(chargesOf(invoice)).toEqual([
    ['rush', 9000n, 'rush 30 % of 300.00 → 90.00'],
    ['visit_minimum', 2000n, 'visit minimum 320.00, repairs 300.00 → 20.00'],
    ['trip', 7000n, 'trip zone “Foothills” up to 35 mi 70.00 → 70.00'],
  ]);
  // Materials 17.68 + 11.43 + 8.61 = 37.72: 5 % = 1.886, 1.25 % = 0.4715.
  expect(invoice).toMatchObject({ netMinor: 48000n, taxMinor: 236n, totalMinor: 48236n });
  expect(invoice.totalMinor).toBe(preview.totalMinor);

  const note = must(await dropping(invoice, lineOf(invoice, 'SC-S')));
  // 57.43, and rush of 242.57 × 30 % = 72.77 in place of 90.00. Tax of 29.11: 1.46 + 0.36, so 0.54 off.
  expect(note.lines.map(({ kind, netMinor }) => [kind, netMinor])).toEqual([
    ['repair', 5743n],
    ['rush', 1723n],
  ]);
  expect(note).toMatchObject({ netMinor: 7466n, taxMinor: 54n, totalMinor: 7520n });
  expect(await faults()).toEqual([]);
});

test('an account’s answer with lines declined is priced again under the cap, and the database takes it', async () => {
  world.at('2026-08-11T09:00');
  const asked = await askedEstimate(dealer, threeLines, { rush: true });
  // 195.00 + 126.00 = 321.00; × 300 ÷ 321: 182.24 and 117.76.
  const preview = await approved(asked, { 2: 'not this time' });
  expect(preview.lines.map((line) => line.netMinor)).toEqual([18224n, 11776n, null]);
  const { state, decision } = must(await readWorkOrder(world.services, dealer.viewer, asked.workOrderId));
  expect(state).toBe('approved');
  expect(decision).toMatchObject({ repairsMinor: 30000n, rushMinor: 9000n, visitMinimumMinor: 2000n });
});

test('rush makes another visit of the day, and its charges stay with it', async () => {
  world.at('2026-08-12T09:00');
  const one = await askedEstimate(dealer, [{ rateCode: 'VC-M' }], { rush: true });
  const other = await askedEstimate(dealer, [{ rateCode: 'VC-M' }]);
  const visitOf = async ({ workOrderId }: AskedEstimate) =>
    must(await readWorkOrder(world.services, business.office, workOrderId)).visit.id;
  expect(await visitOf(one)).not.toBe(await visitOf(other));
  const again = await askedEstimate(dealer, [{ rateCode: 'VC-S' }], { rush: true });
  expect(await visitOf(again)).toBe(await visitOf(one));
});

test('of the vehicles of a visit each shows what lifts it alone, and their invoices charge what is missing once', async () => {
  world.at('2026-08-13T09:00');
  const asked = [
    await askedEstimate(dealer, [{ rateCode: 'VC-S' }], { rush: true }),
    await askedEstimate(dealer, [{ rateCode: 'SC-S', damage: 'scuff' }], { rush: true }),
    await askedEstimate(dealer, [{ rateCode: 'SC-S', damage: 'scuff' }], { rush: true }),
  ];
  const previews = [];
  for (const each of asked) previews.push(await approved(each));
  // 320.00 less 140.00, 95.00 and 95.00 each alone.
  expect(previews.map((each) => each.visitMinimumMinor)).toEqual([18000n, 22500n, 22500n]);
  const [first, second, third] = asked.map((each) => each.workOrderId);
  if (!first || !second || !third) throw new Error('not all are asked');
  await taken(business, 'accepted', first);
  const before = must(await previewInvoice(world.services, business.bookkeeper, { workOrderIds: [first] }));
  // The first alone is 180.00 short; with what is approved beside it the visit comes to 330.00, and nothing is missing.
  expect(before).toMatchObject({ repairsMinor: 14000n, rushMinor: 4200n, visitMinimumMinor: 0n });
  await taken(business, 'void', third);
  // 320.00 − (140.00 + 95.00); rush 140.00 × 30 % = 42.00.
  const invoice = await billedAtOnce(business, first);
  expect(chargesOf(invoice).slice(0, 2)).toEqual([
    ['rush', 4200n, 'rush 30 % of 140.00 → 42.00'],
    ['visit_minimum', 8500n, 'visit minimum 320.00, repairs 235.00 → 85.00'],
  ]);
  // 235.00 × 30 % = 70.50, less the 42.00 billed before; minimum and trip were charged.
  expect(chargesOf(await billedAtOnce(business, second))).toEqual([
    ['rush', 2850n, 'rush 30 % of 235.00 → 70.50, less 42.00 billed before → 28.50'],
  ]);
  expect(await faults()).toEqual([]);
});

test('what was stored before there was rush, a zone, a cap or a minimum by visit reads as none of them', async () => {
  world.at('2026-08-18T09:00');
  const asked = await askedEstimate(dealer, threeLines, { rush: true });
  await admin.begin(async (tx) => {
    await tx`set local session_replication_role = replica`;
    await tx`update estimate_versions set rush_minor = 0, visit_minimum_minor = 0,
      rules = rules #- '{vehicle,vehicleCapMinor}' #- '{visit,rush}' #- '{tier,visitMinimumMinor}'
        #- '{terms,rushPercent}' #- '{terms,rushMinimumMinor}' #- '{terms,tripZones}'
      where id = ${asked.versionId}`;
  });
  const { estimate } = must(await readWorkOrder(world.services, dealer.viewer, asked.workOrderId));
  expect(estimate?.price.vehicle.lines.map((line) => line.netMinor)).toEqual([19500n, 12600n, 7600n]);
  // 45.00 and 4 miles over 20 at 1.50.
  expect(estimate?.price.visit).toMatchObject({ rush: null, minimum: null, trip: { amountMinor: 5100n } });
});

test('an invoice of before is credited as it was, without a word of rush in its basis', async () => {
  world.at('2026-08-19T09:00');
  const plain = await anAccount(business, { tierCode: 'dealer', limit: null });
  const asked = await askedEstimate(plain, [{ rateCode: 'VC-M' }, { rateCode: 'SC-S', damage: 'scuff' }]);
  await approvedBy(plain, asked);
  const invoice = await billedAtOnce(business, asked.workOrderId);
  await admin.begin(async (tx) => {
    await tx`set local session_replication_role = replica`;
    await tx`update invoices set basis = basis #- '{visits,0,rush}' #- '{visits,0,minimum}' where id = ${invoice.id}`;
  });
  const note = must(await dropping(invoice, lineOf(invoice, 'SC-S')));
  // 95.00 less 25 % = 71.25, × 90 % = 64.125, half-up 64.13; after it nothing comes back.
  expect(note.lines.map(({ kind, netMinor }) => [kind, netMinor])).toEqual([['repair', 6413n]]);
  expect(await faults()).toEqual([]);
});

test('under a cap a line that is left may come to a cent less than offered, and the database takes that answer', async () => {
  world.at('2026-08-20T09:00');
  const byHand = (byHandPrice: string) => ({
    byHandPrice,
    byHandReason: 'odd shape',
    byHandMaterialsPercent: '0',
  });
  const asked = await askedEstimate(dealer, ['489.31', '471.40', '0.17', '0.59'].map(byHand));
  const { estimate } = must(await readWorkOrder(world.services, dealer.viewer, asked.workOrderId));
  // 489.31, 424.26, 0.14 and 0.47 come to 914.18; × 300 ÷ 914.18: 160.5734, 139.2264, 0.0459, 0.1542.
  expect(estimate?.lines.map((line) => line.netMinor)).toEqual([16057n, 13923n, 5n, 15n]);
  // Without the last 913.71; 160.6560, 139.2980, 0.0460: the cent that is left goes to another one now.
  const preview = await approved(asked, { 3: 'not this time' });
  expect(preview.lines.map((line) => line.netMinor)).toEqual([16066n, 13930n, 4n, null]);
});

/** The row of an answer to everything, as the operation would write it but for the rush that it says. */
async function answeredBySql(asked: AskedEstimate, rush: string): Promise<void> {
  const sql = postgres(world.loginUrl, { max: 1, onnotice: () => undefined });
  const decision = v7();
  try {
    await sql.begin(async (tx) => {
      await tx`select set_config('role', 'grainwright_account', true),
        set_config('app.tenant_id', ${business.tenantId}, true), set_config('app.account_id', ${dealer.id}, true)`;
      await tx`insert into decisions (tenant_id, id, work_order_id, account_id, version_id, digest, decided_by, given,
          decided_at, limit_minor, compared_minor, repairs_minor, minimum_minor, after_hours_minor, rush_minor,
          visit_minimum_minor, trip_minor, tax_minor, total_minor)
        select tenant_id, ${decision}, work_order_id, ${dealer.id}, id, digest, ${dealer.approver.personId}, 'here', now(),
          null, repairs_minor + ${rush}::bigint, repairs_minor, minimum_minor, after_hours_minor, ${rush}::bigint,
          visit_minimum_minor, trip_minor, tax_minor, total_minor - rush_minor + ${rush}::bigint
        from estimate_versions where id = ${asked.versionId}`;
      await tx`insert into decision_lines (tenant_id, decision_id, line_id, answer, further_percent, net_minor, labor_minor,
          materials_minor, trail)
        select tenant_id, ${decision}, line_id, 'approved', further_percent, net_minor, labor_minor, materials_minor, trail
        from estimate_lines where version_id = ${asked.versionId}`;
      await tx`update work_orders set state = 'approved', decision_id = ${decision} where id = ${asked.workOrderId}`;
    });
  } finally {
    await sql.end();
  }
}

test('an account’s answer that leaves rush out, or some of it, is refused by the database itself', async () => {
  world.at('2026-08-21T09:00');
  const asked = await askedEstimate(dealer, threeLines, { rush: true });
  // 42501 is insufficient_privilege: the trigger. Rush is 90.00.
  for (const rush of ['0', '8999'])
    await expect(answeredBySql(asked, rush)).rejects.toMatchObject({ code: '42501' });
  await answeredBySql(asked, '9000');
  expect(must(await readWorkOrder(world.services, dealer.viewer, asked.workOrderId)).state).toBe('approved');
});
