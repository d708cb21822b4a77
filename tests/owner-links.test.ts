import { createHash } from 'node:crypto';
import { type AccessLinkId, type MailId, toId } from '@grainwright/domain';
import {
  askOwner,
  listReadyToInvoice,
  type MailCarrier,
  noteUnanswered,
  readMail,
  readWorkOrder,
  revokeLink,
  sendMail,
} from '@grainwright/operations';
import { beforeAll, beforeEach, expect, test, vi } from 'vitest';
import {
  accepted,
  type OwnerAskedFor,
  type OwnerDesk,
  orrin,
  ownerDesk,
  pathOf,
} from './support/owner-desk.ts';
import { runJobs } from './support/run-jobs.ts';
import { openWeb } from './support/web.ts';
import { whileHeld } from './support/while-held.ts';
import { finishedLine, startedLine } from './support/work-in-hand.ts';
import { aBusiness, anAccount, homeTimeZone, must } from './support/world.ts';

/** Links to vehicle owners: whom they are for, how long they open, and what follows from an answer. Common practice, no source. */

let desk: OwnerDesk;

beforeAll(async () => {
  desk = await ownerDesk();
});
beforeEach(() => desk.world.at('2026-08-05T09:00'));

const refusal = (code: string, field?: string) => ({
  ok: false,
  problem: field === undefined ? { code } : { code, field },
});

test('after its last day a link opens nothing; that is no acceptance, is said on the work order, and it can be sent again', async () => {
  const { work, path } = await desk.askedOwner();
  const [expiry] =
    await desk.admin`select expires_at from access_links where work_order_id = ${work.workOrderId}`;
  // 14 days from Aug 5, to the end of the day in Chicago, which is 5 hours behind UTC in summer.
  expect(new Date(String(expiry?.expires_at)).toISOString()).toBe('2026-08-20T05:00:00.000Z');
  desk.world.at('2026-08-19T23:59');
  expect((await desk.get(path)).statusCode).toBe(200);
  desk.world.at('2026-08-20T00:00');
  expect((await desk.get(path)).statusCode).toBe(410);
  const late = await desk.send(path, {
    id: desk.world.newId(),
    shown_digest: '',
    ...accepted,
    remark: 'sorry, I was away',
  });
  expect(late.statusCode).toBe(410);
  expect(late.body).toContain('sorry, I was away');
  expect(await desk.answersOf(work)).toHaveLength(0);
  const office = await desk.web.signInByPage(desk.business.emailOf('office'), desk.business.password);
  const page = await office.get(`/office/work-orders/${work.workOrderId}`);
  expect(page.body).toContain('No answer by Aug 19, 2026');
  expect(
    must(await noteUnanswered(desk.world.services, desk.business.tenantId, homeTimeZone)),
  ).toBeGreaterThanOrEqual(1);
  expect(must(await noteUnanswered(desk.world.services, desk.business.tenantId, homeTimeZone))).toBe(0);
  const view = await desk.read(work);
  expect(view.state).toBe('done');
  expect(view.steps.filter(({ event }) => event === 'no_answer').map(({ note }) => note)).toEqual([
    'Orrin Vasek had not answered by Aug 19, 2026. No answer is no acceptance.',
  ]);
  const again = must(await desk.ask(work.workOrderId));
  expect((await desk.answer(pathOf(again))).statusCode).toBe(303);
});

test('what is answered just when the sweep looks is not put on record as unanswered', async () => {
  const { work } = await desk.askedOwner();
  desk.world.at('2026-08-20T00:00');
  const { waited } = await whileHeld(
    desk.world,
    (sql) => sql`select from work_orders where id = ${work.workOrderId} for update`,
    () => noteUnanswered(desk.world.services, desk.business.tenantId, homeTimeZone),
    (sql) => sql`update work_orders set state = 'accepted' where id = ${work.workOrderId}`,
  );
  expect(waited).toBe(true);
  expect((await desk.read(work)).steps.map(({ event }) => event)).not.toContain('no_answer');
});

