import { type AccountId, type DecisionId, formatMinor, type VersionId } from '@grainwright/domain';
import { decideEstimate, readWorkOrder, reviseEstimate } from '@grainwright/operations';
import postgres from 'postgres';
import { v7 } from 'uuid';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { type AskedEstimate, answersTo, askedEstimate } from './support/asked-estimates.ts';
import { asAdministrator } from './support/work-in-hand.ts';
import { type Account, aBusiness, anAccount, must, openWorld, type World } from './support/world.ts';

/**
 * What the database itself lets a contact's transaction write, tried by SQL in that role behind the operations' back:
 * docs/security.md says it is no more than an answer and the numbers that are missing.
 */

let world: World;
let dealer: Account;
let sql: postgres.Sql;

beforeAll(async () => {
  world = await openWorld();
  dealer = await anAccount(await aBusiness(world), { limit: '350.00', requiresPo: true });
  sql = postgres(world.loginUrl, { max: 1, onnotice: () => {} });
});
afterAll(() => sql.end());

const asked = () =>
  askedEstimate(dealer, [
    { rateCode: 'WR-1', damage: 'wrinkle' },
    { rateCode: 'SC-S', damage: 'scuff' },
  ]);

type Query = (sql: postgres.TransactionSql) => Promise<unknown>;

/** Runs it in the role and settings that `withTenant` gives a contact of the account. */
async function asAccount(query: Query, accountId: AccountId = dealer.id): Promise<unknown> {
  const { tenantId } = dealer.business;
  return sql.begin(async (tx) => {
    await tx`select set_config('role', 'grainwright_account', true), set_config('app.tenant_id', ${tenantId}, true),
      set_config('app.account_id', ${accountId}, true)`;
    return query(tx);
  });
}

/** 42501 is insufficient_privilege: a right that is not granted, a row policy, or the trigger. */
const refusedBy = { code: '42501' };
const isRefused = (query: Query) => expect(asAccount(query)).rejects.toMatchObject(refusedBy);

const stateOf = async ({ workOrderId }: AskedEstimate) =>
  must(await readWorkOrder(world.services, dealer.viewer, workOrderId)).state;

interface WrittenDecision {
  readonly id?: string;
  readonly decidedBy?: string;
  readonly recordedBy?: string | null;
  /** Repairs without a minimum, in minor units; left out: what the version offers. */
  readonly repairs?: string;
  readonly trip?: string;
  readonly limit?: string;
}

/** The row of an answer as the operation would write it, but for what is said. */
function insertDecision(
  tx: postgres.TransactionSql,
  { versionId }: AskedEstimate,
  said: WrittenDecision = {},
) {
  const { id = v7(), decidedBy = dealer.approver.personId, recordedBy = null } = said;
  const { repairs = null, trip = null, limit = '35000' } = said;
  return tx`insert into decisions (tenant_id, id, work_order_id, account_id, version_id, digest, decided_by, recorded_by, given,
      decided_at, limit_minor, compared_minor, repairs_minor, minimum_minor, after_hours_minor, trip_minor, tax_minor, total_minor)
    select tenant_id, ${id}, work_order_id, ${dealer.id}, id, digest, ${decidedBy}, ${recordedBy}::uuid,
      ${recordedBy === null ? 'here' : 'by_phone'}, now(), ${limit}::bigint, repairs + after_hours_minor, repairs,
      case when ${repairs}::bigint is null then minimum_minor else 0 end, after_hours_minor, trip, tax_minor,
      repairs + after_hours_minor + trip + tax_minor
    from estimate_versions, lateral (select coalesce(${repairs}::bigint, repairs_minor) as repairs,
      coalesce(${trip}::bigint, trip_minor) as trip) said
    where id = ${versionId}`;
}

/** At the price it was offered at, or at `net`; a line of no version costs nothing. */
function insertAnswer(
  tx: postgres.TransactionSql,
  decisionId: string,
  lineId: string,
  answer: string,
  net: string | null = null,
) {
  return tx`insert into decision_lines (tenant_id, decision_id, line_id, answer, further_percent, net_minor, labor_minor,
      materials_minor, trail)
    select ${dealer.business.tenantId}, ${decisionId}, ${lineId}, ${answer}, 100, price.net, price.net, 0, ''
    from (select coalesce(${net}::bigint, (select e.net_minor from estimate_lines e
      join decisions d on d.version_id = e.version_id
      where d.id = ${decisionId} and e.line_id = ${lineId}), 0) as net) price`;
}

