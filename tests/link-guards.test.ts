import { type AccessLinkId, type ApprovalAskId, formatMinor } from '@grainwright/domain';
import {
  type Actor,
  askAgain,
  decideEstimate,
  listLinks,
  openLink,
  readWorkOrder,
  revokeLink,
  writeMessage,
} from '@grainwright/operations';
import postgres from 'postgres';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { type AskedEstimate, answersTo, askedEstimate } from './support/asked-estimates.ts';
import { lotDesk, scuff } from './support/lot-desk.ts';
import { linkMailedTo } from './support/mailed-links.ts';
import { runJobs } from './support/run-jobs.ts';
import { whileHeld } from './support/while-held.ts';
import { type Account, must } from './support/world.ts';

/**
 * What holds where a link is taken back, or its contact leaves, just while something is done by it or with it; and what
 * the database itself lets nobody do with links, tried by SQL behind the operations' back.
 */

const { desk } = lotDesk();
let sql: postgres.Sql;
beforeAll(() => {
  sql = postgres(desk().world.adminUrl, { max: 1, onnotice: () => undefined });
});
afterAll(() => sql.end());

/** 42501 is insufficient_privilege: a right that is not granted, or a row policy. */
const denied = { code: '42501' };
const refusal = (code: string) => ({ ok: false, problem: { code } });

interface Held {
  readonly lot: Account;
  readonly asked: AskedEstimate;
  readonly linkId: AccessLinkId;
  /** The contact, with a page of the link open. */
  readonly actor: Actor;
}

/** A lot whose approver was asked by mail and has opened the link. */
async function held(): Promise<Held> {
  const { world, business, aLot } = desk();
  const lot = await aLot();
  const asked = await askedEstimate(lot, scuff);
  await runJobs(world);
  const token = (await linkMailedTo(business, lot.emailOf('approver'))).replace('/link/', '');
  const opened = must(await openLink(world.services, { token, fromAddress: '192.0.2.7' }));
  if (opened.purpose !== 'approval') throw new Error('it is no link to answer by');
  return { lot, asked, linkId: opened.id, actor: opened.actor };
}

async function answer({ asked, actor }: Held) {
  const { services, newId } = desk().world;
  const { workOrderId, versionId, digest } = asked;
  const { estimate } = must(await readWorkOrder(services, desk().business.technician, workOrderId));
  const total = formatMinor(estimate?.price.invoice.totals.withTaxMinor ?? 0n);
  const decision = { workOrderId, versionId, digest, answers: answersTo(asked), total };
  return decideEstimate(services, actor, { ...decision, decisionId: newId() });
}

function say({ asked: { workOrderId }, actor }: Held) {
  const { services, newId } = desk().world;
  return writeMessage(services, actor, { id: newId(), workOrderId, text: 'when?' });
}

async function takenBack({ asked: { workOrderId }, linkId }: Held): Promise<void> {
  const { world, business } = desk();
  must(await revokeLink(world.services, business.office, { workOrderId, linkId }));
}

/** Runs it in the role and settings that `withTenant` gives it. */
function as(
  role: 'account' | 'staff' | 'worker',
  { lot }: Held,
  query: (tx: postgres.TransactionSql) => Promise<unknown>,
): Promise<unknown> {
  return sql.begin(async (tx) => {
    await tx`select set_config('role', ${`grainwright_${role}`}, true),
      set_config('app.tenant_id', ${desk().business.tenantId}, true),
      set_config('app.account_id', ${role === 'account' ? lot.id : ''}, true)`;
    return query(tx);
  });
}

const insertMessage = ({ lot, asked, linkId }: Held) => {
  const { business, world } = desk();
  return (tx: postgres.TransactionSql) =>
    tx`insert into messages (tenant_id, id, account_id, work_order_id, side, author_id, text, written_at, link_id)
      values (${business.tenantId}, ${world.newId()}, ${lot.id}, ${asked.workOrderId}, 'account',
        ${lot.approver.personId}, 'x', ${world.services.now()}, ${linkId})`;
};

const insertDecision = ({ lot, asked, linkId }: Held, given: 'here' | 'by_link') => {
  const { world } = desk();
  return (tx: postgres.TransactionSql) =>
    tx`insert into decisions (tenant_id, id, work_order_id, account_id, version_id, digest, decided_by, given, link_id,
        decided_at, limit_minor, compared_minor, repairs_minor, minimum_minor, after_hours_minor, trip_minor, tax_minor,
        total_minor)
      select tenant_id, ${world.newId()}, work_order_id, ${lot.id}, id, digest, ${lot.approver.personId}, ${given},
        ${given === 'by_link' ? linkId : null}, ${world.services.now()}, 25000, repairs_minor, repairs_minor,
        minimum_minor, 0, trip_minor, tax_minor, repairs_minor + trip_minor + tax_minor
      from estimate_versions where id = ${asked.versionId}`;
};

