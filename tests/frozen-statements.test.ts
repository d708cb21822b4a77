import { createHash } from 'node:crypto';
import { canonicalJson, type DisputeId, type PaymentId } from '@grainwright/domain';
import {
  changeAccount,
  exportStatement,
  listStatements,
  openDispute,
  openStatementPdf,
  readFrozenStatement,
  readStatement,
  recordDeposit,
} from '@grainwright/operations';
import postgres, { type Sql } from 'postgres';
import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest';
import { billingDesk, codeOf, tailgate } from './support/billing-desk.ts';
import { acceptedWork } from './support/billing-world.ts';
import { statementDesk } from './support/statement-desk.ts';
import { aBusiness, anAccount, type Business, must, openWorld, type World } from './support/world.ts';

let world: World;
let business: Business;
let desk: ReturnType<typeof billingDesk>;
let statements: ReturnType<typeof statementDesk>;
let admin: Sql;

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
  desk = billingDesk(business);
  statements = statementDesk(business);
  admin = postgres(world.adminUrl, { max: 1, onnotice: () => undefined });
});
beforeEach(() => world.at('2026-08-05T09:00'));
afterAll(async () => {
  await admin.end({ timeout: 5 });
});

const sha256 = (bytes: string | Uint8Array) => createHash('sha256').update(bytes).digest('hex');

// 284.90 is scenario (a) of the agreed demo figures; what a frozen statement does is common practice, no source.
test('a receipt that is dated back after the month was issued is told in the next one, and the issued one stays', async () => {
  const account = await anAccount(business);
  await desk.issued(account);
  world.at('2026-09-02T09:00');
  await statements.run('2026-08', [account]);
  must(await desk.pay({ account, amount: '100.00', on: '2026-08-28' }));
  const august = must(
    await readStatement(world.services, business.bookkeeper, { accountId: account.id, month: '2026-08' }),
  );
  expect(august).toMatchObject({ chargesMinor: 28490n, paymentsMinor: 0n, closingMinor: 28490n });
  expect(august.frozen).not.toBeNull();
  const running = await desk.statement(account, '2026-09');
  expect(running).toMatchObject({
    openingMinor: 28490n,
    paymentsMinor: 10000n,
    closingMinor: 18490n,
    frozen: null,
  });
  world.at('2026-10-01T09:00');
  await statements.run('2026-09', [account]);
  const september = must(await statements.frozen(account, '2026-09')).view;
  expect(september).toMatchObject({ openingMinor: 28490n, paymentsMinor: 10000n, closingMinor: 18490n });
  expect(september.rows.map((row) => [row.on, row.words, row.amountMinor])).toEqual([
    ['2026-08-28', 'Payment by check', -10000n],
  ]);
  const list = must(await listStatements(world.services, account.payer, account.id));
  expect(
    list.months.map(({ month, openingMinor, closingMinor, issuedAt }) => [
      month,
      openingMinor,
      closingMinor,
      issuedAt !== null,
    ]),
  ).toEqual([
    ['2026-10', 18490n, 18490n, false],
    ['2026-09', 28490n, 18490n, true],
    ['2026-08', 0n, 28490n, true],
  ]);
  expect(await desk.faults()).toEqual([]);
});

test('an issued statement is the same bytes whenever it is read, whatever happens to the account and the business', async () => {
  const account = await anAccount(business, { name: 'Brackwater Glass & Screen' });
  await desk.issued(account);
  world.at('2026-09-01T09:00');
  await statements.run('2026-08', [account]);
  const asked = { accountId: account.id, month: '2026-08' };
  const bytes = async () => {
    const { content, view } = must(await statements.frozen(account, '2026-08'));
    const csv = must(await exportStatement(world.services, account.payer, asked));
    const pdf = must(await openStatementPdf(world.services, account.payer, asked));
    expect(view.frozen?.digest).toBe(sha256(content));
    expect(canonicalJson(JSON.parse(content))).toBe(content);
    return { content, csv: csv.text, pdf: sha256(pdf.body), type: pdf.mediaType };
  };
  const first = await bytes();
  expect(first.type).toBe('application/pdf');
  must(
    await changeAccount(world.services, business.owner, {
      id: account.id,
      name: 'Brackwater Renamed',
      statementKind: 'balance_forward',
    }),
  );
  must(await desk.pay({ account, amount: '284.90', on: '2026-08-30' }));
  await statements.run('2026-08', [account]);
  world.at('2027-03-01T09:00');
  expect(await bytes()).toEqual(first);
});