function insertStep(tx: postgres.TransactionSql, workOrderId: string, event: string, personId: string) {
  return tx`insert into work_order_steps (tenant_id, id, work_order_id, event, to_state, person_id, happened_at)
    values (${dealer.business.tenantId}, ${v7()}, ${workOrderId}, ${event}, ${event}, ${personId}, now())`;
}

const setState = (
  tx: postgres.TransactionSql,
  asked: AskedEstimate,
  state: string,
  decisionId: string | null,
) => tx`update work_orders set state = ${state}, decision_id = ${decisionId} where id = ${asked.workOrderId}`;

test('an account can’t take its work order to any state but by an answer', async () => {
  const waiting = await asked();
  for (const state of ['paid', 'invoiced', 'accepted', 'void', 'written_up', 'approved', 'declined'])
    await isRefused((tx) => setState(tx, waiting, state, null));
  expect(await stateOf(waiting)).toBe('awaiting_approval');
});

test('an answer takes the work order along only with a line for each line of the version, and as those lines say', async () => {
  const waiting = await asked();
  const [first = '', second = ''] = waiting.lineIds;
  const answered =
    (state: string, lines: Readonly<Record<string, string>>): Query =>
    async (tx) => {
      const id = v7();
      await insertDecision(tx, waiting, {
        id,
        ...(Object.values(lines).includes('declined') ? { repairs: '8075' } : {}),
      });
      for (const [lineId, answer] of Object.entries(lines)) await insertAnswer(tx, id, lineId, answer);
      await setState(tx, waiting, state, id);
    };
  await isRefused(answered('approved', {}));
  await isRefused(answered('approved', { [first]: 'approved' }));
  await isRefused(answered('approved', { [first]: 'declined', [second]: 'declined' }));
  await isRefused(answered('declined', { [first]: 'approved', [second]: 'declined' }));
  await isRefused(answered('in_work', { [first]: 'approved', [second]: 'approved' }));
  await isRefused(answered('approved', { [first]: 'approved', [second]: 'approved', [v7()]: 'approved' }));
  await asAccount(answered('approved', { [first]: 'approved', [second]: 'declined' }));
  expect(await stateOf(waiting)).toBe('approved');
});

test('an answer to another work order, or to a version that was replaced, takes nothing along', async () => {
  const [waiting, other] = [await asked(), await asked()];
  const { workOrderId } = waiting;
  const revision = { workOrderId, versionId: world.newId<VersionId>(), added: [], changed: [], removed: [] };
  must(await reviseEstimate(world.services, dealer.business.technician, revision));
  const answering =
    (seen: AskedEstimate): Query =>
    async (tx) => {
      const id = v7();
      await insertDecision(tx, seen, { id });
      for (const lineId of seen.lineIds) await insertAnswer(tx, id, lineId, 'approved');
      await setState(tx, waiting, 'approved', id);
    };
  await isRefused(answering(waiting));
  await isRefused(answering(other));
  expect(await stateOf(waiting)).toBe('awaiting_approval');
});

test('an answer is an approver’s own, within the limit that they have', async () => {
  const waiting = await asked();
  const { technician } = dealer.business;
  await isRefused((tx) => insertDecision(tx, waiting, { decidedBy: dealer.viewer.personId }));
  await isRefused((tx) => insertDecision(tx, waiting, { recordedBy: technician.personId }));
  await isRefused((tx) => insertDecision(tx, waiting, { repairs: '35001' }));
  await isRefused((tx) => insertDecision(tx, waiting, { repairs: '35001', limit: '40000' }));
});

test('an answer comes to what the version says: no line below its offer or above its own price, and the sums are theirs', async () => {
  const waiting = await asked();
  const [first = '', second = ''] = waiting.lineIds;
  const answered =
    (said: WrittenDecision, lines: readonly (readonly [string, string, string | null])[]): Query =>
    async (tx) => {
      const id = v7();
      await insertDecision(tx, waiting, { id, ...said });
      for (const [lineId, answer, net] of lines) await insertAnswer(tx, id, lineId, answer, net);
      await setState(tx, waiting, 'approved', id);
    };
  // 95.00 less 15 % is 80.75 each by itself; with both the second is 72.68 (72.675) at 90 %.
  const yes = (net: string | null) => [first, 'approved', net] as const;
  const no = [second, 'declined', null] as const;
  await isRefused(answered({ repairs: '8074' }, [yes('8074'), no]));
  await isRefused(answered({ repairs: '8076' }, [yes('8076'), no]));
  await isRefused(answered({ repairs: '8075' }, [yes('8075'), [second, 'declined', '1']]));
  await isRefused(answered({ repairs: '100' }, [yes('8075'), no]));
  await isRefused(answered({ trip: '0' }, [yes(null), [second, 'approved', null]]));
  await asAccount(answered({ repairs: '8075' }, [yes('8075'), no]));
});

