import {
  type AccountRow,
  findAccount,
  findPayment,
  insertPayment,
  listApplicationsOfPayments,
  lockInvoiceBalances,
  type PaymentRow,
} from '@grainwright/db';
import {
  type AccountId,
  type ApplicationId,
  type Day,
  formatMinor,
  type InvoiceId,
  type JournalEntry,
  ok,
  type PaymentId,
  parseDay,
  parseMoney,
  paymentReceived,
  type Result,
  refuse,
  toId,
} from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { type Actor, performAsStaff, record, type Scope } from '../perform.ts';
import { readOptionalWords } from '../read-input.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';
import { applyToInvoices, type WantedPart } from './apply-to-invoices.ts';
import { type PaymentMethod, type PaymentView, paymentMethods, paymentViewOf } from './payment-view.ts';
import { postEntries } from './post-entries.ts';

export interface RecordPaymentInput {
  /** Made by the client: the same id with the same content again is the same payment. */
  readonly paymentId: PaymentId;
  readonly accountId: AccountId;
  readonly method: string;
  readonly amount: string;
  readonly receivedOn: string;
  /** A check's number, the bank's or the processor's reference; may be empty. */
  readonly reference: string;
  /** What it settles at once; the rest stays account credit. Each invoice once. */
  readonly applications: readonly { readonly invoiceId: InvoiceId; readonly amount: string }[];
}

/**
 * Records money received from an account and, in the same transaction, what it settles. Refuses with
 * `invalid_money`, `dates_out_of_order`, `over_payment`, `id_reused`.
 */
export function recordPayment(
  services: Services,
  actor: Actor,
  input: RecordPaymentInput,
): Promise<Result<PaymentView>> {
  return performAsStaff(services, actor, 'record_payment', async (scope) => {
    const account = await findAccount(scope.tx, input.accountId);
    if (account === null) return refuse('not_found', 'There is no such account.', 'account_id');
    const wanted = wantedPayment(scope, account, input);
    if (!wanted.ok) return wanted;
    const { payment, parts } = wanted.value;
    if (!(await insertPayment(scope.tx, payment))) return recordedBefore(scope, wanted.value);
    const applied = await applyParts(scope, payment, parts);
    if (!applied.ok) return applied;
    const { id, amountMinor, currency, method } = payment;
    await record(
      scope,
      'payment_recorded',
      { kind: 'payment', id },
      { amount: formatMinor(amountMinor, currency), currency, method, applied_to: parts.length },
    );
    const posted = await postEntries(scope, [receivedEntry(payment), ...applied.value], 'received_on');
    if (!posted.ok) return posted;
    return ok(await paymentViewOf(scope, id));
  });
}

type NewPayment = Omit<PaymentRow, 'tenantId'>;
interface Part {
  readonly invoiceId: InvoiceId;
  readonly amountMinor: bigint;
  readonly field: string;
}
interface WantedPayment {
  readonly payment: NewPayment;
  readonly parts: readonly Part[];
}

function wantedPayment(scope: Scope, account: AccountRow, input: RecordPaymentInput): Result<WantedPayment> {
  const { currency } = scope.business;
  const read = everyResult({
    method: readMethod(input.method),
    amountMinor: readAmount(input.amount, currency, 'amount'),
    receivedOn: readReceivedOn(scope, account, input.receivedOn),
    reference: readOptionalWords(input.reference, 'reference', 'the reference', 80),
    parts: readParts(input, currency),
  });
  if (!read.ok) return read;
  const { parts, ...fields } = read.value;
  return ok({
    payment: {
      id: input.paymentId,
      accountId: account.id,
      currency,
      ...fields,
      purpose: 'payment',
      workOrderId: null,
      recordedBy: scope.actor.personId,
      recordedAt: scope.now,
    },
    parts,
  });
}

function readMethod(text: string): Result<PaymentMethod> {
  const known = Object.keys(paymentMethods).find((method): method is PaymentMethod => method === text);
  return known === undefined
    ? refuse('invalid_input', 'Say how it was paid: by check, card, ACH transfer or cash.', 'method')
    : ok(known);
}

