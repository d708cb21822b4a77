import {
  type AccountId,
  type DecisionId,
  type DelegationId,
  formatMinor,
  type PersonId,
} from '@grainwright/domain';
import {
  type Actor,
  decideEstimate,
  endContact,
  endDelegation,
  listApprovers,
  type NameDelegateInput,
  nameDelegate,
  previewDecision,
  readOwnAccount,
  readWorkOrder,
  recordDecision,
  recordDelegation,
  resumeContact,
} from '@grainwright/operations';
import postgres from 'postgres';
import { v7 } from 'uuid';
import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest';
import { type AskedEstimate, anotherApprover, answersTo, askedEstimate } from './support/asked-estimates.ts';
import { openWeb, type Web } from './support/web.ts';
import {
  type Account,
  aBusiness,
  anAccount,
  type Business,
  must,
  openWorld,
  type World,
} from './support/world.ts';

// Whoever is away lets somebody answer, never for more than they may themselves: common practice, no published source.

let world: World;
let web: Web;
let business: Business;
let dealer: Account;
let sql: postgres.Sql;

beforeAll(async () => {
  world = await openWorld();
  world.at('2026-11-30T09:00');
  web = await openWeb(world);
  business = await aBusiness(world);
  sql = postgres(world.loginUrl, { max: 1, onnotice: () => {} });
});
afterAll(() => sql.end());

/** The approver, Ansel Corvin, may up to 350.00; Casimir Doane only looks. Each test has an account of its own. */
beforeEach(async () => {
  world.at('2026-11-30T09:00');
  dealer = await anAccount(business, { tierCode: 'dealer', limit: '350.00' });
});

/** A leather tear of 3 to 6 in at the dealer tier's 243.75, and with it a dash crack, 198.75 at 90 %: 422.63. */
const asked = () => askedEstimate(dealer, [{ part: 'seat_cushion', rateCode: 'LT-L' }]);
const askedMore = () =>
  askedEstimate(dealer, [
    { part: 'seat_cushion', rateCode: 'LT-L' },
    { part: 'dash', rateCode: 'DB-M' },
  ]);

const week = { validFrom: '2026-11-30', validTo: '2026-12-04' };
const forWeek = (to: Actor, more: Partial<NameDelegateInput> = {}): NameDelegateInput => ({
  id: world.newId<DelegationId>(),
  toPersonId: to.personId,
  ...week,
  limit: null,
  ...more,
});
const name = (to: Actor, more: Partial<NameDelegateInput> = {}) =>
  nameDelegate(world.services, dealer.approver, forWeek(to, more));

async function answer(actor: Actor, estimate: AskedEstimate) {
  const { workOrderId, versionId, digest } = estimate;
  const answers = answersTo(estimate);
  const seen = { workOrderId, versionId, digest, answers };
  const total = await totalOf(estimate);
  return decideEstimate(world.services, actor, { ...seen, decisionId: world.newId<DecisionId>(), total });
}

const codeOf = (result: { ok: boolean; problem?: { code: string } }) =>
  result.ok ? 'ok' : result.problem?.code;

test('who only looks answers for an approver who is away, and the record says for whom and until when', async () => {
  expect(codeOf(await answer(dealer.viewer, await asked()))).toBe('not_allowed');
  must(await name(dealer.viewer));
  const estimate = await asked();
  const { decision } = must(await answer(dealer.viewer, estimate));
  expect(decision.decidedBy).toBe('Casimir Doane');
  expect(decision.answeredFor).toEqual({ name: 'Ansel Corvin', through: '2026-12-04' });
  const { steps } = must(await readWorkOrder(world.services, dealer.approver, estimate.workOrderId));
  expect(steps.at(-1)?.note).toContain('In the place of Ansel Corvin, until Dec 4, 2026.');
  const browser = await web.signInByPage(dealer.emailOf('approver'), business.password);
  const page = await browser.get(`/account/work-orders/${estimate.workOrderId}`);
  expect(page.body).toContain('Casimir Doane for Ansel Corvin, until Dec 4, 2026');
});

test('never above what the one who is away may, nor above the lower limit that they named', async () => {
  must(await name(dealer.viewer));
  const over = await answer(dealer.viewer, await askedMore());
  expect(over).toMatchObject({ ok: false, problem: { code: 'over_limit' } });
  if (!over.ok) expect(over.problem.detail).toContain('answering for Ansel Corvin, is $350.00');
  must(await name(dealer.payer, { limit: '200.00' }));
  expect(codeOf(await answer(dealer.payer, await asked()))).toBe('over_limit');
});