test('an answer that was given gets no further lines', async () => {
  const waiting = await asked();
  const answers = answersTo(waiting);
  const { estimate } = must(await readWorkOrder(world.services, dealer.approver, waiting.workOrderId));
  const total = formatMinor(estimate?.price.invoice.totals.withTaxMinor ?? 0n, 'USD');
  const { workOrderId, versionId, digest } = waiting;
  const decisionId = world.newId<DecisionId>();
  const decision = { decisionId, workOrderId, versionId, digest, answers, total };
  must(await decideEstimate(world.services, dealer.approver, decision));
  for (const lineId of [...waiting.lineIds, v7()])
    await isRefused((tx) => insertAnswer(tx, decisionId, lineId, 'declined'));
});

test('an account writes no step but that of its answer, and none in the name of the staff', async () => {
  const waiting = await asked();
  const { owner } = dealer.business;
  for (const event of ['seam_released', 'finished', 'accepted', 'settled', 'approved', 'declined'])
    await isRefused((tx) => insertStep(tx, waiting.workOrderId, event, dealer.approver.personId));
  const answered =
    (personId: string): Query =>
    async (tx) => {
      const id = v7();
      await insertDecision(tx, waiting, { id });
      for (const lineId of waiting.lineIds) await insertAnswer(tx, id, lineId, 'approved');
      await setState(tx, waiting, 'approved', id);
      await insertStep(tx, waiting.workOrderId, 'approved', personId);
    };
  await isRefused(answered(owner.personId));
  await asAccount(answered(dealer.approver.personId));
});

test('an account releases no seam and reads no release', async () => {
  const waiting = await asked();
  const { tenantId, owner } = dealer.business;
  await isRefused((tx) => tx`select from seam_releases`);
  await isRefused(
    (
      tx,
    ) => tx`insert into seam_releases (tenant_id, id, work_order_id, line_id, part, reason, released_by, released_at)
      values (${tenantId}, ${v7()}, ${waiting.workOrderId}, ${v7()}, 'seat_back', 'why not', ${owner.personId}, now())`,
  );
});

test('an account writes audit records only of its own people', async () => {
  const { tenantId, owner } = dealer.business;
  const other = await anAccount(dealer.business);
  const recorded =
    (personId: string, accountId: string | null): Query =>
    (tx) =>
      tx`insert into audit_records (tenant_id, id, at, person_id, account_id, action, subject_kind, subject_id, detail)
      values (${tenantId}, ${v7()}, now(), ${personId}, ${accountId}, 'looked', 'work_order', ${v7()}, '{}')`;
  await isRefused(recorded(owner.personId, dealer.id));
  await isRefused(recorded(dealer.payer.personId, null));
  await isRefused(recorded(dealer.payer.personId, other.id));
  await isRefused(recorded(other.payer.personId, dealer.id));
  await asAccount(recorded(dealer.payer.personId, dealer.id));
});

test('an account gives numbers that are missing; it changes none, takes none away, and touches nothing else', async () => {
  const waiting = await asked();
  const { workOrderId } = waiting;
  const give =
    (po: string): Query =>
    (tx) =>
      tx`update work_orders set po_number = ${po} where id = ${workOrderId}`;
  await asAccount(give('77105'));
  await isRefused(give('77106'));
  await isRefused(give(''));
  for (const change of ['owner_name', 'hold_reason', 'void_note'])
    await isRefused((tx) => tx`update work_orders set ${tx(change)} = 'else' where id = ${workOrderId}`);
  const [row] = await seenByAdministrator(workOrderId);
  expect(row).toEqual({ po_number: '77105', owner_name: '', state: 'awaiting_approval' });
});

test('once it is invoiced an account gives no number any more', async () => {
  const { workOrderId } = await asked();
  await asAdministrator(
    world,
    (admin) => admin`update work_orders set state = 'invoiced' where id = ${workOrderId}`,
  );
  await isRefused((tx) => tx`update work_orders set po_number = '77105' where id = ${workOrderId}`);
});

const seenByAdministrator = (workOrderId: string) =>
  asAdministrator(
    world,
    (admin) => admin`select po_number, owner_name, state from work_orders where id = ${workOrderId}`,
  );
