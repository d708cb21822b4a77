import type { DisputeId } from '@grainwright/domain';
import {
  type Actor,
  answerDispute,
  checkLedger,
  type InvoiceView,
  listDisputes,
  type OpenDisputeInput,
  openDispute,
  readDispute,
  readInvoice,
} from '@grainwright/operations';
import postgres, { type Sql, type TransactionSql } from 'postgres';
import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest';
import { billingDesk, codeOf } from './support/billing-desk.ts';
import { billedJob, credited, lineOf, trimJob } from './support/credit-desk.ts';
import { aBusiness, anAccount, type Business, must, openWorld, type World } from './support/world.ts';

let world: World;
let business: Business;
let admin: Sql;

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
  admin = postgres(world.adminUrl, { max: 1, onnotice: () => undefined });
});
beforeEach(() => world.at('2026-08-11T09:00'));
afterAll(async () => {
  await admin.end({ timeout: 5 });
});

/** A tint shop's invoice of 672.37 of which 63.75 is left: the trim taken off and on, without its tax. */
async function shortPaid() {
  const job = await billedJob(business, admin, trimJob);
  world.at('2026-09-10T09:00');
  const payment = {
    account: job.account,
    amount: '608.62',
    on: '2026-09-10',
    for: [[job.invoice, '608.62']],
  } as const;
  must(await billingDesk(business).pay(payment));
  return job;
}

function dispute(actor: Actor, invoice: InvoiceView, asked: Partial<OpenDisputeInput> = {}) {
  return openDispute(world.services, actor, {
    disputeId: world.newId<DisputeId>(),
    invoiceId: invoice.id,
    lineId: lineOf(invoice, 'RI-1'),
    amount: '63.75',
    reason: 'disputed',
    note: 'We never asked to take the trim off.',
    on: null,
    ...asked,
  });
}

const seenBy = async (actor: Actor, invoice: InvoiceView) =>
  must(await readInvoice(world.services, actor, invoice.id));

// The agreed demo figures: 63.75 of INV-2004 is in dispute from 10 September.
test('staff note what a short payment leaves as disputed, and the clock runs until it is answered', async () => {
  const { account, invoice } = await shortPaid();
  const opened = must(await dispute(business.bookkeeper, invoice, { on: '2026-09-10' }));
  expect([opened.amountMinor, opened.byContact, opened.openedOn]).toEqual([6375n, false, '2026-09-10']);
  world.at('2026-10-31T09:00');
  const waiting = { accountId: account.id, waitingOnly: true, past: null };
  const { rows } = must(await listDisputes(world.services, business.bookkeeper, waiting));
  // From 10 September to 31 October.
  expect(rows.map((row) => [row.invoiceNumber, row.amountMinor, row.days])).toEqual([
    [invoice.number, 6375n, 51],
  ]);
  const shown = await seenBy(business.bookkeeper, invoice);
  expect([shown.openMinor, shown.disputedMinor, shown.overdue]).toEqual([6375n, 6375n, true]);
});

test('an upheld amount is owed again, with what answers it', async () => {
  const { account, invoice } = await shortPaid();
  const opened = must(await dispute(account.approver, invoice));
  const answer = { disputeId: opened.id, answer: 'upheld', creditNoteId: null, note: '' };
  expect(codeOf(await answerDispute(world.services, business.bookkeeper, answer))).toBe('invalid_input');
  const said = { ...answer, note: 'The approved version shows the line.' };
  const answered = must(await answerDispute(world.services, business.bookkeeper, said));
  expect([answered.answer?.answer, answered.answer?.note]).toEqual(['upheld', said.note]);
  expect(codeOf(await answerDispute(world.services, business.bookkeeper, said))).toBe('ok');
  const other = { ...said, note: 'Another answer.' };
  expect(codeOf(await answerDispute(world.services, business.bookkeeper, other))).toBe('already_decided');
  const shown = await seenBy(account.payer, invoice);
  expect([shown.openMinor, shown.disputedMinor]).toEqual([6375n, 0n]);
  expect(shown.disputes[0]?.answer?.note).toBe(said.note);
});

test('a credited dispute names the credit note on the same invoice', async () => {
  const { account, invoice } = await shortPaid();
  const opened = must(await dispute(account.payer, invoice));
  const note = await credited(business, invoice, {
    lines: [{ kind: 'dropped', lineId: lineOf(invoice, 'RI-1') }],
  });
  const answer = (creditNoteId: typeof note.id | null) =>
    answerDispute(world.services, business.bookkeeper, {
      disputeId: opened.id,
      answer: 'credited',
      creditNoteId,
      note: '',
    });
  expect(codeOf(await answer(null))).toBe('invalid_input');
  const elsewhere = await shortPaid();
  const foreign = await credited(business, elsewhere.invoice, { charges: [{ kind: 'trip' }] });
  expect(codeOf(await answer(foreign.id))).toBe('invalid_input');
  expect(must(await answer(note.id)).answer?.creditNoteNumber).toBe(note.number);
  expect(must(await checkLedger(world.services, business.tenantId)).faults).toEqual([]);
});