test('what is disputed, not applied or held as a deposit is told apart on the statement, with the customer’s own numbers', async () => {
  const account = await anAccount(business);
  const work = await acceptedWork(account, { codes: tailgate, roNumber: '48102' });
  const invoice = must(await desk.issue([work]));
  const disputed = { disputeId: world.newId<DisputeId>(), invoiceId: invoice.id, lineId: null };
  const why = { amount: '63.75', reason: 'disputed', note: 'not agreed', on: null };
  must(await openDispute(world.services, business.bookkeeper, { ...disputed, ...why }));
  const deposit = { paymentId: world.newId<PaymentId>(), accountId: account.id, workOrderId: null };
  const received = { method: 'check', amount: '200.00', receivedOn: '2026-08-05', reference: '7' };
  must(await recordDeposit(world.services, business.bookkeeper, { ...deposit, ...received }));
  must(await desk.pay({ account, amount: '20.00', on: '2026-08-05' }));
  world.at('2026-09-01T09:00');
  await statements.run('2026-08', [account]);
  const { view } = must(await statements.frozen(account, '2026-08'));
  // The deposit is no part of the balance: 284.90 − 20.00.
  expect(view).toMatchObject({ closingMinor: 26490n, depositsHeldMinor: 20000n });
  expect(view.aging.unappliedMinor).toBe(-2000n);
  expect(view.aging.items).toMatchObject([
    {
      amountMinor: 28490n,
      settledMinor: 0n,
      openMinor: 28490n,
      disputedMinor: 6375n,
      theirNumbers: 'RO 48102',
    },
  ]);
  expect(view.rows[0]?.theirNumbers).toBe('RO 48102');
  const csv = must(
    await exportStatement(world.services, account.payer, { accountId: account.id, month: '2026-08' }),
  );
  const lines = csv.text.split('\r\n');
  expect(lines.find((line) => line.includes(',open_item,'))).toContain('RO 48102,63.75,284.90,USD');
  expect(lines.find((line) => line.includes(',deposits_held,'))).toContain(',200.00,USD');
});

test('a month with nothing to tell between two that were issued stands between them with the same balance', async () => {
  const account = await anAccount(business);
  await desk.issued(account);
  world.at('2026-11-02T09:00');
  await statements.run('2026-08', [account]);
  must(await desk.pay({ account, amount: '84.90', on: '2026-10-05' }));
  await statements.run('2026-10', [account]);
  must(await desk.pay({ account, amount: '50.00', on: '2026-09-20' }));
  const list = must(await listStatements(world.services, business.owner, account.id));
  expect(
    list.months.map(({ month, openingMinor, paymentsMinor, closingMinor }) => [
      month,
      openingMinor,
      paymentsMinor,
      closingMinor,
    ]),
  ).toEqual([
    ['2026-11', 20000n, 5000n, 15000n],
    ['2026-10', 28490n, 8490n, 20000n],
    ['2026-09', 28490n, 0n, 28490n],
    ['2026-08', 0n, 0n, 28490n],
  ]);
  const september = await desk.statement(account, '2026-09');
  expect(september).toMatchObject({
    openingMinor: 28490n,
    paymentsMinor: 0n,
    closingMinor: 28490n,
    frozen: null,
  });
  expect(await desk.statement(account, '2026-11')).toMatchObject({
    openingMinor: 20000n,
    closingMinor: 15000n,
  });
  expect(await desk.faults()).toEqual([]);
});

test('the database lets nobody change a statement or its digest, and the check of the books finds who got round it', async () => {
  const own = await aBusiness(world);
  const account = await anAccount(own);
  must(await billingDesk(own).pay({ account, amount: '40.00', on: '2026-08-05' }));
  world.at('2026-09-01T09:00');
  await statementDesk(own).run('2026-08', [account]);
  for (const change of ["content = '{}'", 'closing_minor = 1', "month = '2026-07-01'"])
    await expect(
      admin.unsafe(`update statements set ${change} where account_id = '${account.id}'`),
      change,
    ).rejects.toThrow('append-only');
  await expect(admin`delete from statements where account_id = ${account.id}`).rejects.toThrow('append-only');
  const tampered = async (change: string) =>
    admin.begin(async (sql) => {
      await sql`alter table statements disable trigger append_only`;
      await sql.unsafe(`update statements set ${change} where account_id = '${account.id}'`);
      await sql`alter table statements enable trigger append_only`;
    });
  await expect(tampered("content = replace(content, '4000', '9000')")).rejects.toThrow('check constraint');
  const other = "replace(content, '-4000', '-9000')";
  await tampered(`content = ${other}, sha256 = encode(sha256(convert_to(${other}, 'UTF8')), 'hex')`);
  expect(await billingDesk(own).faults()).toEqual([
    'Brackwater Glass & Screen, the statement of 2026-08: its figures are not those of its content',
  ]);
  await tampered('payments_minor = 9000, closing_minor = -9000');
  expect(await billingDesk(own).faults()).toContain(
    'Brackwater Glass & Screen, the statement of 2026-08: the ledger comes to other figures at posting 1',
  );
});

test('a contact has the own account’s statements in every form, and no other account’s or business’s', async () => {
  const account = await anAccount(business);
  const stranger = await anAccount(business);
  const elsewhere = await aBusiness(world);
  await desk.issued(account);
  world.at('2026-09-01T09:00');
  await statements.run('2026-08', [account]);
  const asked = { accountId: account.id, month: '2026-08' };
  for (const reader of [account.viewer, account.payer, business.office])
    expect(must(await readFrozenStatement(world.services, reader, asked)).view.closingMinor).toBe(28490n);
  for (const reader of [stranger.payer, elsewhere.owner])
    for (const read of [readStatement, readFrozenStatement, exportStatement, openStatementPdf])
      expect(codeOf(await read(world.services, reader, asked))).toBe('not_found');
  expect(codeOf(await readStatement(world.services, business.technician, asked))).toBe('not_allowed');
});
