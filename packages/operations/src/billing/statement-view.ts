import {
  findQuotedReplacement,
  listAccountEntries,
  listDocumentFacts,
  listPaymentFacts,
  type QuotedReplacement,
  type StatementAccount,
} from '@grainwright/db';
import {
  type Aging,
  buildStatement,
  type Day,
  type Documents,
  firstDay,
  type InvoiceId,
  type JournalEvent,
  lastDay,
  type Month,
  type PostedEntry,
  type Statement,
  type StatementRow,
  type StatementRowKind,
} from '@grainwright/domain';
import type { Scope } from '../perform.ts';
import type { PartySnapshot } from './invoice-document.ts';
import { paymentMethods } from './payment-view.ts';

/**
 * An account's month. `openingMinor + chargesMinor − creditsMinor − paymentsMinor = closingMinor`; amounts are
 * minor units of `currency`.
 */
export interface StatementView {
  readonly business: PartySnapshot;
  readonly account: StatementAccount;
  readonly currency: string;
  readonly month: Month;
  readonly from: Day;
  /** The month's last day, or today while it runs. */
  readonly to: Day;
  /** The last posting that it takes account of. */
  readonly posting: bigint;
  readonly openingMinor: bigint;
  readonly rows: readonly StatementRowView[];
  readonly chargesMinor: bigint;
  readonly creditsMinor: bigint;
  readonly paymentsMinor: bigint;
  readonly closingMinor: bigint;
  /** As of `to`. */
  readonly aging: Aging;
  readonly replacement: QuotedReplacement;
}

export interface StatementRowView {
  readonly on: Day;
  readonly posting: bigint;
  readonly kind: StatementRowKind;
  /** What it is: “Invoice”, “Payment by check”. */
  readonly words: string;
  /** Its number or reference; may be empty. */
  readonly document: string;
  readonly invoiceId: InvoiceId | null;
  /** What it does to the balance: positive raises it. */
  readonly amountMinor: bigint;
}

/** What all statements of an account are built from. */
export interface AccountJournal {
  readonly account: StatementAccount;
  readonly entries: readonly PostedEntry[];
  readonly documents: Documents;
}

export async function readAccountJournal(
  { tx }: Pick<Scope, 'tx'>,
  account: StatementAccount,
): Promise<AccountJournal> {
  const entries = await listAccountEntries(tx, account.id);
  return { account, entries, documents: await listDocumentFacts(tx, account.id) };
}

/** The domain's statement of a month, of everything posted up to now. */
export function statementOf(
  { business, today }: Pick<Scope, 'business' | 'today'>,
  { account, entries, documents }: AccountJournal,
  month: Month,
): Statement {
  return buildStatement({
    party: account.id,
    month,
    throughSequence: entries.at(-1)?.sequence ?? 0n,
    previous: null,
    entries,
    documents,
    basis: business.agingBasis,
    asOf: toldUpTo(entries, month, today),
  });
}

/**
 * A month that still runs is told up to today: nothing is overdue on a day that has not come. What is posted counts
 * whatever day it bears, so a clock that was set back leaves nothing out.
 */
function toldUpTo(entries: readonly PostedEntry[], month: Month, today: Day): Day {
  const last = lastDay(month);
  if (today >= last) return last;
  const days = entries.map((entry) => entry.occurredOn).filter((on) => on <= last);
  return [today, ...days].toSorted().at(-1) ?? today;
}

export async function statementViewOf(
  scope: Scope,
  journal: AccountJournal,
  month: Month,
): Promise<StatementView> {
  const { tx, business } = scope;
  const statement = statementOf(scope, journal, month);
  const from = firstDay(month);
  const to = statement.aging.asOf;
  const { name, address, phone, email } = business;
  return {
    business: { name, address, phone, email },
    account: journal.account,
    currency: business.currency,
    month,
    from,
    to,
    posting: statement.throughSequence,
    openingMinor: statement.openingMinor,
    rows: await rowViews(scope, statement, journal.documents),
    chargesMinor: statement.chargesMinor,
    creditsMinor: statement.creditsMinor,
    paymentsMinor: statement.paymentsMinor,
    closingMinor: statement.closingMinor,
    aging: statement.aging,
    replacement: await findQuotedReplacement(tx, journal.account.id, from, to),
  };
}

async function rowViews(
  { tx }: Scope,
  statement: Statement,
  documents: Documents,
): Promise<readonly StatementRowView[]> {
  const paymentIds = statement.rows.flatMap((row) => row.paymentIds);
  const payments = new Map((await listPaymentFacts(tx, paymentIds)).map((each) => [each.id, each]));
  return statement.rows.map((row) => {
    const invoiceId = row.invoiceIds[0] ?? null;
    const payment = row.paymentIds.map((id) => payments.get(id)).find((each) => each !== undefined);
    const document = invoiceId === null ? payment?.reference : documents.get(invoiceId)?.number;
    const by = payment === undefined ? '' : ` by ${paymentMethods[payment.method]}`;
    return {
      on: row.on,
      posting: row.sequence,
      kind: row.kind,
      words: `${eventWords(row)}${by}`,
      document: document ?? '',
      invoiceId,
      amountMinor: row.amountMinor,
    };
  });
}

const eventNames: Readonly<Partial<Record<JournalEvent, string>>> = {
  invoice_issued: 'Invoice',
  payment_received: 'Payment',
};

function eventWords(row: StatementRow): string {
  const plain = row.event.replaceAll('_', ' ');
  return eventNames[row.event] ?? `${plain.charAt(0).toUpperCase()}${plain.slice(1)}`;
}