test('a link that was taken back opens nothing, and a new one takes the older back', async () => {
  const { work, asked, path } = await desk.askedOwner();
  must(
    await revokeLink(desk.world.services, desk.business.office, {
      workOrderId: work.workOrderId,
      linkId: asked.linkId,
    }),
  );
  expect((await desk.get(path)).statusCode).toBe(410);
  expect((await desk.send(path, { id: desk.world.newId(), shown_digest: '', ...accepted })).statusCode).toBe(
    410,
  );
  const second = must(await desk.ask(work.workOrderId));
  const third = must(await desk.ask(work.workOrderId));
  expect((await desk.get(pathOf(second))).statusCode).toBe(410);
  expect((await desk.get(pathOf(third))).statusCode).toBe(200);
  expect((await desk.read(work)).ownerLinks.map(({ stands }) => stands)).toEqual([
    'open',
    'taken_back',
    'taken_back',
  ]);
});

test('a link opens the pictures of its own work order and nothing else', async () => {
  const { path } = await desk.askedOwner();
  const other = await finishedLine(desk.installer);
  const elsewhere = await finishedLine(await anAccount(await aBusiness(desk.world), { limit: null }));
  await runJobs(desk.world);
  for (const work of [other, elsewhere]) {
    const [photo] = await desk.admin`select id from photos where work_order_id = ${work.workOrderId} limit 1`;
    for (const kind of ['view', 'thumb'])
      expect((await desk.get(`${path}/photos/${photo?.id}/${kind}`)).statusCode).toBe(404);
  }
  // Half a link, a link of nothing, and one whose tenant was exchanged.
  const token = path.split('/').at(-1) ?? '';
  const [tenant, secret = ''] = token.split('.');
  const foreign = (await desk.askedOwner()).path.split('/').at(-1)?.split('.')[1];
  for (const wrong of [
    token.slice(0, -1),
    `${tenant}.${secret.split('').reverse().join('')}`,
    `AAAAAAAAAAAAAAAAAAAAAA.${foreign}`,
  ])
    expect((await desk.get(`/link/${wrong}`)).statusCode).toBe(404);
});

test('the link is mailed where there is an address, and so is the copy of what was signed', async () => {
  const { work, path } = await desk.askedOwner({ email: 'orrin.vasek@example.com' });
  await desk.answer(path, { outcome: 'accepted_with_remark', remark: 'a faint edge' });
  await runJobs(desk.world);
  const mails = await desk.admin`select kind, recipients, subject_line, body from outgoing_mails
    where about_id = ${work.workOrderId} order by queued_at, kind`;
  expect(mails.map(({ kind, recipients }) => [kind, recipients])).toEqual([
    ['acceptance', ['orrin.vasek@example.com']],
    ['answer_copy', ['orrin.vasek@example.com']],
  ]);
  for (const words of ['Answer: accepted with a remark', 'Remark: a faint edge', 'SHA-256'])
    expect(String(mails[1]?.body)).toContain(words);
});

test('a mail whose link was taken back or has expired meanwhile does not go out, and the mailbox shows no link of it', async () => {
  const { world, business } = desk;
  const carried: string[] = [];
  const carrier: MailCarrier = {
    carry: async ({ text }) => {
      carried.push(text);
      return { carried: true };
    },
  };
  const email = 'orrin.vasek@example.com';
  const mailOf = ({ asked }: OwnerAskedFor) => toId<MailId>(asked.linkId);
  const send = (mailId: MailId, by: MailCarrier | null = carrier) =>
    sendMail(world.services, { tenantId: business.tenantId, mailId, carrier: by });
  const read = async (mailId: MailId) => must(await readMail(world.services, business.owner, mailId));
  const closed = 'A link of this mail was taken back or has expired; send a new one.';
  const takenBack = await desk.askedOwner({ email });
  const kept = await desk.askedOwner({ email });
  must(await send(mailOf(kept), null));
  expect((await read(mailOf(kept))).body).toContain(kept.path);
  for (const { work, asked } of [takenBack, kept])
    must(
      await revokeLink(world.services, business.office, {
        workOrderId: work.workOrderId,
        linkId: asked.linkId,
      }),
    );
  expect(must(await send(mailOf(takenBack)))).toBe('failed');
  expect(await read(mailOf(takenBack))).toMatchObject({ state: 'failed', problem: closed });
  const shown = (await read(mailOf(kept))).body;
  expect(shown).not.toContain(kept.path);
  expect(shown).toContain('(a link, only in the mail itself)');
  const late = await desk.askedOwner({ email });
  const inTime = await desk.askedOwner({ email });
  world.at('2026-08-06T09:00');
  expect(must(await send(mailOf(inTime)))).toBe('sent');
  world.at('2026-09-05T09:00');
  expect(must(await send(mailOf(late)))).toBe('failed');
  expect(await read(mailOf(late))).toMatchObject({ state: 'failed', problem: closed });
  expect(carried).toHaveLength(1);
  expect(carried[0]).toContain(inTime.path);
});

