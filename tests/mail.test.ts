import type { MailId } from '@grainwright/domain';
import {
  changeAccount,
  endContact,
  listMails,
  type MailCarrier,
  mailRunStatements,
  mailStatement,
  openMailAttachment,
  openStatementPdf,
  readMail,
  resendMail,
  sendMail,
} from '@grainwright/operations';
import postgres, { type Sql } from 'postgres';
import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest';
import { smtpCarrier } from '../apps/worker/src/smtp-carrier.ts';
import { billingDesk, codeOf } from './support/billing-desk.ts';
import { aMailServer, attachmentOf, headersOf } from './support/mail-server.ts';
import { runJobs } from './support/run-jobs.ts';
import { statementDesk } from './support/statement-desk.ts';
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

let world: World;
let web: Web;
let admin: Sql;

beforeAll(async () => {
  world = await openWorld();
  web = await openWeb(world);
  admin = postgres(world.adminUrl, { max: 1, onnotice: () => undefined });
});
beforeEach(async () => {
  world.at('2026-08-05T09:00');
  // What an earlier test left queued.
  await runJobs(world);
});
afterAll(async () => {
  await admin.end({ timeout: 5 });
});

const from = 'statements@grainwright.example';

/** A business whose accounts, by their names, have their August issued. */
async function augustIssued(names: readonly string[]) {
  const business = await aBusiness(world);
  const accounts: Account[] = [];
  for (const name of names) {
    const account = await anAccount(business, { name });
    must(await billingDesk(business).pay({ account, amount: '40.00', on: '2026-08-05' }));
    accounts.push(account);
  }
  world.at('2026-09-01T08:00');
  const run = await statementDesk(business).run('2026-08', null);
  return { business, accounts, run };
}

const mailsOf = async (business: Business) =>
  must(await listMails(world.services, business.bookkeeper, null)).rows;

const mailed = (account: Account, mailId = world.newId<MailId>()) =>
  mailStatement(world.services, account.business.bookkeeper, {
    accountId: account.id,
    month: '2026-08',
    mailId,
  });

// Names of headers are those of RFC 5322; what is in them is common practice, no source.
test('the statements of a run go out over SMTP, each to its own account, with the PDF that the page gives', async () => {
  const server = await aMailServer();
  const { business, accounts, run } = await augustIssued(['Alder Lot', 'Birch Fleet']);
  const [alder, birch] = accounts;
  if (!alder || !birch) throw new Error('no accounts');
  must(
    await changeAccount(world.services, business.owner, {
      id: birch.id,
      statementEmail: 'books@birch.example.com',
    }),
  );
  expect(must(await mailRunStatements(world.services, business.bookkeeper, run.id))).toEqual({
    queued: 2,
    withoutAddress: [],
  });
  expect(must(await mailRunStatements(world.services, business.bookkeeper, run.id)).queued).toBe(0);
  await runJobs(world, smtpCarrier({ url: server.url, from }));
  const byRecipient = new Map(server.received.map((mail) => [mail.to.join(), mail]));
  expect([...byRecipient.keys()].toSorted()).toEqual(
    ['books@birch.example.com', alder.emailOf('payer')].toSorted(),
  );
  const mail = byRecipient.get(alder.emailOf('payer'));
  if (mail === undefined) throw new Error('no mail');
  const rows = await mailsOf(business);
  const row = rows.find((each) => each.accountId === alder.id);
  expect(mail.from).toBe(from);
  expect(headersOf(mail, 'From')).toEqual([`Quillfeather Interior Repair <${from}>`]);
  expect(headersOf(mail, 'Reply-To')).toEqual([business.emailOf('office')]);
  expect(headersOf(mail, 'To')).toEqual([alder.emailOf('payer')]);
  expect(headersOf(mail, 'Subject')).toEqual(['Statement of August 2026 from Quillfeather Interior Repair']);
  expect(headersOf(mail, 'Message-ID')).toEqual([`<${row?.id}@grainwright.example>`]);
  expect(mail.raw).toContain('you have a credit of $40.00. Nothing is to be paid.');
  const asked = { accountId: alder.id, month: '2026-08' };
  const pdf = must(await openStatementPdf(world.services, alder.payer, asked));
  expect(attachmentOf(mail, 'statement-2026-08.pdf').equals(Buffer.from(pdf.body))).toBe(true);
  expect(rows.map((each) => [each.state, each.tries])).toEqual([
    ['sent', 1],
    ['sent', 1],
  ]);
});

