import type { ApplicationId, DisputeId, InvoiceId, WriteOffId } from '@grainwright/domain';
import {
  answerDispute,
  applyCreditNote,
  type InvoiceView,
  listDisputes,
  listInvoices,
  openDispute,
  readDispute,
  readInvoice,
  readWorkOrder,
  recoverWriteOff,
  voidInvoice,
  writeOff,
} from '@grainwright/operations';
import postgres, { type Sql } from 'postgres';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { billingDesk, codeOf, tailgate } from './support/billing-desk.ts';
import { acceptedWork } from './support/billing-world.ts';
import { credited, lineOf } from './support/credit-desk.ts';
import { aBusiness, anAccount, type Business, must, openWorld, type World } from './support/world.ts';

let world: World;
let business: Business;
let desk: ReturnType<typeof billingDesk>;
let admin: Sql;

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
  desk = billingDesk(business);
  admin = postgres(world.adminUrl, { max: 1, onnotice: () => undefined });
});
afterAll(async () => {
  await admin.end({ timeout: 5 });
});

const undo = (invoice: InvoiceView, reason = 'made out to the wrong account') =>
  voidInvoice(world.services, business.bookkeeper, { invoiceId: invoice.id, reason });

test('a void takes back all that was posted, keeps its number, and the work may be invoiced again', async () => {
  const account = await anAccount(business);
  const work = await acceptedWork(account, { codes: tailgate });
  const first = must(await desk.issue([work]));
  const voided = must(await undo(first));
  expect([voided.number, voided.voidedOn, voided.voidReason]).toEqual([
    first.number,
    '2026-08-05',
    'made out to the wrong account',
  ]);
  expect([voided.totalMinor, voided.openMinor, voided.paidMinor]).toEqual([28490n, 0n, 0n]);
  const sums = await admin`select ledger_account, sum(amount_minor)::text as sum from journal_lines
    where invoice_id = ${first.id} group by 1 having sum(amount_minor) <> 0`;
  expect([...sums]).toEqual([]);
  const order = must(await readWorkOrder(world.services, business.bookkeeper, work.id));
  expect([order.state, order.invoice]).toEqual(['accepted', null]);
  const second = must(await desk.issue([work]));
  expect([second.totalMinor, second.openMinor]).toEqual([28490n, 28490n]);
  expect(second.number).not.toBe(first.number);
  expect(codeOf(await desk.issue([work]))).toBe('already_invoiced');
  const list = must(
    await listInvoices(world.services, business.bookkeeper, {
      accountId: account.id,
      openOnly: false,
      past: null,
    }),
  );
  expect(list.rows.map((row) => [row.number, row.voidedOn])).toEqual([
    [second.number, null],
    [first.number, '2026-08-05'],
  ]);
  expect(await desk.faults()).toEqual([]);
});

test('the trip of a visit is charged again when the invoice that held it was voided', async () => {
  const account = await anAccount(business);
  const first = await acceptedWork(account, { codes: ['VC-M'] });
  const second = await acceptedWork(account, { codes: ['BN-S'], sameVisitAs: first });
  const held = must(await desk.issue([first]));
  expect(held.charges.map((line) => line.netMinor)).toEqual([4500n]);
  must(await undo(held));
  expect(must(await desk.issue([second])).charges.map((line) => line.netMinor)).toEqual([4500n]);
  expect(must(await desk.issue([first])).charges).toEqual([]);
});

test('an invoice that anything settles is not voided, and the refusal says what is to be undone', async () => {
  const account = await anAccount(business);
  const paid = await desk.issued(account);
  must(await desk.pay({ account, amount: '100.00', for: [[paid, '100.00']] }));
  const refused = await undo(paid);
  expect(refused.ok ? '' : refused.problem.detail).toContain('un-apply the $100.00 received Aug 5, 2026');
  const credit = await desk.issued(account);
  await credited(business, credit, {
    lines: [{ kind: 'dropped', lineId: lineOf(credit, 'VC-M') }],
    apply: false,
  });
  const named = await undo(credit);
  expect(named.ok ? '' : named.problem.detail).toContain('CN-300');
  const writtenDown = await desk.issued(account);
  const writeOffId = world.newId<WriteOffId>();
  const loss = {
    writeOffId,
    invoiceId: writtenDown.id,
    amount: '10.00',
    kind: 'bad_debt',
    reason: 'gone',
    on: null,
  };
  must(await writeOff(world.services, business.bookkeeper, loss));
  const lost = await undo(writtenDown);
  expect(lost.ok ? '' : lost.problem.detail).toContain('recover the $10.00 written off');
  must(
    await recoverWriteOff(world.services, business.bookkeeper, { writeOffId, reason: 'voided', on: null }),
  );
  expect(codeOf(await undo(writtenDown))).toBe('ok');
  expect(await desk.faults()).toEqual([]);
});

