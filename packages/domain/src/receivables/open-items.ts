import type { Day } from '../dates.ts';
import type { AccountId, InvoiceId } from '../ids.ts';
import type { JournalEntry, JournalEvent, JournalLine } from '../ledger/journal.ts';
import type { CreditMovement, OpenItemFacts, Settlement } from './aging.ts';

/** What a document says of itself; credit notes are due on the day they are issued. */
export interface DocumentFacts {
  readonly number: string;
  readonly issuedOn: Day;
  readonly dueOn: Day;
}

export type Documents = ReadonlyMap<InvoiceId, DocumentFacts>;

/**
 * An account's documents with what was charged on them and what has settled them, drawn from its receivables
 * lines in the journal. Settled ones are among them: which are open depends on the day. Throws when a
 * document of the journal is not among `documents`.
 */
export function openItemsOf(
  entries: readonly JournalEntry[],
  party: AccountId,
  documents: Documents,
): readonly OpenItemFacts[] {
  const movements = entries.flatMap((entry) => receivableMovements(entry, party));
  const byInvoice = Map.groupBy(movements, (movement) => movement.invoiceId);
  return [...byInvoice].map(([invoiceId, moved]) => openItem(invoiceId, moved, documents));
}

/** The movements of an account's credit, drawn from its account credit lines in the journal. */
export function creditMovementsOf(
  entries: readonly JournalEntry[],
  party: AccountId,
): readonly CreditMovement[] {
  return entries.flatMap((entry) =>
    entry.lines
      .filter((line) => line.account === 'account_credit' && line.partyId === party)
      .map((line) => ({ on: entry.occurredOn, amountMinor: -line.amountMinor })),
  );
}

const charging: ReadonlySet<JournalEvent> = new Set([
  'invoice_issued',
  'return_fee_charged',
  'late_charge_charged',
  'opening_balance',
]);

interface ReceivableMovement extends Settlement {
  readonly invoiceId: InvoiceId;
  readonly charges: boolean;
}

function receivableMovements(entry: JournalEntry, party: AccountId): ReceivableMovement[] {
  const charges = charging.has(entry.event);
  return entry.lines
    .filter((line) => line.account === 'receivables' && line.partyId === party)
    .map((line) => ({
      invoiceId: invoiceOf(line),
      charges,
      on: entry.occurredOn,
      amountMinor: charges ? line.amountMinor : -line.amountMinor,
    }));
}

function invoiceOf(line: JournalLine): InvoiceId {
  if (line.invoiceId === undefined) throw new Error('a line of receivables names no invoice');
  return line.invoiceId;
}

function openItem(
  invoiceId: InvoiceId,
  moved: readonly ReceivableMovement[],
  documents: Documents,
): OpenItemFacts {
  const document = documents.get(invoiceId);
  if (document === undefined) throw new Error(`the journal names a document that is not there: ${invoiceId}`);
  const [charge, another] = moved.filter((movement) => movement.charges);
  if (charge === undefined || another !== undefined)
    throw new Error(`${document.number} was not charged exactly once`);
  return {
    invoiceId,
    ...document,
    postedOn: charge.on,
    amountMinor: charge.amountMinor,
    settlements: moved
      .filter((movement) => !movement.charges)
      .map(({ on, amountMinor }) => ({ on, amountMinor })),
  };
}
