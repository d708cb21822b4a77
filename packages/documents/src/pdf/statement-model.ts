import type { Aging, Day, LastSealedDay, Month } from '@grainwright/domain';
import type { DocumentParty, DocumentSeller } from './letterhead.ts';
import type { PageSize } from './sheet.ts';

/** A statement as it is printed. Amounts are minor units of `currency`. */
export interface StatementModel {
  readonly size: PageSize;
  readonly seller: DocumentSeller;
  readonly buyer: DocumentParty;
  /** Empty where statements bear no numbers. */
  readonly number: string;
  readonly month: Month;
  readonly from: Day;
  readonly to: Day;
  readonly currency: string;
  /** `openingMinor + chargesMinor − creditsMinor − paymentsMinor = closingMinor`. */
  readonly openingMinor: bigint;
  readonly chargesMinor: bigint;
  readonly creditsMinor: bigint;
  readonly paymentsMinor: bigint;
  readonly closingMinor: bigint;
  readonly content: StatementContent;
  /** As of `to`; `unappliedMinor` is negative, as it is in the balance. */
  readonly aging: Pick<Aging, 'basis' | 'buckets' | 'unappliedMinor'>;
  /** Deposits that wait for their invoice: no part of the balance. */
  readonly depositsHeldMinor: bigint;
  /** What new parts were quoted at, and what the repairs came to; null where nothing was quoted. */
  readonly replacement: {
    readonly vehicles: number;
    readonly quotedMinor: bigint;
    readonly repairsMinor: bigint;
  } | null;
  /** What the business writes on its statements; may be empty and have several lines. */
  readonly note: string;
  /** The last posting that it takes account of. */
  readonly posting: bigint;
  /** SHA-256 in hexadecimal; null for a statement that is not frozen. */
  readonly digest: string | null;
  /** The newest day whose seals are under one root; null where none was closed yet, or the statement is not frozen. */
  readonly sealedDay: LastSealedDay | null;
  /** The service’s address, where packs are checked. */
  readonly publicUrl: string;
}

export type StatementContent =
  | { readonly kind: 'open_item'; readonly items: readonly StatementItem[] }
  | { readonly kind: 'balance_forward'; readonly entries: readonly StatementEntry[] };

/** A document that is open at the end of the statement. */
export interface StatementItem {
  readonly issuedOn: Day;
  readonly number: string;
  /** The customer’s own: “RO 4471, PO 88”. May be empty. */
  readonly theirNumbers: string;
  readonly dueOn: Day;
  /** Zero while it is not yet due. */
  readonly daysPastDue: number;
  readonly amountMinor: bigint;
  /** Paid or credited so far. */
  readonly settledMinor: bigint;
  readonly openMinor: bigint;
  /** How much of what is open is disputed; zero for nothing. */
  readonly disputedMinor: bigint;
}

/** What moved the balance. */
export interface StatementEntry {
  readonly on: Day;
  /** “Invoice”, “Payment by check”. */
  readonly words: string;
  /** Its number or reference; may be empty. */
  readonly document: string;
  /** The customer’s own numbers; may be empty. */
  readonly theirNumbers: string;
  /** Positive raises the balance. */
  readonly amountMinor: bigint;
}
