import { type LockedInvoice, listDocumentsToPay, lockBalancesOfInvoices } from '@grainwright/db';
import {
  type AccountId,
  type ApplicationId,
  type Day,
  type InvoiceId,
  type JournalEntry,
  lesserMinor,
  ok,
  type Result,
  toId,
} from '@grainwright/domain';
import type { Scope } from '../perform.ts';
import { applyToInvoices, type MoneyToApply, type WantedPart } from './apply-to-invoices.ts';

/** Documents under lock: what was asked for by name, and what the account has open, oldest due first. */
export interface LockedToPay {
  readonly named: readonly LockedInvoice[];
  readonly oldestFirst: readonly LockedInvoice[];
}

/**
 * Locks what a payment may settle in one go: locks taken one after the other would wait in circles. `accountId` is whose
 * open documents are settled oldest first; null: nobody's.
 */
export async function lockToPay(
  { tx }: Scope,
  accountId: AccountId | null,
  named: readonly InvoiceId[],
): Promise<LockedToPay> {
  const accountIds = accountId === null ? [] : [accountId];
  const listed = await listDocumentsToPay(tx, { accountIds, past: null, limit: documentsMax });
  const oldest = listed.map((document) => document.id);
  const locked = await lockBalancesOfInvoices(tx, [...new Set([...named, ...oldest])]);
  const of = (ids: readonly InvoiceId[]) =>
    ids.flatMap((id) => locked.find((invoice) => invoice.id === id) ?? []);
  return { named: of([...new Set(named)]), oldestFirst: of(oldest) };
}

const documentsMax = 500;

/**
 * Applies what is left of a payment to `documents`, locked and in the order they are to be settled; for accounts that
 * ask for it. What is younger than the money is settled on its own day. Answers the entries to post.
 */
export async function applyOldestFirst(
  scope: Scope,
  payment: MoneyToApply,
  amountMinor: bigint,
  documents: readonly LockedInvoice[],
): Promise<Result<readonly JournalEntry[]>> {
  const parts: WantedPart[] = [];
  let leftMinor = amountMinor;
  for (const invoice of documents) {
    if (invoice.openMinor === 0n) continue;
    if (leftMinor === 0n) break;
    const takenMinor = lesserMinor(leftMinor, invoice.openMinor);
    leftMinor -= takenMinor;
    parts.push({
      id: toId<ApplicationId>(scope.newId()),
      invoice,
      amountMinor: takenMinor,
      field: 'amount',
    });
  }
  const entries: JournalEntry[] = [];
  const byDay = Map.groupBy(parts, ({ invoice }) => laterOf(payment.receivedOn, invoice.issuedOn));
  for (const [on, ofDay] of byDay) {
    const entry = await applyToInvoices(scope, payment, ofDay, on, true);
    if (!entry.ok) return entry;
    entries.push(entry.value);
  }
  return ok(entries);
}

function laterOf(a: Day, b: Day): Day {
  return a < b ? b : a;
}