function readAmount(text: string, currency: string, field: string): Result<bigint> {
  const amount = parseMoney(text, { currency, field });
  if (!amount.ok || amount.value > 0n) return amount;
  return refuse('invalid_money', 'Write an amount above zero.', field);
}

function readReceivedOn(scope: Scope, account: AccountRow, text: string): Result<Day> {
  const field = 'received_on';
  const received = parseDay(text.trim(), field);
  if (!received.ok) return received;
  if (received.value > scope.today)
    return refuse('dates_out_of_order', 'That day is still to come. Write the day the money came.', field);
  if (received.value < account.openedOn)
    return refuse(
      'dates_out_of_order',
      `The account was opened on ${account.openedOn}; money can't have come before.`,
      field,
    );
  return received;
}

function readParts(input: RecordPaymentInput, currency: string): Result<readonly Part[]> {
  const parts: Part[] = [];
  for (const [index, { invoiceId, amount }] of input.applications.entries()) {
    const field = `applications.${index}.amount`;
    const read = readAmount(amount, currency, field);
    if (!read.ok) return read;
    if (parts.some((part) => part.invoiceId === invoiceId))
      return refuse('invalid_input', 'Name each invoice once, with the whole amount for it.', field);
    parts.push({ invoiceId, amountMinor: read.value, field });
  }
  return ok(parts);
}

/** The payment that has this id already: the same one, or another. */
async function recordedBefore(scope: Scope, { payment, parts }: WantedPayment): Promise<Result<PaymentView>> {
  const found = await findPayment(scope.tx, payment.id);
  if (found === null) return refuse('id_reused', 'That id is another payment already.', 'id');
  const { accountId, method, reference, amountMinor, receivedOn } = payment;
  const applied = await listApplicationsOfPayments(scope.tx, [payment.id]);
  const atOnce = applied.filter((application) => application.appliedAt === found.recordedAt);
  const same =
    sameContent(found, { accountId, method, reference, amountMinor, receivedOn }) &&
    atOnce.length === parts.length &&
    parts.every((part) =>
      atOnce.some((each) => each.invoiceId === part.invoiceId && each.amountMinor === part.amountMinor),
    );
  if (same) return ok(await paymentViewOf(scope, payment.id));
  return refuse('id_reused', 'That id is another payment already, with other amounts or dates.', 'id');
}

async function applyParts(
  scope: Scope,
  payment: NewPayment,
  parts: readonly Part[],
): Promise<Result<readonly JournalEntry[]>> {
  if (parts.length === 0) return ok([]);
  const invoices = await lockInvoiceBalances(
    scope.tx,
    payment.accountId,
    parts.map((part) => part.invoiceId),
  );
  const wanted: WantedPart[] = [];
  for (const { invoiceId, amountMinor, field } of parts) {
    const invoice = invoices.find((each) => each.id === invoiceId);
    if (invoice === undefined) return refuse('not_found', 'The account has no such invoice.', field);
    wanted.push({ id: toId<ApplicationId>(scope.newId()), invoice, amountMinor, field });
  }
  const entry = await applyToInvoices(scope, payment, wanted, settledOn(payment, wanted));
  return entry.ok ? ok([entry.value]) : entry;
}

/** The payer said what it is for when it came: that is the day, or where an invoice is younger, the invoice's. */
function settledOn({ receivedOn }: NewPayment, parts: readonly WantedPart[]): Day {
  const days = [receivedOn, ...parts.map(({ invoice }) => invoice.issuedOn)];
  return days.toSorted().at(-1) ?? receivedOn;
}

function receivedEntry(payment: NewPayment): JournalEntry {
  return paymentReceived({
    party: payment.accountId,
    on: payment.receivedOn,
    paymentId: payment.id,
    amountMinor: payment.amountMinor,
    place: payment.method === 'card' ? 'clearing' : 'bank',
  });
}