test('whoever may more themselves answers in their own name', async () => {
  const manager = await anotherApprover(dealer, {
    name: 'Marguerite Sloane',
    email: business.emailOf(v7()),
    limit: '900.00',
  });
  must(await name(manager));
  const { decision } = must(await answer(manager, await askedMore()));
  expect([decision.decidedBy, decision.answeredFor]).toEqual(['Marguerite Sloane', null]);
});

test('an approver whose limit is too low answers above it for the other, and up to it in their own name', async () => {
  const advisor = await anotherApprover(dealer, {
    name: 'Thea Winslow',
    email: business.emailOf(v7()),
    limit: '100.00',
  });
  must(await name(advisor));
  const { decision } = must(await answer(advisor, await asked()));
  expect(decision.answeredFor?.name).toBe('Ansel Corvin');
  const small = await askedEstimate(dealer, [
    { part: 'front_door_panel', damage: 'scuff', rateCode: 'SC-S' },
  ]);
  expect(must(await answer(advisor, small)).decision.answeredFor).toBeNull();
});

test('it counts from its first to its last day, by the business’s own days', async () => {
  must(await name(dealer.viewer, { validFrom: '2026-12-01', validTo: '2026-12-01' }));
  const estimates = [await asked(), await asked(), await asked()] as const;
  expect(codeOf(await answer(dealer.viewer, estimates[0]))).toBe('not_allowed');
  world.at('2026-12-01T00:01');
  expect(codeOf(await answer(dealer.viewer, estimates[0]))).toBe('ok');
  world.at('2026-12-01T23:59');
  expect(codeOf(await answer(dealer.viewer, estimates[1]))).toBe('ok');
  world.at('2026-12-02T00:01');
  expect(codeOf(await answer(dealer.viewer, estimates[2]))).toBe('not_allowed');
});

test('nobody hands on what they answer for somebody else, and nobody names a delegate who approves nothing', async () => {
  must(await name(dealer.viewer));
  const onward = await nameDelegate(world.services, dealer.viewer, forWeek(dealer.payer));
  expect(codeOf(onward)).toBe('invalid_input');
  const advisor = await anotherApprover(dealer, {
    name: 'Thea Winslow',
    email: business.emailOf(v7()),
    limit: '100.00',
  });
  must(await name(advisor));
  must(await nameDelegate(world.services, advisor, forWeek(dealer.payer)));
  expect(codeOf(await answer(dealer.payer, await asked()))).toBe('over_limit');
});

test('it ends with the part of whoever is away in the account, and does not come back with them', async () => {
  must(await name(dealer.viewer));
  const away = { accountId: dealer.id, personId: dealer.approver.personId };
  const estimate = await asked();
  const total = await totalOf(estimate);
  must(await endContact(world.services, business.office, away));
  const { workOrderId, versionId, digest } = estimate;
  const decide = () =>
    decideEstimate(world.services, dealer.viewer, {
      decisionId: world.newId<DecisionId>(),
      workOrderId,
      versionId,
      digest,
      answers: answersTo(estimate),
      total,
    });
  expect(codeOf(await decide())).toBe('not_allowed');
  must(await resumeContact(world.services, business.office, away));
  expect(codeOf(await decide())).toBe('not_allowed');
  const { delegations } = must(await readOwnAccount(world.services, dealer.approver));
  expect(delegations.map(({ standing }) => standing)).toEqual(['taken_back']);
});

test('whoever is away takes it back at once, and so does the delegate; nobody else of the account', async () => {
  const { id } = must(await name(dealer.viewer));
  expect(codeOf(await endDelegation(world.services, dealer.payer, id))).toBe('not_allowed');
  must(await endDelegation(world.services, dealer.approver, id));
  expect(codeOf(await answer(dealer.viewer, await asked()))).toBe('not_allowed');
  must(await endDelegation(world.services, dealer.viewer, id));
  const second = must(await name(dealer.viewer));
  must(await endDelegation(world.services, dealer.viewer, second.id));
});

