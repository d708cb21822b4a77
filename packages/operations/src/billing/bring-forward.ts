import {
  type AccountRow,
  findAccount,
  findOpening,
  findPayment,
  insertOpenDocument,
  insertOpening,
  insertPayment,
  listOpeningDocuments,
  lockNumbers,
  type OpeningRow,
  takeNumber,
} from '@grainwright/db';
import {
  type AccountId,
  type Day,
  dayWords,
  type InvoiceId,
  type OpeningId,
  ok,
  openingBalance,
  type PaymentId,
  parseDay,
  parseMoney,
  type Result,
  refuse,
  toId,
} from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { type Actor, performAsStaff, record, type Scope } from '../perform.ts';
import { readWords } from '../read-input.ts';
import type { Services } from '../services.ts';
import { toStoredJson } from '../stored-json.ts';
import { type OpeningView, openingViewOf } from './opening-view.ts';
import { postEntries } from './post-entries.ts';
import { readAmount, readMoneyDay } from './receipt-input.ts';

export interface BringForwardInput {
  /** Made by the client: the same id with the same content again is the same. */
  readonly openingId: OpeningId;
  readonly accountId: AccountId;
  /** The day the books were taken over. */
  readonly broughtOn: string;
  /** What was open then, document by document, with the numbers and days of the older books. */
  readonly items: readonly {
    readonly number: string;
    readonly issuedOn: string;
    readonly dueOn: string;
    readonly amount: string;
  }[];
  /** Credit that the account had; empty or 0: none. */
  readonly credit: string;
}

/**
 * Takes over from older books what an account owed and had in credit: each open document ages from its own due date and
 * is paid like an invoice. Refuses with `duplicate` a number that is there already, `dates_out_of_order`, `id_reused`.
 */
export function bringForward(
  services: Services,
  actor: Actor,
  input: BringForwardInput,
): Promise<Result<OpeningView>> {
  return performAsStaff(services, actor, 'record_payment', async (scope) => {
    const account = await findAccount(scope.tx, input.accountId);
    if (account === null) return refuse('not_found', 'There is no such account.', 'account_id');
    const wanted = readOpening(scope, input);
    if (!wanted.ok) return wanted;
    // Of two senders of one id the second finds here what the first wrote.
    await lockNumbers(scope.tx, 'opening');
    const before = await findOpening(scope.tx, input.openingId);
    if (before !== null) return broughtBefore(scope, before, account, wanted.value);
    return write(scope, account, input.openingId, wanted.value);
  });
}

interface WantedItem {
  readonly number: string;
  readonly issuedOn: Day;
  readonly dueOn: Day;
  readonly amountMinor: bigint;
}

interface WantedOpening {
  readonly broughtOn: Day;
  readonly creditMinor: bigint;
  readonly items: readonly WantedItem[];
}

function readOpening(scope: Scope, input: BringForwardInput): Result<WantedOpening> {
  const { currency } = scope.business;
  const read = everyResult({
    broughtOn: readMoneyDay(scope, input.broughtOn, 'brought_on'),
    creditMinor:
      input.credit.trim() === '' ? ok(0n) : parseMoney(input.credit, { currency, field: 'credit' }),
  });
  if (!read.ok) return read;
  const items: WantedItem[] = [];
  for (const [index, item] of input.items.entries()) {
    const one = readItem(item, `items.${index}`, read.value.broughtOn, currency);
    if (!one.ok) return one;
    items.push(one.value);
  }
  if (items.length === 0 && read.value.creditMinor === 0n)
    return refuse('invalid_input', 'Write what was open, or the credit that there was.', 'items');
  return ok({ ...read.value, items });
}

function readItem(
  item: BringForwardInput['items'][number],
  field: string,
  broughtOn: Day,
  currency: string,
): Result<WantedItem> {
  const read = everyResult({
    number: readWords(item.number, `${field}.number`, 'the document’s number', 40),
    issuedOn: parseDay(item.issuedOn.trim(), `${field}.issued_on`),
    dueOn: parseDay(item.dueOn.trim(), `${field}.due_on`),
    amountMinor: readAmount(item.amount, currency, `${field}.amount`),
  });
  if (!read.ok) return read;
  const { issuedOn, dueOn } = read.value;
  if (issuedOn > broughtOn)
    return refuse(
      'dates_out_of_order',
      `The books were taken over on ${dayWords(broughtOn)}; what was open then is not younger.`,
      `${field}.issued_on`,
    );
  if (dueOn < issuedOn)
    return refuse('dates_out_of_order', 'It can’t be due before it was issued.', `${field}.due_on`);
  return read;
}