test('a link that is taken back while its page is open answers nothing and says nothing', async () => {
  const link = await held();
  must(await say(link));
  await takenBack(link);
  expect(await answer(link)).toMatchObject(refusal('link_revoked'));
  expect(await say(link)).toMatchObject(refusal('link_revoked'));
  expect(await desk().stateOf(link.lot, link.asked.workOrderId)).toBe('awaiting_approval');
});

test('a link whose last day ends while its page is open answers nothing', async () => {
  const link = await held();
  desk().world.at('2026-11-06T00:10');
  expect(await answer(link)).toMatchObject(refusal('link_expired'));
});

test('the database takes no answer and no message by a link that was taken back or has expired', async () => {
  const link = await held();
  const undone = (query: (tx: postgres.TransactionSql) => Promise<unknown>) =>
    as('account', link, async (tx) => {
      await query(tx);
      throw new Error('it was let in, and is taken back');
    });
  for (const insert of [insertMessage(link), insertDecision(link, 'by_link')])
    await expect(undone(insert)).rejects.toThrow('it was let in');
  desk().world.at('2026-11-06T00:10');
  for (const insert of [insertMessage(link), insertDecision(link, 'by_link')])
    await expect(as('account', link, insert)).rejects.toMatchObject(denied);
  desk().world.at('2026-10-06T09:00');
  await takenBack(link);
  for (const insert of [insertMessage(link), insertDecision(link, 'by_link')])
    await expect(as('account', link, insert)).rejects.toMatchObject(denied);
});

test('the staff’s database role writes no answer that a contact gives themselves', async () => {
  const link = await held();
  for (const given of ['here', 'by_link'] as const)
    await expect(as('staff', link, insertDecision(link, given))).rejects.toMatchObject(denied);
  await expect(as('staff', link, insertMessage(link))).rejects.toMatchObject(denied);
});

test('an account reads its contacts’ links without their secrets, and makes or changes none', async () => {
  const link = await held();
  const other = await held();
  const rows = await as('account', link, (tx) => tx`select id from access_links`);
  expect(rows).toEqual([{ id: link.linkId }]);
  expect(await as('account', other, (tx) => tx`select id from access_links`)).toEqual([{ id: other.linkId }]);
  for (const query of [
    (tx: postgres.TransactionSql) => tx`select secret_hash from access_links`,
    (tx: postgres.TransactionSql) => tx`update access_links set revoked_at = null`,
    (tx: postgres.TransactionSql) => tx`delete from access_links`,
    (tx: postgres.TransactionSql) =>
      tx`insert into access_links (tenant_id, id) values (${desk().business.tenantId}, ${desk().world.newId()})`,
  ])
    await expect(as('account', link, query)).rejects.toMatchObject(denied);
});

test('a link that was taken back stays so, whoever tries, and the worker takes none back', async () => {
  const link = await held();
  const now = desk().world.services.now();
  const revokedAt = (at: string | null) => (tx: postgres.TransactionSql) =>
    tx`update access_links set revoked_at = ${at} where id = ${link.linkId}`;
  await expect(as('worker', link, revokedAt(now))).rejects.toMatchObject(denied);
  await takenBack(link);
  for (const at of [null, '2026-12-01T00:00:00Z'])
    await expect(as('staff', link, revokedAt(at))).rejects.toThrow('append-only');
});

test('whoever leaves just while they are asked again gets no link', async () => {
  const link = await held();
  const { world, business } = desk();
  const { services } = world;
  const { workOrderId } = link.asked;
  const { personId } = link.lot.approver;
  const { value, waited } = await whileHeld(
    world,
    (tx) => tx`select from contacts where person_id = ${personId} for update`,
    () => askAgain(services, business.office, { askId: world.newId<ApprovalAskId>(), workOrderId, personId }),
    (tx) => tx`update contacts set ended_on = '2026-10-06' where person_id = ${personId}`,
  );
  expect(waited).toBe(true);
  expect(value).toMatchObject(refusal('invalid_input'));
  expect(must(await listLinks(services, business.office, workOrderId)).map(({ id }) => id)).toEqual([
    link.linkId,
  ]);
});