test('a credit note answers one dispute only, and none that was opened after it', async () => {
  const { account, invoice } = await shortPaid();
  world.at('2026-09-11T09:00');
  const note = await credited(business, invoice, { charges: [{ kind: 'trip' }], apply: false });
  const opened = async (on: string) =>
    must(await dispute(business.bookkeeper, invoice, { lineId: null, amount: '1.00', on })).id;
  const [first, second] = [await opened('2026-09-11'), await opened('2026-09-11')];
  world.at('2026-09-12T09:00');
  const late = must(await dispute(account.payer, invoice, { lineId: null, amount: '1.00' })).id;
  const answer = (disputeId: DisputeId) =>
    answerDispute(world.services, business.bookkeeper, {
      disputeId,
      answer: 'credited',
      creditNoteId: note.id,
      note: '',
    });
  expect(codeOf(await answer(late))).toBe('invalid_input');
  must(await answer(first));
  must(await answer(first));
  expect(codeOf(await answer(second))).toBe('invalid_input');
});

test('of one invoice contacts have 20 disputes waiting at most, and staff note more', async () => {
  const { account, invoice } = await shortPaid();
  const small = { lineId: null, amount: '0.01' };
  for (let count = 0; count < 20; count += 1) must(await dispute(account.payer, invoice, small));
  expect(codeOf(await dispute(account.approver, invoice, small))).toBe('wrong_state');
  expect(codeOf(await dispute(business.bookkeeper, invoice, small))).toBe('ok');
});

test('never more is disputed than is open, also when eight people do it at once', async () => {
  const { account, invoice } = await shortPaid();
  expect(codeOf(await dispute(account.payer, invoice, { amount: '63.76' }))).toBe('over_payment');
  expect(codeOf(await dispute(account.payer, invoice, { amount: '0.00' }))).toBe('invalid_money');
  const results = await Promise.all(
    Array.from({ length: 8 }, (_, index) =>
      dispute(index % 2 === 0 ? account.payer : business.bookkeeper, invoice, { amount: '20.00' }),
    ),
  );
  expect(results.map(codeOf).filter((code) => code === 'ok')).toHaveLength(3);
  expect((await seenBy(account.payer, invoice)).disputedMinor).toBe(6000n);
});

test('what is paid after all is no longer in dispute, whatever was said', async () => {
  const { account, invoice } = await shortPaid();
  must(await dispute(account.payer, invoice));
  must(
    await billingDesk(business).pay({
      account,
      amount: '50.00',
      on: '2026-09-10',
      for: [[invoice, '50.00']],
    }),
  );
  const shown = await seenBy(account.payer, invoice);
  expect([shown.openMinor, shown.disputedMinor]).toEqual([1375n, 1375n]);
});

test('a contact disputes the own account’s invoices only, in words of their own, and a viewer none', async () => {
  const { account, invoice } = await shortPaid();
  expect(codeOf(await dispute(account.viewer, invoice))).toBe('not_allowed');
  const other = await anAccount(business);
  expect(codeOf(await dispute(other.payer, invoice))).toBe('not_found');
  expect(codeOf(await dispute(account.payer, invoice, { reason: 'discount_taken' }))).toBe('invalid_input');
  const foreign = await shortPaid();
  const lineId = lineOf(foreign.invoice, 'RI-1');
  expect(codeOf(await dispute(account.payer, invoice, { lineId }))).toBe('invalid_input');
  const opened = must(await dispute(account.payer, invoice, { on: '2026-08-20' }));
  expect([opened.byContact, opened.openedOn]).toEqual([true, '2026-09-10']);
  expect(codeOf(await readDispute(world.services, other.payer, opened.id))).toBe('not_found');
  const said = { disputeId: opened.id, answer: 'upheld', creditNoteId: null, note: 'no' };
  expect(codeOf(await answerDispute(world.services, account.payer, said))).toBe('not_allowed');
});

test('the same id with the same content is the same dispute, with other content it is refused', async () => {
  const { account, invoice } = await shortPaid();
  const disputeId = world.newId<DisputeId>();
  const first = must(await dispute(account.payer, invoice, { disputeId }));
  expect(must(await dispute(account.payer, invoice, { disputeId }))).toEqual(first);
  expect(codeOf(await dispute(account.payer, invoice, { disputeId, amount: '1.00' }))).toBe('id_reused');
});

test('the database lets a contact write disputes of the own account only, as a contact, and no answers', async () => {
  const { account, invoice } = await shortPaid();
  const other = await anAccount(business);
  const row = (accountId: string, byContact: boolean, person: Actor) => ({
    tenant_id: business.tenantId,
    id: world.newId(),
    account_id: accountId,
    invoice_id: invoice.id,
    amount_minor: 100,
    reason: 'disputed',
    opened_on: '2026-09-10',
    by_contact: byContact,
    opened_by: person.personId,
    opened_at: '2026-09-10T14:00:00Z',
  });
  const asAccount = (accountId: string, work: (sql: TransactionSql) => Promise<unknown>) =>
    admin.begin(async (sql) => {
      await sql`set local role grainwright_account`;
      await sql`select set_config('app.tenant_id', ${business.tenantId}, true),
        set_config('app.account_id', ${accountId}, true)`;
      await work(sql);
    });
  const write = (as: string, accountId: string, byContact: boolean, person: Actor = account.payer) =>
    asAccount(as, (sql) => sql`insert into disputes ${sql(row(accountId, byContact, person))}`);
  await expect(write(other.id, account.id, true)).rejects.toThrow('row-level security');
  await expect(write(account.id, account.id, false)).rejects.toThrow('row-level security');
  for (const person of [account.viewer, other.payer, business.bookkeeper])
    await expect(write(account.id, account.id, true, person)).rejects.toThrow('row-level security');
  await expect(write(account.id, account.id, true)).resolves.toBeUndefined();
  const answer = asAccount(
    account.id,
    (sql) => sql`insert into dispute_answers (tenant_id) values (${business.tenantId})`,
  );
  await expect(answer).rejects.toThrow('permission denied');
});