test('without a mail server the mail is kept in the mailbox, to be read as it would have looked', async () => {
  const { business, accounts } = await augustIssued(['Cedar Lot']);
  const [cedar] = accounts;
  if (!cedar) throw new Error('no account');
  const browser = await web.signInByPage(business.emailOf('bookkeeper'), business.password);
  const mailId = world.newId();
  const page = `/office/accounts/${cedar.id}/statements/2026-08`;
  const sent = await browser.post(`${page}/mail`, { mail_id: mailId });
  expect([sent.statusCode, sent.headers.location]).toEqual([303, `${page}?mailed=yes`]);
  await runJobs(world);
  const box = await browser.get('/office/mailbox');
  expect(box.body).toContain('Statement of August 2026 from Quillfeather Interior Repair');
  expect(box.body).toContain('kept here');
  const mail = await browser.get(`/office/mailbox/${mailId}`);
  expect(mail.body).toContain(cedar.emailOf('payer'));
  expect(mail.body).toContain('This is how it would have looked.');
  const file = await browser.get(`/office/mailbox/${mailId}/attachments/1`);
  expect([file.statusCode, file.headers['content-type']]).toEqual([200, 'application/pdf']);
  expect(file.rawPayload.subarray(0, 5).toString()).toBe('%PDF-');
  expect((await browser.get(`/office/mailbox/${mailId}/attachments/2`)).statusCode).toBe(404);
});

test('what the mail server will never take is marked as failed and can be tried again; what may pass is tried again by itself', async () => {
  const server = await aMailServer();
  const { business, accounts } = await augustIssued(['Dogwood Lot']);
  const [dogwood] = accounts;
  if (!dogwood) throw new Error('no account');
  const carrier = smtpCarrier({ url: server.url, from });
  const id = must(await mailed(dogwood));
  const send = () => sendMail(world.services, { tenantId: business.tenantId, mailId: id, carrier });
  server.refuseWith(451);
  expect(await send()).toMatchObject({ ok: false, problem: { code: 'unavailable' } });
  expect(must(await readMail(world.services, business.bookkeeper, id))).toMatchObject({
    state: 'queued',
    tries: 1,
  });
  server.refuseWith(550);
  expect(must(await send())).toBe('failed');
  const failed = must(await readMail(world.services, business.bookkeeper, id));
  expect(failed).toMatchObject({ state: 'failed', tries: 2, settledAt: null });
  expect(failed.problem).toContain('not this one');
  expect(server.received).toEqual([]);
  server.refuseWith(null);
  must(await resendMail(world.services, business.bookkeeper, id));
  expect(must(await readMail(world.services, business.bookkeeper, id))).toMatchObject({ tries: 0 });
  expect(must(await send())).toBe('sent');
  expect(codeOf(await resendMail(world.services, business.bookkeeper, id))).toBe('wrong_state');
  expect(must(await send())).toBe('sent');
  expect(server.received).toHaveLength(1);
});

// Replies 530, 534 and 535 are about the login: RFC 4954, section 6.
test('a login that the mail server refuses is mended in the settings: the mail waits', async () => {
  const server = await aMailServer();
  const { business, accounts } = await augustIssued(['Larch Lot']);
  const [larch] = accounts;
  if (!larch) throw new Error('no account');
  const mailId = must(await mailed(larch));
  const carrier = smtpCarrier({ url: server.url, from });
  for (const code of [530, 534, 535]) {
    server.refuseWith(code);
    expect(codeOf(await sendMail(world.services, { tenantId: business.tenantId, mailId, carrier }))).toBe(
      'unavailable',
    );
  }
});

test('what can’t be attached counts as a try, and a mail whose job was given up is sent when asked for again', async () => {
  const server = await aMailServer();
  const { business, accounts } = await augustIssued(['Maple Lot']);
  const [maple] = accounts;
  if (!maple) throw new Error('no account');
  const mailId = must(await mailed(maple));
  const objects = { ...world.services.objects, put: () => Promise.reject(new Error('the disk is full')) };
  const carrier = smtpCarrier({ url: server.url, from });
  const send = () =>
    sendMail({ ...world.services, objects }, { tenantId: business.tenantId, mailId, carrier });
  await expect(send()).rejects.toThrow('the disk is full');
  expect(must(await readMail(world.services, business.bookkeeper, mailId))).toMatchObject({
    state: 'queued',
    tries: 1,
    problem: 'statement-2026-08.pdf could not be attached. Try again later.',
  });
  for (let tries = 2; tries <= 10; tries += 1) await expect(send()).rejects.toThrow();
  expect(must(await readMail(world.services, business.bookkeeper, mailId)).state).toBe('failed');
  must(await resendMail(world.services, business.bookkeeper, mailId));
  await admin`select graphile_worker.remove_job(${`send_mail:${business.tenantId}:${mailId}`})`;
  await runJobs(world, carrier);
  expect(server.received).toEqual([]);
  must(await resendMail(world.services, business.bookkeeper, mailId));
  must(await resendMail(world.services, business.bookkeeper, mailId));
  await runJobs(world, carrier);
  expect(server.received).toHaveLength(1);
});

