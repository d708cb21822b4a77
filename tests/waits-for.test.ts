import { listWorkOrderRows } from '@grainwright/db';
import {
  demandedNumbers,
  ok,
  type WaitsFor,
  type WorkOrderId,
  waitsFor,
  workOrderStates,
} from '@grainwright/domain';
import { beforeAll, expect, test } from 'vitest';
import { asAdministrator } from './support/work-in-hand.ts';
import { aBusiness, anAccount, type Business, must, openWorld, type World } from './support/world.ts';
import { writtenUp } from './support/write-ups.ts';

let world: World;
let business: Business;

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
  const account = await anAccount(business);
  await multiply(await writtenUp(account));
});

/** 2 × 2 × 2 × 2 rules of accounts, 2 × 2 × 2 numbers given, on hold or not, a rework or not, and every state. */
const combinations = 2 ** 4 * 2 ** 3 * 2 ** 2 * Object.keys(workOrderStates).length;

/** Makes out of one work order one for every combination of its account's rules, the numbers given and the state. */
async function multiply(id: WorkOrderId): Promise<void> {
  const states = Object.keys(workOrderStates);
  await asAdministrator(
    world,
    (sql) => sql`
    with account as (
      insert into accounts (tenant_id, id, short_name, name, kind, tier_code, tax_area_id, terms_days, statement_kind,
        invoice_rule, requires_ro, requires_po, own_number_kind, own_number_required, acceptance_rule, photo_rule, opened_on)
      select tenant_id, gen_random_uuid(), 'W' || row_number() over (), name, kind, tier_code, tax_area_id, terms_days,
        statement_kind, invoice_rule, ro, po, own_kind, own, acceptance_rule, photo_rule, opened_on
      from accounts, unnest(array[false, true]) as ro, unnest(array[false, true]) as po,
        unnest(array[null, 'stock']) as own_kind, unnest(array[false, true]) as own
      where tenant_id = ${business.tenantId} returning *),
    site as (
      insert into sites (tenant_id, id, account_id, name, miles)
      select tenant_id, gen_random_uuid(), id, 'Yard', 1 from account returning *),
    vehicle as (
      insert into vehicles (tenant_id, id, account_id) select tenant_id, gen_random_uuid(), id from account returning *),
    visit as (
      insert into visits (tenant_id, id, account_id, site_id, technician_id, day, position, miles, after_hours, walk_in)
      select s.tenant_id, gen_random_uuid(), s.account_id, s.id, v.technician_id, v.day, 100 + row_number() over (), 1, false, false
      from site s, visits v join work_orders w on w.tenant_id = v.tenant_id and w.visit_id = v.id where w.id = ${id}
      returning *),
    first as (
      insert into work_orders (tenant_id, id, number, account_id, visit_id, vehicle_id, state, written_up_at)
      select visit.tenant_id, gen_random_uuid(), 5000 + row_number() over (), visit.account_id, visit.id, vehicle.id, 'paid', now()
      from visit join vehicle using (tenant_id, account_id) returning tenant_id, account_id, id as first_id)
    insert into work_orders (tenant_id, id, number, account_id, visit_id, vehicle_id, state, own_number, ro_number,
      po_number, hold_reason, rework_of_id, rework_reason, written_up_at)
    select visit.tenant_id, gen_random_uuid(), 10000 + row_number() over (), visit.account_id, visit.id, vehicle.id, state,
      own, ro, po, hold, case when rework then first_id end, case when rework then 'finish' end, now()
    from visit join vehicle using (tenant_id, account_id) join first using (tenant_id, account_id),
      unnest(array[null, 'part not there']) as hold, unnest(array[false, true]) as rework,
      unnest(${states}::text[]) as state,
      unnest(array['', 'PL-251']) as own, unnest(array['', '48213']) as ro, unnest(array['', '77105']) as po`,
  );
  await asAdministrator(
    world,
    (sql) => sql`
    insert into acceptances (tenant_id, id, work_order_id, outcome, remark, signer_name, signer_role, identified_by,
      method, typed_name, shown, shown_digest, taken_by, accepted_at)
    select w.tenant_id, gen_random_uuid(), w.id, 'not_accepted', 'the edge shows', 'Odessa Finch', 'vehicle_owner', 'known',
      'typed', 'Odessa Finch', '{}', repeat('0', 64), v.technician_id, now()
    from work_orders w join visits v on v.tenant_id = w.tenant_id and v.id = w.visit_id
    where w.tenant_id = ${business.tenantId} and w.state = 'done' and w.number % 2 = 0`,
  );
}

const listed = (filter: { readonly waitsFor?: WaitsFor }) =>
  world.database
    .withTenant({ role: 'staff', tenantId: business.tenantId }, async (tx) =>
      ok(await listWorkOrderRows(tx, filter, 10_000)),
    )
    .then(must);

test('of the done ones half were not accepted', async () => {
  const done = (await listed({})).filter((row) => row.number > 10_000n && row.state === 'done');
  expect(new Set(done.map((row) => row.notAccepted))).toEqual(new Set([true, false]));
});

test('a list by what work orders wait for holds those of which the rule says so, whatever the account demands', async () => {
  const all = (await listed({})).filter((row) => row.number > 10_000n);
  expect(all).toHaveLength(combinations);
  const byRule = Map.groupBy(all, (row) =>
    waitsFor({
      state: row.state,
      holdReason: row.holdReason,
      notAccepted: row.notAccepted,
      reworkWithoutCharge: row.reworkOfId !== null,
      ...demandedNumbers(row.account, row),
    }),
  );
  const whats: readonly WaitsFor[] = [
    'technician',
    'hold',
    'approval',
    'po',
    'acceptance',
    'invoice',
    'money',
    'nobody',
  ];
  for (const what of whats) {
    const found = (await listed({ waitsFor: what })).filter((row) => row.number > 10_000n);
    const expected = byRule.get(what) ?? [];
    expect(expected.length, what).toBeGreaterThan(0);
    expect(found.map((row) => row.number).toSorted(), what).toEqual(
      expected.map((row) => row.number).toSorted(),
    );
  }
});