test('an invoice that another one’s credit note settles is not voided, and the refusal names the note', async () => {
  const account = await anAccount(business);
  const [source, settled] = [await desk.issued(account), await desk.issued(account)];
  const lines = [{ kind: 'dropped' as const, lineId: lineOf(source, 'VC-M') }];
  const note = await credited(business, source, { lines, apply: false });
  const application = {
    applicationId: world.newId<ApplicationId>(),
    creditNoteId: note.id,
    invoiceId: settled.id,
  };
  must(await applyCreditNote(world.services, business.bookkeeper, { ...application, amount: '10.00' }));
  const refused = await undo(settled);
  expect(refused.ok ? '' : refused.problem.detail).toBe(
    `${settled.number} can’t be voided: ${note.number} settles $10.00 of it for good. Credit it instead.`,
  );
});

test('a dispute on an invoice that was voided waits for nothing any more', async () => {
  const account = await anAccount(business);
  const invoice = await desk.issued(account);
  const disputeId = world.newId<DisputeId>();
  const said = { lineId: null, amount: '10.00', reason: 'disputed', note: 'Not ours.', on: null };
  must(await openDispute(world.services, account.payer, { disputeId, invoiceId: invoice.id, ...said }));
  const listed = async (waitingOnly: boolean) => {
    const asked = { accountId: account.id, waitingOnly, past: null };
    return must(await listDisputes(world.services, business.bookkeeper, asked)).rows.length;
  };
  expect(await listed(true)).toBe(1);
  must(await undo(invoice));
  expect([await listed(true), await listed(false)]).toEqual([0, 1]);
  const shown = must(await readDispute(world.services, account.payer, disputeId));
  expect([shown.voidedOn, shown.answer]).toEqual(['2026-08-05', null]);
  const answer = { disputeId, answer: 'upheld', creditNoteId: null, note: 'It stands.' };
  expect(codeOf(await answerDispute(world.services, business.bookkeeper, answer))).toBe('wrong_state');
});

test('a void again with the same reason changes nothing; with another it is refused', async () => {
  const invoice = await desk.issued(await anAccount(business));
  const [first, again] = [must(await undo(invoice)), must(await undo(invoice))];
  expect(again).toEqual(first);
  expect(codeOf(await undo(invoice, 'some other reason'))).toBe('wrong_state');
  expect(codeOf(await undo(invoice, ' '))).toBe('invalid_input');
  const entries = await admin`select distinct entry_id from journal_lines where invoice_id = ${invoice.id}`;
  expect(entries).toHaveLength(2);
});

test('nothing is settled, credited or written off on a void', async () => {
  const account = await anAccount(business);
  const invoice = await desk.issued(account);
  must(await undo(invoice));
  expect(codeOf(await desk.pay({ account, amount: '10.00', for: [[invoice, '10.00']] }))).toBe(
    'over_payment',
  );
  const loss = { invoiceId: invoice.id, amount: '1.00', kind: 'bad_debt', reason: 'gone', on: null };
  const written = writeOff(world.services, business.bookkeeper, {
    writeOffId: world.newId<WriteOffId>(),
    ...loss,
  });
  expect(codeOf(await written)).toBe('wrong_state');
});

test('of a void, a payment and a new invoice at once the books stay true, and work is billed once', async () => {
  const account = await anAccount(business);
  const work = await acceptedWork(account, { codes: tailgate });
  const invoice = must(await desk.issue([work]));
  const results = await Promise.all([
    undo(invoice),
    desk.pay({ account, amount: '284.90', for: [[invoice, '284.90']] }),
    undo(invoice),
    desk.issue([work], world.newId<InvoiceId>()),
    desk.issue([work], world.newId<InvoiceId>()),
    desk.pay({ account, amount: '284.90', for: [[invoice, '284.90']] }),
  ]);
  expect(results.filter((result) => result.ok).length).toBeGreaterThan(0);
  const standing = await admin`select invoice_id from billed_work_orders where work_order_id = ${work.id}`;
  expect(standing.length).toBeLessThanOrEqual(1);
  expect(await desk.faults()).toEqual([]);
});

test('only who may void does, and a contact sees that it is void', async () => {
  const account = await anAccount(business);
  const invoice = await desk.issued(account);
  const asked = { invoiceId: invoice.id, reason: 'wrong account' };
  expect(codeOf(await voidInvoice(world.services, business.office, asked))).toBe('not_allowed');
  expect(codeOf(await voidInvoice(world.services, account.payer, asked))).toBe('not_allowed');
  must(await undo(invoice));
  expect(must(await readInvoice(world.services, account.viewer, invoice.id)).voidedOn).toBe('2026-08-05');
});
