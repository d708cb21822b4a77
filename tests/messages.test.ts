import type { AccessLinkId, MessageId, WorkOrderId } from '@grainwright/domain';
import {
  endContact,
  listWorkOrders,
  readBoard,
  readWorkOrder,
  type SignedInActor,
  writeMessage,
} from '@grainwright/operations';
import postgres, { type Sql } from 'postgres';
import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest';
import { runJobs } from './support/run-jobs.ts';
import { openWeb, type Web } from './support/web.ts';
import { photographed, writtenUpLine } from './support/work-in-hand.ts';
import {
  type Account,
  aBusiness,
  anAccount,
  type Business,
  must,
  openWorld,
  type World,
} from './support/world.ts';
import { sent } from './support/write-ups.ts';

/** Questions back to the technician, and their answers. Common practice, no published source. */

let world: World;
let web: Web;
let admin: Sql;
let business: Business;
let dealer: Account;

beforeAll(async () => {
  world = await openWorld();
  web = await openWeb(world);
  business = await aBusiness(world);
  dealer = await anAccount(business, { limit: null });
  admin = postgres(world.adminUrl, { max: 1, onnotice: () => undefined });
});
beforeEach(() => world.at('2026-08-05T09:00'));
afterAll(() => admin.end({ timeout: 5 }));

const refusal = (code: string, field?: string) => ({
  ok: false,
  problem: field === undefined ? { code } : { code, field },
});

/** Sent for approval; the account's approver is asked by mail. */
async function asked(account = dealer): Promise<WorkOrderId> {
  const { workOrderId, lineId } = await writtenUpLine(account);
  await photographed(account, workOrderId, lineId, 'before');
  await sent(account, workOrderId);
  await runJobs(world);
  return workOrderId;
}

function write(actor: SignedInActor, workOrderId: WorkOrderId, text: string, id = world.newId<MessageId>()) {
  return writeMessage(world.services, actor, { id, workOrderId, text });
}

async function mailsAbout(id: MessageId) {
  await runJobs(world);
  return admin`select recipients, subject_line, body from outgoing_mails
    where kind = 'message' and about_id = ${id} order by recipients`;
}

const addressIn = (text: string) => /\/link\/[\w.-]+/.exec(text)?.[0] ?? '';

/** The address of a mail's link, as whoever the mail is for finds it. */
async function linkOf(id: MessageId): Promise<string> {
  const owner = await web.signInByPage(business.emailOf('owner'), business.password);
  await runJobs(world);
  const [mail] = await admin`select id from outgoing_mails where kind = 'message' and about_id = ${id}`;
  return addressIn((await owner.get(`/office/mailbox/${mail?.id}`)).body.replaceAll('<br>', ' '));
}

test('a contact’s question stands on the work order for both sides and is mailed to the technician of the visit', async () => {
  const workOrderId = await asked();
  const id = must(await write(dealer.approver, workOrderId, 'Why does the trim have to come off?'));
  for (const actor of [business.technician, business.office, dealer.viewer])
    expect(must(await readWorkOrder(world.services, actor, workOrderId)).messages).toMatchObject([
      { side: 'account', author: 'Ansel Corvin', text: 'Why does the trim have to come off?' },
    ]);
  const mails = await mailsAbout(id);
  expect(mails.map(({ recipients }) => recipients)).toEqual([[business.emailOf('technician')]]);
  expect(String(mails[0]?.body)).toContain('> Why does the trim have to come off?');
  expect(String(mails[0]?.body)).toContain(`/field/work-orders/${workOrderId}/messages`);
});

test('every line that somebody writes is quoted, whatever sign ends it', async () => {
  const workOrderId = await asked();
  const id = must(await write(dealer.approver, workOrderId, 'one\u2028two\u2029three\nfour'));
  const [mail] = await mailsAbout(id);
  expect(String(mail?.body)).toContain('> one\n> two\n> three\n> four');
});

test('where mail does not reach the technician, the question goes to the business', async () => {
  const other = await aBusiness(world);
  const account = await anAccount(other, { limit: null });
  const workOrderId = await asked(account);
  await admin`update people set email = '' where tenant_id = ${other.tenantId} and id = ${other.technician.personId}`;
  await admin`update businesses set email = 'desk@example.com' where tenant_id = ${other.tenantId}`;
  const id = must(await write(account.approver, workOrderId, 'When will you come?'));
  expect((await mailsAbout(id)).map(({ recipients }) => recipients)).toEqual([['desk@example.com']]);
});

test('an answer is mailed to whoever was asked or wrote, each with a link of their own, and not to others', async () => {
  const workOrderId = await asked();
  must(await write(dealer.viewer, workOrderId, 'What is a cold grain?'));
  const id = must(await write(business.technician, workOrderId, 'A texture without heat.'));
  const mails = await mailsAbout(id);
  expect(mails.map(({ recipients }) => recipients)).toEqual([
    [dealer.emailOf('approver')],
    [dealer.emailOf('viewer')],
  ]);
  const links = await admin`select person_id from access_links where work_order_id = ${workOrderId}`;
  expect(new Set(links.map(({ person_id }) => person_id)).has(dealer.payer.personId)).toBe(false);
  // Done again, as when a worker was cut off, it mails nobody twice.
  await admin`select graphile_worker.add_job('mail_message', json_build_object('tenant_id', ${business.tenantId}::text, 'subject_id', ${id}::text))`;
  expect(await mailsAbout(id)).toHaveLength(2);
});

