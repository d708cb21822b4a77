import type { WorkOrderId } from '@grainwright/domain';
import { changeWriteUp, giveNumbers, readWorkOrder } from '@grainwright/operations';
import { beforeAll, expect, test } from 'vitest';
import { openWeb, type Web } from './support/web.ts';
import { asAdministrator } from './support/work-in-hand.ts';
import {
  type Account,
  aBusiness,
  anAccount,
  type Business,
  must,
  openWorld,
  type World,
} from './support/world.ts';
import { writtenUp } from './support/write-ups.ts';

let world: World;
let business: Business;
let web: Web;
/** Wants an RO and a PO number on its invoices, and knows its vehicles by stock number. */
let dealer: Account;

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
  web = await openWeb(world);
  dealer = await anAccount(business, { requiresRo: true, requiresPo: true, ownNumberKind: 'stock' });
});

const refusal = (code: string, field?: string) => ({
  ok: false,
  problem: field === undefined ? { code } : { code, field },
});
const none = { ownNumber: '', roNumber: '', poNumber: '' };
const give = (workOrderId: WorkOrderId, numbers: Partial<typeof none>, actor = dealer.payer) =>
  giveNumbers(world.services, actor, { workOrderId, ...none, ...numbers });
const numbersOf = async (id: WorkOrderId) => {
  const { numbers, missingNumbers } = must(await readWorkOrder(world.services, business.office, id));
  return { own: numbers.own, ro: numbers.ro, po: numbers.po, missing: missingNumbers };
};
const stands = (id: WorkOrderId, state: string) =>
  asAdministrator(world, (sql) => sql`update work_orders set state = ${state} where id = ${id} returning id`);

test('an approver or a payer gives the numbers that the account owes, which stays on record; a viewer does not', async () => {
  const id = await writtenUp(dealer, { ownNumber: 'PL-251' });
  expect((await numbersOf(id)).missing).toEqual(['repair_order', 'purchase_order']);
  expect(await give(id, { poNumber: '77105' }, dealer.viewer)).toMatchObject(refusal('not_allowed'));
  expect(await give(id, { poNumber: '77105' }, business.office)).toMatchObject(refusal('not_allowed'));
  must(await give(id, { poNumber: ' 77105 ' }, dealer.payer));
  must(await give(id, { roNumber: '48213' }, dealer.approver));
  expect(await numbersOf(id)).toEqual({ own: 'PL-251', ro: '48213', po: '77105', missing: [] });
  const recorded = await asAdministrator(
    world,
    (sql) => sql`select person_id, account_id, detail from audit_records
      where subject_id = ${id} and action = 'numbers_given' order by at, id`,
  );
  expect(recorded).toEqual([
    { person_id: dealer.payer.personId, account_id: dealer.id, detail: { after: { poNumber: '77105' } } },
    { person_id: dealer.approver.personId, account_id: dealer.id, detail: { after: { roNumber: '48213' } } },
  ]);
});

test('a number that is there stays; the same one again is no change', async () => {
  const id = await writtenUp(dealer, { ownNumber: 'PL-252', poNumber: '77105' });
  expect(await give(id, { poNumber: '77106' })).toMatchObject(refusal('duplicate', 'po_number'));
  expect(await give(id, { ownNumber: 'PL-253' })).toMatchObject(refusal('duplicate', 'own_number'));
  must(await give(id, { poNumber: '77105' }));
  expect(await numbersOf(id)).toMatchObject({ own: 'PL-252', po: '77105' });
});

test('a contact of another account finds no such work order to number', async () => {
  const id = await writtenUp(dealer, { ownNumber: 'PL-254' });
  const stranger = await anAccount(business);
  expect(await give(id, { poNumber: '1' }, stranger.payer)).toMatchObject(refusal('not_found'));
});

test('an account without a number of its own gives none', async () => {
  const plain = await anAccount(business, { requiresPo: true });
  const id = await writtenUp(plain);
  expect(await give(id, { ownNumber: 'X1' }, plain.payer)).toMatchObject(
    refusal('invalid_input', 'own_number'),
  );
});