async function broughtBefore(
  scope: Scope,
  found: OpeningRow,
  account: AccountRow,
  wanted: WantedOpening,
): Promise<Result<OpeningView>> {
  const documents = await listOpeningDocuments(scope.tx, found.id);
  const credit = found.paymentId === null ? null : await findPayment(scope.tx, found.paymentId);
  const stored = documents.map(
    ({ number, issuedOn, dueOn, totalMinor }) => `${number} ${issuedOn} ${dueOn} ${totalMinor}`,
  );
  const given = wanted.items.map(
    ({ number, issuedOn, dueOn, amountMinor }) => `${number} ${issuedOn} ${dueOn} ${amountMinor}`,
  );
  const same =
    found.accountId === account.id &&
    found.broughtOn === wanted.broughtOn &&
    (credit?.amountMinor ?? 0n) === wanted.creditMinor &&
    stored.join('\n') === given.join('\n');
  if (same) return ok(await openingViewOf(scope, found));
  return refuse('id_reused', 'That id is another opening balance already.', 'id');
}

async function write(
  scope: Scope,
  account: AccountRow,
  id: OpeningId,
  { broughtOn, creditMinor, items }: WantedOpening,
): Promise<Result<OpeningView>> {
  const { tx, actor, now } = scope;
  const invoiceIds: InvoiceId[] = [];
  for (const [index, item] of items.entries()) {
    const written = await writeDocument(scope, account, item, `items.${index}.number`);
    if (!written.ok) return written;
    invoiceIds.push(written.value);
  }
  const paymentId = creditMinor === 0n ? null : await writeCredit(scope, account, broughtOn, creditMinor);
  const opening = {
    id,
    accountId: account.id,
    broughtOn,
    paymentId,
    recordedBy: actor.personId,
    recordedAt: now,
  };
  const rows = invoiceIds.map((invoiceId) => ({ openingId: id, accountId: account.id, invoiceId }));
  if (!(await insertOpening(tx, opening, rows)))
    return refuse('id_reused', 'That id is another opening balance already.', 'id');
  await record(
    scope,
    'balance_brought_forward',
    { kind: 'account', id: account.id },
    { documents: items.length },
  );
  const entry = openingBalance({
    party: account.id,
    on: broughtOn,
    items: items.map(({ amountMinor }, index) => ({ invoiceId: idAt(invoiceIds, index), amountMinor })),
    accountCreditMinor: creditMinor,
    ...(paymentId === null ? {} : { paymentId }),
  });
  const posted = await postEntries(scope, [entry], 'brought_on');
  return posted.ok ? ok(await openingViewOf(scope, opening)) : posted;
}

function idAt(ids: readonly InvoiceId[], index: number): InvoiceId {
  const id = ids[index];
  if (id === undefined) throw new Error('a document was not written');
  return id;
}

async function writeDocument(
  scope: Scope,
  account: AccountRow,
  { number, issuedOn, dueOn, amountMinor }: WantedItem,
  field: string,
): Promise<Result<InvoiceId>> {
  const { tx, business, actor, now } = scope;
  const id = toId<InvoiceId>(scope.newId());
  const { name, address, phone, email } = business;
  const inserted = await insertOpenDocument(tx, {
    id,
    sequence: await takeNumber(tx, 'opening'),
    number,
    accountId: account.id,
    issuedOn,
    dueOn,
    currency: business.currency,
    seller: toStoredJson({ name, address, phone, email }),
    buyer: toStoredJson({ name: account.name, address: account.billingAddress, phone: '', email: '' }),
    netMinor: amountMinor,
    taxMinor: 0n,
    totalMinor: amountMinor,
    issuedBy: actor.personId,
    issuedAt: now,
    kind: 'opening_balance',
    subject: 'Open balance from earlier books',
  });
  if (inserted) return ok(id);
  return refuse('duplicate', `There is a document ${number} already. Write the number another way.`, field);
}

async function writeCredit(
  scope: Scope,
  account: AccountRow,
  on: Day,
  amountMinor: bigint,
): Promise<PaymentId> {
  const id = toId<PaymentId>(scope.newId());
  const inserted = await insertPayment(scope.tx, {
    id,
    accountId: account.id,
    method: 'brought_forward',
    reference: '',
    amountMinor,
    currency: scope.business.currency,
    receivedOn: on,
    recordedBy: scope.actor.personId,
    recordedAt: scope.now,
    purpose: 'payment',
    workOrderId: null,
  });
  if (!inserted) throw new Error('a new id is taken');
  return id;
}
