import { listDocumentsToPay, lockInvoiceBalances } from '@grainwright/db';
import {
  type ApplicationId,
  type Day,
  type JournalEntry,
  lesserMinor,
  ok,
  type Result,
  toId,
} from '@grainwright/domain';
import type { Scope } from '../perform.ts';
import { applyToInvoices, type MoneyToApply, type WantedPart } from './apply-to-invoices.ts';

export const documentsMax = 500;

/**
 * Applies what is left of a payment to what its account has open, oldest due first; for accounts that ask for it. What
 * is younger than the money is settled on its own day. Answers the entries to post.
 */
export async function applyOldestFirst(
  scope: Scope,
  payment: MoneyToApply,
  amountMinor: bigint,
): Promise<Result<readonly JournalEntry[]>> {
  const { tx } = scope;
  const listed = await listDocumentsToPay(tx, {
    accountIds: [payment.accountId],
    past: null,
    limit: documentsMax,
  });
  const ids = listed.map((document) => document.id);
  const locked = await lockInvoiceBalances(tx, payment.accountId, ids);
  const parts: WantedPart[] = [];
  let leftMinor = amountMinor;
  for (const { id } of listed) {
    const invoice = locked.find((each) => each.id === id);
    if (invoice === undefined || invoice.openMinor === 0n) continue;
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