test('whoever has left gets no message any more', async () => {
  const account = await anAccount(business, { limit: null });
  const workOrderId = await asked(account);
  must(await write(account.viewer, workOrderId, 'And the color?'));
  const gone = { accountId: account.id, personId: account.viewer.personId };
  must(await endContact(world.services, business.office, gone));
  const id = must(await write(business.office, workOrderId, 'Mixed on the spot.'));
  expect((await mailsAbout(id)).map(({ recipients }) => recipients)).toEqual([[account.emailOf('approver')]]);
});

test('where nobody was asked or wrote, the business’s message goes to the account’s approvers', async () => {
  const account = await anAccount(business, { limit: null });
  const { workOrderId } = await writtenUpLine(account);
  const id = must(
    await write(business.technician, workOrderId, 'There is a second scuff. Shall I write it up?'),
  );
  expect((await mailsAbout(id)).map(({ recipients }) => recipients)).toEqual([[account.emailOf('approver')]]);
});

test('a contact answers from the mail, by its link, and the record names the link', async () => {
  const workOrderId = await asked();
  must(await write(dealer.viewer, workOrderId, 'Is it dry by noon?'));
  const account = await anAccount(business, { limit: null });
  const alone = await writtenUpLine(account);
  const question = must(await write(business.technician, alone.workOrderId, 'Which key is it?'));
  const path = await linkOf(question);
  const page = await web.app.inject({ method: 'GET', url: path });
  expect(page.statusCode).toBe(200);
  expect(page.body).toContain('Which key is it?');
  const action = /action="(\/link\/[^"]+\/messages)"/.exec(page.body)?.[1] ?? '';
  const id = /name="id" value="([^"]+)"/.exec(page.body.slice(page.body.indexOf(action)))?.[1] ?? '';
  const send = (url: string, text: string) =>
    web.app.inject({
      method: 'POST',
      url,
      headers: { 'content-type': 'application/x-www-form-urlencoded' },
      payload: new URLSearchParams({ id, text }).toString(),
    });
  expect((await send(action, '')).statusCode).toBe(422);
  const long = await send(action, 'x'.repeat(2001));
  expect(long.statusCode).toBe(422);
  expect(long.body).toContain('x'.repeat(2001));
  expect((await send(action, 'The one for the gray car.')).statusCode).toBe(303);
  expect((await send(action, 'The one for the gray car.')).statusCode).toBe(303);
  const [row] = await admin`select side, author_id, link_id from messages where id = ${id}`;
  const [link] = await admin<
    { id: AccessLinkId }[]
  >`select id from access_links where work_order_id = ${alone.workOrderId}`;
  expect(row).toEqual({ side: 'account', author_id: account.approver.personId, link_id: link?.id });
  // The link is about this work order and no other.
  const elsewhere = action.replace(alone.workOrderId, workOrderId);
  expect((await send(elsewhere, 'hello')).statusCode).toBe(404);
});

test('a message sent twice counts once, and under its id nothing else is taken', async () => {
  const workOrderId = await asked();
  const id = world.newId<MessageId>();
  must(await write(dealer.approver, workOrderId, 'Is it dry by noon?', id));
  must(await write(dealer.approver, workOrderId, ' Is it dry by noon? ', id));
  expect(must(await readWorkOrder(world.services, dealer.approver, workOrderId)).messages).toHaveLength(1);
  expect(await write(dealer.approver, workOrderId, 'Another', id)).toMatchObject(refusal('id_reused'));
  expect(await write(dealer.viewer, workOrderId, 'Is it dry by noon?', id)).toMatchObject(
    refusal('id_reused'),
  );
});

test('a message has words, and at most 2,000 letters', async () => {
  const workOrderId = await asked();
  expect(await write(dealer.approver, workOrderId, '  ')).toMatchObject(refusal('invalid_input', 'text'));
  expect(await write(dealer.approver, workOrderId, 'x'.repeat(2001))).toMatchObject(
    refusal('invalid_input', 'text'),
  );
  must(await write(dealer.approver, workOrderId, 'x'.repeat(2000)));
});

test('a message that came back keeps what was typed, and keeps its id', async () => {
  const workOrderId = await asked();
  const contact = await web.signInByPage(dealer.emailOf('approver'), business.password);
  const path = `/account/work-orders/${workOrderId}/messages`;
  const id = world.newId<MessageId>();
  const back = await contact.post(path, { id, text: 'y'.repeat(2100) });
  expect(back.statusCode).toBe(422);
  expect(back.body).toContain('y'.repeat(2100));
  expect(back.body).toContain('in at most 2000 characters');
  expect(back.body).toContain(id);
  const taken = await contact.post(path, { id, text: 'Is it dry by noon?' });
  expect([taken.statusCode, taken.headers.location]).toEqual([
    303,
    `/account/work-orders/${workOrderId}#messages`,
  ]);
  expect((await contact.get(`/account/work-orders/${workOrderId}`)).body).toContain('Is it dry by noon?');
});