test('no log has the secret of a link, however its address was written', async () => {
  const { path } = await desk.askedOwner();
  const token = path.split('/').at(-1) ?? '';
  const written: string[] = [];
  const spy = vi.spyOn(process.stderr, 'write').mockImplementation((chunk) => {
    written.push(String(chunk));
    return true;
  });
  const loud = await openWeb(desk.world, { logLevel: 'info' });
  const coded = `%${token.charCodeAt(0).toString(16)}${token.slice(1)}`;
  for (const url of [
    `/%6Cink/${token}`,
    `/link/${coded}`,
    `/link/${token.slice(0, -1)}`,
    `/nowhere/${token}`,
    `/sign-in?next=${encodeURIComponent(path)}`,
  ])
    await loud.app.inject({ url });
  spy.mockRestore();
  const log = written.join('');
  expect(log.match(/incoming request/g)).toHaveLength(5);
  const [, secret = ''] = token.split('.');
  expect(log).not.toContain(secret.slice(0, 20));
});

test('whom it is for is asked, with a way to reach them, and the same request is the same link', async () => {
  const work = await finishedLine(desk.installer);
  expect(await desk.ask(work.workOrderId, { ownerName: ' ' })).toMatchObject(
    refusal('invalid_input', 'owner_name'),
  );
  expect(await desk.ask(work.workOrderId, { phone: '' })).toMatchObject(refusal('invalid_input', 'phone'));
  expect(await desk.ask(work.workOrderId, { email: 'orrin at home' })).toMatchObject(
    refusal('invalid_input', 'email'),
  );
  const linkId = desk.world.newId<AccessLinkId>();
  const first = must(await desk.ask(work.workOrderId, {}, linkId));
  expect(must(await desk.ask(work.workOrderId, {}, linkId))).toEqual(first);
  expect(await desk.ask(work.workOrderId, { ownerName: 'Somebody Else' }, linkId)).toMatchObject(
    refusal('id_reused'),
  );
  // The address is told to whoever made the link, and to nobody who sends the same.
  const { services } = desk.world;
  expect(
    await askOwner(services, desk.business.office, { linkId, workOrderId: work.workOrderId, ...orrin }),
  ).toMatchObject(refusal('id_reused'));
  const unfinished = await startedLine(desk.installer);
  expect(await desk.ask(unfinished.workOrderId)).toMatchObject(refusal('wrong_state'));
  expect(
    await askOwner(desk.world.services, desk.installer.approver, {
      linkId: desk.world.newId<AccessLinkId>(),
      workOrderId: work.workOrderId,
      ...orrin,
    }),
  ).toMatchObject(refusal('not_allowed'));
});

test('an account that is invoiced at once gets its invoice when the owner accepts by a link', async () => {
  const atOnce = await anAccount(desk.business, { invoiceRule: 'at_once', limit: null });
  const { work, path } = await desk.askedOwner({}, atOnce);
  expect((await desk.answer(path)).statusCode).toBe(303);
  const view = await desk.read(work);
  expect(view.state).toBe('invoiced');
  expect(view.invoice?.number).toBeDefined();
});

test('where whoever sent the link has left, the work is accepted all the same and listed as ready to invoice', async () => {
  const other = await aBusiness(desk.world);
  const atOnce = await anAccount(other, { invoiceRule: 'at_once', limit: null });
  const work = await finishedLine(atOnce);
  const asked = must(
    await askOwner(desk.world.services, other.technician, {
      linkId: desk.world.newId(),
      workOrderId: work.workOrderId,
      ...orrin,
    }),
  );
  await desk.admin`update staff_members set ended_on = '2026-08-01' where tenant_id = ${other.tenantId} and person_id = ${other.technician.personId}`;
  expect((await desk.answer(pathOf(asked))).statusCode).toBe(303);
  expect(must(await readWorkOrder(desk.world.services, other.owner, work.workOrderId)).state).toBe(
    'accepted',
  );
  const ready = must(await listReadyToInvoice(desk.world.services, other.bookkeeper, {}));
  expect(
    JSON.stringify(ready, (_key, value) => (typeof value === 'bigint' ? String(value) : value)),
  ).toContain(work.workOrderId);
});