test('numbers come until the work order is on an invoice, or has ended without one', async () => {
  const id = await writtenUp(dealer, { ownNumber: 'PL-255' });
  for (const state of ['invoiced', 'paid', 'declined', 'void', 'written_off']) {
    await stands(id, state);
    expect(await give(id, { poNumber: '77105' })).toMatchObject(refusal('wrong_state'));
  }
  await stands(id, 'accepted');
  must(await give(id, { poNumber: '77105' }));
});

test('after acceptance the staff add numbers that are missing too, and neither change nor erase one', async () => {
  const id = await writtenUp(dealer, { ownNumber: 'PL-256', roNumber: '48213' });
  await stands(id, 'accepted');
  const change = (numbers: Partial<typeof none>) =>
    changeWriteUp(world.services, business.office, { workOrderId: id, ...numbers });
  for (const numbers of [{ ownNumber: 'PL-257' }, { ownNumber: '' }, { roNumber: '1' }, { roNumber: '' }])
    expect(await change(numbers)).toMatchObject(refusal('wrong_state'));
  must(await change({ poNumber: '77105' }));
  expect(await change({ poNumber: '77106' })).toMatchObject(refusal('wrong_state'));
  expect(await numbersOf(id)).toMatchObject({ own: 'PL-256', ro: '48213', po: '77105' });
});

test('the account’s page asks for exactly the numbers that are missing, and keeps what was typed when it refuses', async () => {
  const id = await writtenUp(dealer, { ownNumber: 'PL-258', roNumber: '48213' });
  const payer = await web.signInByPage(dealer.emailOf('payer'), business.password);
  const path = `/account/work-orders/${id}`;
  const page = await payer.get(path);
  expect(page.body).toContain('Numbers we need from you');
  expect(page.body).toContain('name="po_number"');
  expect(page.body).not.toContain('name="ro_number"');
  expect(page.body).not.toContain('name="own_number"');
  const tooLong = '7'.repeat(41);
  const refused = await payer.post(`${path}/numbers`, { po_number: tooLong });
  expect(refused.statusCode).toBe(422);
  expect(refused.body).toContain(`value="${tooLong}"`);
  const given = await payer.post(`${path}/numbers`, { po_number: '77105' });
  expect([given.statusCode, given.headers.location]).toEqual([303, path]);
  expect((await payer.get(path)).body).not.toContain('Numbers we need from you');
  const late = await payer.post(`${path}/numbers`, { po_number: '77106' });
  expect(late.statusCode).toBe(409);
  expect(late.body).toContain('This number is there already: 77105');
});

test('a viewer is not asked for numbers', async () => {
  const id = await writtenUp(dealer, { ownNumber: 'PL-259' });
  const viewer = await web.signInByPage(dealer.emailOf('viewer'), business.password);
  expect((await viewer.get(`/account/work-orders/${id}`)).body).not.toContain('Numbers we need from you');
});

test('the API takes numbers and says which are still missing', async () => {
  const id = await writtenUp(dealer, { ownNumber: 'PL-260' });
  const headers = await web.signIn(dealer.emailOf('payer'), business.password);
  const url = `/api/v1/work-orders/${id}/numbers`;
  const reply = await web.app.inject({ method: 'POST', url, headers, payload: { po_number: '77105' } });
  expect([reply.statusCode, reply.json()]).toMatchObject([
    200,
    { po_number: '77105', missing_numbers: ['repair_order'] },
  ]);
});

test('the office’s form leaves numbers alone that were accepted', async () => {
  const id = await writtenUp(dealer, { ownNumber: 'PL-261', roNumber: '48213' });
  await stands(id, 'accepted');
  const office = await web.signInByPage(business.emailOf('office'), business.password);
  const page = await office.get(`/office/work-orders/${id}`);
  expect(page.body).toContain('name="po_number"');
  expect(page.body).not.toContain('name="ro_number"');
  const kept = await office.post(`/office/work-orders/${id}/numbers`, { po_number: '77105' });
  expect(kept.statusCode).toBe(303);
  expect(await numbersOf(id)).toMatchObject({ own: 'PL-261', ro: '48213', po: '77105' });
});