test('a run whose mail was kept goes out once a mail server is named, each mail once and to the address of now', async () => {
  const { business, accounts, run } = await augustIssued(['Oak Lot', 'Pine Lot']);
  const [oak, pine] = accounts;
  if (!oak || !pine) throw new Error('no accounts');
  const press = async () => must(await mailRunStatements(world.services, business.bookkeeper, run.id)).queued;
  expect(await press()).toBe(2);
  await runJobs(world);
  expect(await press()).toBe(2);
  expect(await press()).toBe(0);
  await runJobs(world);
  expect((await mailsOf(business)).map((each) => each.state)).toEqual(['kept', 'kept']);
  must(
    await changeAccount(world.services, business.owner, {
      id: pine.id,
      statementEmail: 'books@pine.example.com',
    }),
  );
  const server = await aMailServer();
  expect(await press()).toBe(2);
  await runJobs(world, smtpCarrier({ url: server.url, from }));
  expect(await press()).toBe(0);
  expect(server.received.map((mail) => mail.to.join()).toSorted()).toEqual(
    ['books@pine.example.com', oak.emailOf('payer')].toSorted(),
  );
});

test('a worker that dies between the sending and the writing down sends again under the same Message-ID', async () => {
  const server = await aMailServer();
  const { business, accounts } = await augustIssued(['Elm Lot']);
  const [elm] = accounts;
  if (!elm) throw new Error('no account');
  const id = must(await mailed(elm));
  const carrier = smtpCarrier({ url: server.url, from });
  const dying: MailCarrier = {
    carry: async (mail) => {
      await carrier.carry(mail);
      throw new Error('killed');
    },
  };
  const mail = { tenantId: business.tenantId, mailId: id };
  await expect(sendMail(world.services, { ...mail, carrier: dying })).rejects.toThrow('killed');
  expect(must(await sendMail(world.services, { ...mail, carrier }))).toBe('sent');
  expect(server.received.flatMap((each) => headersOf(each, 'Message-ID'))).toEqual([
    `<${id}@grainwright.example>`,
    `<${id}@grainwright.example>`,
  ]);
});

test('the same id again is the same mail, and an account without any address is told so', async () => {
  const { business, accounts } = await augustIssued(['Fir Lot', 'Gum Lot']);
  const [fir, gum] = accounts;
  if (!fir || !gum) throw new Error('no accounts');
  const id = must(await mailed(fir));
  expect(must(await mailed(fir, id))).toBe(id);
  expect(codeOf(await mailed(gum, id))).toBe('id_reused');
  must(await endContact(world.services, business.owner, { accountId: gum.id, personId: gum.payer.personId }));
  expect(await mailed(gum)).toMatchObject({ ok: false, problem: { code: 'invalid_input', field: 'to' } });
  expect(
    codeOf(
      await mailStatement(world.services, business.bookkeeper, {
        accountId: gum.id,
        month: '2026-09',
        mailId: world.newId<MailId>(),
      }),
    ),
  ).toBe('wrong_state');
  expect(await mailsOf(business)).toHaveLength(1);
});

test('nobody of another business sees a mail, its addresses or what is attached, nor does an account’s contact', async () => {
  const { accounts } = await augustIssued(['Holly Lot']);
  const other = await aBusiness(world);
  const [holly] = accounts;
  if (!holly) throw new Error('no account');
  const id = must(await mailed(holly));
  for (const stranger of [other.owner, other.bookkeeper]) {
    expect(must(await listMails(world.services, stranger, null)).rows).toEqual([]);
    expect(codeOf(await readMail(world.services, stranger, id))).toBe('not_found');
    expect(codeOf(await openMailAttachment(world.services, stranger, { mailId: id, position: 1 }))).toBe(
      'not_found',
    );
    expect(codeOf(await resendMail(world.services, stranger, id))).toBe('not_found');
  }
  expect(codeOf(await readMail(world.services, holly.payer, id))).toBe('not_allowed');
  expect(codeOf(await readMail(world.services, holly.business.technician, id))).toBe('not_allowed');
});

test('no name, address or file name begins another header or another recipient', async () => {
  const server = await aMailServer();
  const { business, accounts } = await augustIssued(['Ivy Lot']);
  const [ivy] = accounts;
  if (!ivy) throw new Error('no account');
  await admin`update businesses set name = ${'Quill\r\nBcc: spy@example.org'} where tenant_id = ${business.tenantId}`;
  must(await mailed(ivy));
  await runJobs(world, smtpCarrier({ url: server.url, from }));
  expect(server.received.map((mail) => mail.to)).toEqual([[ivy.emailOf('payer')]]);
  expect(server.received.flatMap((mail) => headersOf(mail, 'Bcc'))).toEqual([]);
  const [row] = await mailsOf(business);
  if (!row) throw new Error('no mail');
  for (const [column, value] of [
    ['subject_line', 'Statement\r\nBcc: spy@example.org'],
    ['sender_name', 'Quill\nBcc: spy@example.org'],
    ['reply_to', 'a@example.org\r\nBcc: spy@example.org'],
  ] as const)
    await expect(
      admin`update outgoing_mails set ${admin({ [column]: value })} where id = ${row.id}`,
    ).rejects.toThrow('check constraint');
  for (const address of [
    'a@example.org,spy@example.org',
    'a@example.org\r\nspy@example.org',
    '<spy@example.org>',
  ])
    await expect(
      admin`update outgoing_mails set recipients = ${[address]} where id = ${row.id}`,
      address,
    ).rejects.toThrow('check constraint');
});