test('what can’t be named is refused beside its field', async () => {
  const refused = async (more: Partial<NameDelegateInput>) => {
    const named = await name(dealer.viewer, more);
    return named.ok ? null : [named.problem.code, named.problem.field];
  };
  expect(await refused({ limit: '350.01' })).toEqual(['over_limit', 'limit']);
  expect(await refused({ validFrom: '2026-11-29' })).toEqual(['dates_out_of_order', 'valid_from']);
  expect(await refused({ validTo: '2026-11-29' })).toEqual(['dates_out_of_order', 'valid_to']);
  expect(await refused({ validTo: '2027-12-31' })).toEqual(['dates_out_of_order', 'valid_to']);
  expect(await refused({ toPersonId: dealer.approver.personId })).toEqual(['invalid_input', 'to_person_id']);
  expect(await refused({ toPersonId: business.office.personId })).toEqual(['invalid_input', 'to_person_id']);
  must(await name(dealer.viewer));
  expect(await refused({ validFrom: '2026-12-04', validTo: '2026-12-09' })).toEqual([
    'duplicate',
    'valid_from',
  ]);
});

test('the same again is the same delegation; with other content its id is taken', async () => {
  const input = forWeek(dealer.viewer);
  must(await nameDelegate(world.services, dealer.approver, input));
  world.at('2026-12-02T09:00');
  must(await nameDelegate(world.services, dealer.approver, input));
  const other = { ...input, validTo: '2026-12-05' };
  expect(codeOf(await nameDelegate(world.services, dealer.approver, other))).toBe('id_reused');
});

test('the office writes one down, and with it the yes that the delegate gave by phone', async () => {
  const delegation = {
    ...forWeek(dealer.payer),
    accountId: dealer.id,
    fromPersonId: dealer.approver.personId,
  };
  const made = must(await recordDelegation(world.services, business.office, delegation));
  expect(made.recordedByName).toBe('Ottoline Fairbrook');
  const estimate = await asked();
  const { workOrderId, versionId, digest } = estimate;
  const approvers = must(await listApprovers(world.services, business.office, workOrderId));
  expect(approvers.map((each) => [each.name, each.limitMinor])).toEqual([
    ['Ansel Corvin', 35000n],
    ['Bettina Quarles for Ansel Corvin', 35000n],
  ]);
  const decided = must(
    await recordDecision(world.services, business.technician, {
      decisionId: world.newId<DecisionId>(),
      workOrderId,
      versionId,
      digest,
      answers: answersTo(estimate),
      total: await totalOf(estimate),
      decidedBy: dealer.payer.personId,
      given: 'by_phone',
    }),
  );
  expect(decided.decision.answeredFor?.name).toBe('Ansel Corvin');
});

test('the portal asks, keeps what was typed, and shows who answers', async () => {
  const browser = await web.signInByPage(dealer.emailOf('approver'), business.password);
  expect((await browser.get('/account/delegations/new')).body).toContain('You approve up to $350.00');
  const typed = {
    id: v7(),
    to_person_id: dealer.viewer.personId,
    valid_from: '2026-11-30',
    valid_to: '2026-12-04',
  };
  const refused = await browser.post('/account/delegations/new', { ...typed, limit: '900' });
  expect(refused.statusCode).toBe(403);
  expect(refused.body).toContain('Nobody answers for more in their place');
  expect(refused.body).toContain('value="900"');
  expect((await browser.post('/account/delegations/new', { ...typed, limit: '' })).statusCode).toBe(303);
  expect((await browser.get('/account/details')).body).toMatch(
    /Casimir Doane[\s\S]*Ansel Corvin[\s\S]*counts/,
  );
  const delegate = await web.signInByPage(dealer.emailOf('viewer'), business.password);
  const { workOrderId } = await asked();
  expect((await delegate.get(`/account/work-orders/${workOrderId}`)).body).toContain(
    'You answer for Ansel Corvin, through',
  );
  expect((await delegate.get('/account')).body).toContain('Look and answer');
});

/* At the door of the database: the same by SQL, in the role of the account. */

const isRefused = (query: (tx: postgres.TransactionSql) => Promise<unknown>) =>
  expect(asAccount(query)).rejects.toMatchObject({ code: '42501' });