test('the last word of the account’s is a question that nobody answered, on the board, in lists and on the page', async () => {
  const workOrderId = await asked();
  const isOpen = async () => {
    const board = must(await readBoard(world.services, business.office));
    const card = board.columns.flatMap(({ cards }) => cards).find(({ id }) => id === workOrderId);
    const { rows } = must(await listWorkOrders(world.services, business.office, {}));
    return [card?.questionOpen, rows.find(({ id }) => id === workOrderId)?.questionOpen];
  };
  expect(await isOpen()).toEqual([false, false]);
  must(await write(dealer.approver, workOrderId, 'Is it dry by noon?'));
  expect(await isOpen()).toEqual([true, true]);
  const office = await web.signInByPage(business.emailOf('office'), business.password);
  for (const path of ['/office/board', '/office/work-orders', `/office/work-orders/${workOrderId}`])
    expect((await office.get(path)).body).toContain('Question from the account, unanswered');
  const technician = await web.signInByPage(business.emailOf('technician'), business.password);
  for (const path of ['/field', `/field/work-orders/${workOrderId}`])
    expect((await technician.get(path)).body).toContain('Question from the account, unanswered');
  world.at('2026-08-05T09:05');
  must(await write(business.technician, workOrderId, 'By eleven.'));
  expect(await isOpen()).toEqual([false, false]);
});

test('30 messages a person and hour are taken, and 200 on a work order', async () => {
  const account = await anAccount(business, { limit: null });
  const workOrderId = await asked(account);
  for (let each = 0; each < 30; each += 1)
    must(await write(account.approver, workOrderId, `question ${each}`));
  expect(await write(account.approver, workOrderId, 'one more')).toMatchObject(refusal('too_many_requests'));
  must(await write(account.viewer, workOrderId, 'somebody else may'));
  world.at('2026-08-05T10:01');
  must(await write(account.approver, workOrderId, 'an hour later'));
  await admin`insert into messages (tenant_id, id, account_id, work_order_id, side, author_id, text, written_at)
    select ${business.tenantId}::uuid, gen_random_uuid(), ${account.id}::uuid, ${workOrderId}::uuid, 'business',
      ${business.office.personId}::uuid, 'x', '2026-08-01T00:00:00Z' from generate_series(1, 168)`;
  expect(await write(business.technician, workOrderId, 'no more')).toMatchObject(
    refusal('too_many_requests'),
  );
});

test('another account’s people neither see nor write what is said here', async () => {
  const workOrderId = await asked();
  must(await write(dealer.approver, workOrderId, 'between us'));
  const other = await anAccount(business, { limit: null });
  expect(await write(other.approver, workOrderId, 'hello')).toMatchObject(refusal('not_found'));
  expect(await readWorkOrder(world.services, other.approver, workOrderId)).toMatchObject(
    refusal('not_found'),
  );
  const elsewhere = await aBusiness(world);
  expect(await write(elsewhere.owner, workOrderId, 'hello')).toMatchObject(refusal('not_found'));
});

test('an account’s database role writes in nobody else’s name', async () => {
  const workOrderId = await asked();
  const other = await anAccount(business, { limit: null });
  const asAccount = (account: Account, side: string, author: string, role = 'account') =>
    admin.begin(async (tx) => {
      await tx`select set_config('role', ${`grainwright_${role}`}, true), set_config('app.tenant_id', ${business.tenantId}, true),
        set_config('app.account_id', ${account.id}, true)`;
      await tx`insert into messages (tenant_id, id, account_id, work_order_id, side, author_id, text, written_at)
        values (${business.tenantId}, gen_random_uuid(), ${dealer.id}, ${workOrderId}, ${side}, ${author}, 'x',
          ${world.services.now()})`;
    });
  await expect(asAccount(dealer, 'business', dealer.approver.personId)).rejects.toThrow(/row-level security/);
  await expect(asAccount(dealer, 'account', business.office.personId)).rejects.toThrow(/row-level security/);
  await expect(asAccount(other, 'account', other.approver.personId)).rejects.toThrow(/row-level security/);
  await asAccount(dealer, 'account', dealer.approver.personId);
  // The staff write for the business, and in no contact's name.
  const asStaff = (side: string, author: string) => asAccount(dealer, side, author, 'staff');
  await expect(asStaff('account', dealer.approver.personId)).rejects.toThrow(/row-level security/);
  await asStaff('business', business.office.personId);
  // Whoever has left writes no more.
  const { personId } = dealer.payer;
  await asAccount(dealer, 'account', personId);
  must(await endContact(world.services, business.owner, { accountId: dealer.id, personId }));
  await expect(asAccount(dealer, 'account', personId)).rejects.toThrow(/row-level security/);
});