test('the owner’s database role writes its own answer and nothing else', async () => {
  const { work, asked, path } = await desk.askedOwner();
  const token = path.split('/').at(-1) ?? '';
  const hash = createHash('sha256')
    .update(token.split('.')[1] ?? '')
    .digest('hex');
  const other = await finishedLine(desk.installer);
  const asOwner = (query: string, linkHash = hash, role = 'vehicle_owner') =>
    desk.admin.begin(async (tx) => {
      await tx`select set_config('role', ${`grainwright_${role}`}, true), set_config('app.tenant_id', ${desk.business.tenantId}, true),
        set_config('app.work_order_id', ${work.workOrderId}, true), set_config('app.link_hash', ${linkHash}, true)`;
      return tx.unsafe(query);
    });
  const inserted = (change: Partial<Record<'work' | 'link' | 'taken', string>> = {}) =>
    `insert into acceptances (tenant_id, id, work_order_id, outcome, signer_name, signer_role, identified_by, method, shown,
      shown_digest, taken_by, link_id, accepted_at) values ('${desk.business.tenantId}', gen_random_uuid(),
      '${change.work ?? work.workOrderId}', 'accepted', 'x', 'vehicle_owner', 'x', 'typed', 'x', '${'0'.repeat(64)}',
      ${change.taken ?? 'null'}, ${change.link ?? `'${asked.linkId}'`}, '2026-08-05T14:00:00Z')`;
  const denied = /row-level security|permission denied|violates|only accepts finished work|asks for no/;
  // Not for another work order, not as somebody of the staff, not without the link's secret.
  await expect(asOwner(inserted({ work: other.workOrderId }))).rejects.toThrow(denied);
  await expect(
    asOwner(inserted({ taken: `'${desk.business.technician.personId}'`, link: 'null' })),
  ).rejects.toThrow(denied);
  await expect(asOwner(inserted(), '0'.repeat(64))).rejects.toThrow(denied);
  // Not accepted without an answer, not into another state, and no other column.
  await expect(asOwner(`update work_orders set state = 'accepted'`)).rejects.toThrow(denied);
  await expect(asOwner(`update work_orders set state = 'void'`)).rejects.toThrow(denied);
  await expect(asOwner(`update work_orders set owner_name = 'x'`)).rejects.toThrow(denied);
  await expect(
    asOwner(`insert into work_order_steps (tenant_id, id, work_order_id, event, to_state, happened_at)
      values ('${desk.business.tenantId}', gen_random_uuid(), '${work.workOrderId}', 'accepted', 'accepted', '2026-08-05T14:00:00Z')`),
  ).rejects.toThrow(denied);
  await expect(asOwner('select owner_phone from work_orders')).rejects.toThrow(denied);
  await expect(asOwner('select * from acceptance_requests')).rejects.toThrow(denied);
  // Of the jobs only the copy of what was signed, and in the record only what an answer does.
  await expect(asOwner(`select enqueue_job('send_mail', gen_random_uuid())`)).rejects.toThrow(denied);
  const recorded = (action: string) =>
    asOwner(`insert into audit_records (tenant_id, id, at, action, subject_kind, subject_id, detail)
      values ('${desk.business.tenantId}', gen_random_uuid(), '2026-08-05T14:00:00Z', '${action}', 'work_order',
        '${work.workOrderId}', '{"by_link": "${asked.linkId}"}')`);
  await expect(recorded('price_changed')).rejects.toThrow(denied);
  await recorded('work_order_accepted');
  // Nobody of the staff writes it in the owner's place.
  await expect(asOwner(inserted(), hash, 'staff')).rejects.toThrow(/row-level security/);
  expect(await asOwner('select id from access_links')).toHaveLength(1);
  expect(await asOwner('select id from access_links', '0'.repeat(64))).toHaveLength(0);
});
