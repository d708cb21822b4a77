import {
  type Business,
  findLastSealDay,
  listCreditNoteNumbers,
  listNumbersOnInvoices,
  listPaymentFacts,
  type QuotedReplacement,
  type StatementAccount,
  sumDisputedOn,
  sumQuotedReplacements,
} from '@grainwright/db';
import {
  type AgedItem,
  type Aging,
  type CreditNoteId,
  type Day,
  firstDay,
  type Instant,
  type InvoiceId,
  type LastSealedDay,
  lastDay,
  type Month,
  type OpenItemFacts,
  openItemsOf,
  type Statement,
  type StatementId,
  type StatementRowKind,
} from '@grainwright/domain';
import type { PartySnapshot } from '../billing/invoice-document.ts';
import type { Scope } from '../perform.ts';
import { type AccountJournal, type StatementCut, statementOf } from './account-journal.ts';
import { type RowNames, rowDocument, rowWords } from './row-words.ts';

export type StatementKind = 'open_item' | 'balance_forward';

/**
 * All that an account's month shows. `openingMinor + chargesMinor − creditsMinor − paymentsMinor = closingMinor`;
 * amounts are minor units of `currency`.
 */
export interface StatementContent {
  readonly business: PartySnapshot;
  /** Where the business's logo is kept. */
  readonly logoKey: string | null;
  readonly pageSize: Business['pageSize'];
  /** What the business writes on its documents; may be empty. */
  readonly note: string;
  readonly account: Pick<StatementAccount, 'id' | 'name' | 'billingAddress'>;
  readonly kind: StatementKind;
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
  readonly aging: StatementAging;
  /** Deposits that wait for their invoice: no part of the balance. */
  readonly depositsHeldMinor: bigint;
  readonly replacement: QuotedReplacement;
  /** The newest sealed day by then; null while there was none. */
  readonly sealedDay: LastSealedDay | null;
}

/** A month as it was issued, or as it stands now. */
export interface StatementView extends StatementContent {
  /** Null while it was not issued. */
  readonly frozen: FrozenFacts | null;
}

export interface FrozenFacts {
  readonly statementId: StatementId;
  /** SHA-256 of its canonical JSON, in hexadecimal. */
  readonly digest: string;
  readonly issuedAt: Instant;
}

export interface StatementAging extends Omit<Aging, 'items'> {
  readonly items: readonly StatementItemView[];
}

export interface StatementItemView extends AgedItem {
  readonly amountMinor: bigint;
  /** Paid or credited so far. */
  readonly settledMinor: bigint;
  /** How much of what is open is disputed. */
  readonly disputedMinor: bigint;
  /** The customer's own numbers; may be empty. */
  readonly theirNumbers: string;
}

export interface StatementRowView {
  readonly on: Day;
  readonly posting: bigint;
  readonly kind: StatementRowKind;
  /** What it is: “Invoice”, “Payment by check”. */
  readonly words: string;
  /** Its number or reference; may be empty. */
  readonly document: string;
  /** The customer's own numbers; may be empty. */
  readonly theirNumbers: string;
  readonly invoiceId: InvoiceId | null;
  readonly creditNoteId: CreditNoteId | null;
  /** What it does to the balance: positive raises it. */
  readonly amountMinor: bigint;
}

export interface StatementAsked extends StatementCut {
  readonly journal: AccountJournal<StatementAccount>;
}

type ViewScope = Pick<Scope, 'tx' | 'business' | 'today'>;

/** Statements of one month, for any number of accounts, with a handful of queries for all of them. */
export async function statementContentsOf(
  scope: ViewScope,
  month: Month,
  asked: readonly StatementAsked[],
): Promise<readonly StatementContent[]> {
  if (asked.length === 0) return [];
  const built = asked.map((each) => ({ ...each, statement: statementOf(scope, each.journal, each) }));
  const facts = await factsOf(scope, month, built);
  return built.map((each) => contentOf(scope, each, facts));
}

interface Built extends StatementAsked {
  readonly statement: Statement;
}

interface Facts extends RowNames {
  readonly numbers: ReadonlyMap<InvoiceId, readonly string[]>;
  readonly disputed: ReadonlyMap<InvoiceId, bigint>;
  readonly replacements: Awaited<ReturnType<typeof sumQuotedReplacements>>;
  readonly sealedDay: LastSealedDay | null;
}