test('the database lets an account name only for one of its approvers, for no more than they may, and end only their own', async () => {
  const insert =
    (said: {
      from?: PersonId;
      to?: PersonId;
      limit?: string | null;
      recordedBy?: string | null;
      id?: string;
    }) =>
    (tx: postgres.TransactionSql) =>
      tx`insert into approval_delegations (tenant_id, id, account_id, from_person, to_person, valid_from, valid_to, limit_minor,
          made_at, recorded_by)
        values (${business.tenantId}, ${said.id ?? v7()}, ${dealer.id}, ${said.from ?? dealer.approver.personId},
          ${said.to ?? dealer.viewer.personId}, '2026-11-30', '2026-12-04', ${said.limit ?? null},
          ${world.services.now()}, ${said.recordedBy ?? null})`;
  await isRefused(insert({ from: dealer.viewer.personId, to: dealer.payer.personId }));
  await isRefused(insert({ limit: '35001' }));
  await isRefused(insert({ recordedBy: business.office.personId }));
  const id = v7();
  await asAccount(insert({ limit: '35000', id }));
  const end = (by: PersonId) => (tx: postgres.TransactionSql) =>
    tx`insert into approval_delegation_ends (tenant_id, delegation_id, account_id, ended_by, ended_at)
      values (${business.tenantId}, ${id}, ${dealer.id}, ${by}, ${world.services.now()})`;
  await isRefused(end(dealer.payer.personId));
  await isRefused((tx) => tx`update approval_delegations set limit_minor = null where id = ${id}`);
  await isRefused((tx) => tx`delete from approval_delegations where id = ${id}`);
  await asAccount(end(dealer.viewer.personId));
});

test('the database lets a delegate answer within the limit of whoever is away, on the days of the delegation, and not otherwise', async () => {
  const { id: delegation } = must(await name(dealer.viewer, { limit: '300.00' }));
  const estimate = await asked();
  const insert = (said: Partial<WrittenDecision>) => (tx: postgres.TransactionSql) =>
    insertDecision(tx, estimate, {
      by: dealer.viewer.personId,
      delegation,
      limit: '30000',
      compared: '24375',
      ...said,
    });
  await isRefused(insert({ delegation: null }));
  await isRefused(insert({ delegation: null, limit: null }));
  await isRefused(insert({ limit: '35000' }));
  await isRefused(insert({ limit: null }));
  await isRefused(insert({ compared: '30001' }));
  await isRefused(insert({ at: '2026-12-05T12:00:00Z' }));
  await isRefused(insert({ at: '2026-11-29T12:00:00Z' }));
  // Somebody else by it: the foreign key, too, holds the delegation to whom it names.
  await expect(asAccount(insert({ by: dealer.payer.personId }))).rejects.toMatchObject({ code: '42501' });
  const undone = asAccount(async (tx) => {
    await insert({})(tx);
    throw new Error('it was let in, and is taken back');
  });
  await expect(undone).rejects.toThrow('it was let in');
  must(await endDelegation(world.services, dealer.approver, delegation));
  await isRefused(insert({}));
});

interface WrittenDecision {
  readonly by: PersonId;
  readonly delegation: string | null;
  readonly limit: string | null;
  readonly compared: string;
  readonly at: string;
}

function insertDecision(
  tx: postgres.TransactionSql,
  { versionId }: AskedEstimate,
  said: Partial<WrittenDecision>,
) {
  const { by = null, delegation = null, limit = null, compared = '0', at = world.services.now() } = said;
  return tx`insert into decisions (tenant_id, id, work_order_id, account_id, version_id, digest, decided_by, recorded_by, given,
      decided_at, limit_minor, delegation_id, compared_minor, repairs_minor, minimum_minor, after_hours_minor, trip_minor,
      tax_minor, total_minor)
    select v.tenant_id, ${v7()}, v.work_order_id, ${dealer.id}, v.id, v.digest, ${by}, null, 'here', ${at}, ${limit},
      ${delegation}, ${compared}, v.repairs_minor, v.minimum_minor, v.after_hours_minor, v.trip_minor, v.tax_minor, v.total_minor
    from estimate_versions v where v.id = ${versionId}`;
}

async function asAccount(
  query: (tx: postgres.TransactionSql) => Promise<unknown>,
  accountId: AccountId = dealer.id,
): Promise<unknown> {
  return sql.begin(async (tx) => {
    await tx`select set_config('role', 'grainwright_account', true), set_config('app.tenant_id', ${business.tenantId}, true),
      set_config('app.account_id', ${accountId}, true)`;
    return query(tx);
  });
}

async function totalOf(estimate: AskedEstimate): Promise<string> {
  const { workOrderId, versionId, digest } = estimate;
  const answers = answersTo(estimate);
  const preview = must(
    await previewDecision(world.services, dealer.approver, { workOrderId, versionId, digest, answers }),
  );
  return formatMinor(preview.totalMinor, 'USD');
}