async function factsOf({ tx }: ViewScope, month: Month, built: readonly Built[]): Promise<Facts> {
  const rows = built.flatMap(({ statement }) => statement.rows);
  const items = built.flatMap(({ statement }) => statement.aging.items);
  const openIds = items.map((item) => item.invoiceId);
  const accountIds = built.map(({ journal }) => journal.account.id);
  const payments = await listPaymentFacts(
    tx,
    rows.flatMap((row) => row.paymentIds),
  );
  const creditNotes = await listCreditNoteNumbers(
    tx,
    rows.flatMap((row) => row.creditNoteIds),
  );
  return {
    documents: built[0]?.journal.documents ?? new Map(),
    payments: new Map(payments.map((each) => [each.id, each])),
    creditNotes: new Map(creditNotes.map((each) => [each.id, each.number])),
    numbers: await listNumbersOnInvoices(tx, [...openIds, ...rows.flatMap((row) => row.invoiceIds)]),
    disputed: await sumDisputedOn(tx, openIds, built[0]?.statement.aging.asOf ?? lastDay(month)),
    replacements: await sumQuotedReplacements(tx, accountIds, firstDay(month), lastDay(month)),
    sealedDay: await lastSealedDay(tx),
  };
}

/** As it is printed. */
async function lastSealedDay(tx: ViewScope['tx']): Promise<LastSealedDay | null> {
  const last = await findLastSealDay(tx);
  return last === null ? null : { day: last.day, root: last.root, sha256: last.sha256 };
}

function contentOf({ business }: ViewScope, built: Built, facts: Facts): StatementContent {
  const { journal, month, statement } = built;
  const { id, name, billingAddress, statementKind } = journal.account;
  return {
    business: {
      name: business.name,
      address: business.address,
      phone: business.phone,
      email: business.email,
    },
    logoKey: business.logoKey,
    pageSize: business.pageSize,
    note: business.documentNote,
    account: { id, name, billingAddress },
    kind: statementKind === 'balance_forward' ? 'balance_forward' : 'open_item',
    currency: business.currency,
    month,
    from: firstDay(month),
    to: statement.aging.asOf,
    posting: statement.throughSequence,
    openingMinor: statement.openingMinor,
    rows: statement.rows.map((row) => ({
      on: row.on,
      posting: row.sequence,
      kind: row.kind,
      words: rowWords(row, facts),
      document: rowDocument(row, facts),
      theirNumbers: numberList(row.invoiceIds.flatMap((each) => facts.numbers.get(each) ?? [])),
      invoiceId: row.invoiceIds[0] ?? null,
      creditNoteId: row.creditNoteIds[0] ?? null,
      amountMinor: row.amountMinor,
    })),
    chargesMinor: statement.chargesMinor,
    creditsMinor: statement.creditsMinor,
    paymentsMinor: statement.paymentsMinor,
    closingMinor: statement.closingMinor,
    aging: { ...statement.aging, items: itemsOf(built, facts) },
    depositsHeldMinor: statement.depositsHeldMinor,
    replacement: facts.replacements.get(id) ?? { vehicles: 0, quotedMinor: 0n, repairsMinor: 0n },
    sealedDay: facts.sealedDay,
  };
}

function itemsOf({ journal, posting, statement }: Built, facts: Facts): readonly StatementItemView[] {
  const cut = journal.entries.filter((entry) => entry.sequence <= posting);
  const charged = new Map<InvoiceId, OpenItemFacts>(
    openItemsOf(cut, journal.account.id, journal.documents).map((each) => [each.invoiceId, each]),
  );
  return statement.aging.items.map((item) => {
    const amountMinor = charged.get(item.invoiceId)?.amountMinor ?? item.openMinor;
    const disputedMinor = facts.disputed.get(item.invoiceId) ?? 0n;
    return {
      ...item,
      amountMinor,
      settledMinor: amountMinor - item.openMinor,
      disputedMinor: disputedMinor < item.openMinor ? disputedMinor : item.openMinor,
      theirNumbers: numberList(facts.numbers.get(item.invoiceId) ?? []),
    };
  });
}

const numbersShownMax = 4;

/** Of an invoice of many vehicles the first few. */
function numberList(numbers: readonly string[]): string {
  const shown = numbers.slice(0, numbersShownMax).join('; ');
  const more = numbers.length - numbersShownMax;
  return more > 0 ? `${shown} and ${more} more` : shown;
}
