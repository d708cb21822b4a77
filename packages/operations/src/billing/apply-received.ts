import { type AccountRow, findAccount, type LockedInvoice } from '@grainwright/db';
import {
  type AccountId,
  type ApplicationId,
  type CreditMoveId,
  type Day,
  type InvoiceId,
  type JournalEntry,
  ok,
  type Result,
  refuse,
  sumMinor,
  toId,
} from '@grainwright/domain';
import type { Scope } from '../perform.ts';
import { applyOldestFirst, lockToPay } from './apply-oldest-first.ts';
import { applyToInvoices, type MoneyToApply, type WantedPart } from './apply-to-invoices.ts';
import { lockCreditHolder } from './credit-holder.ts';
import { moveTo } from './move-credit.ts';

/** An amount of a payment for one invoice. `field` is where a refusal belongs. */
export interface ReceivedPart {
  readonly invoiceId: InvoiceId;
  readonly amountMinor: bigint;
  readonly field: string;
}

type ReceivedPayment = MoneyToApply & { readonly amountMinor: bigint };

/**
 * Applies a payment just written to the invoices it is said to be for. What is for another account of the group is moved
 * there first. What is left over settles the oldest documents of an account that asks for it. Answers the entries to
 * post after the receipt's own. Refuses with `over_payment` and `not_found`.
 */
export async function applyReceived(
  scope: Scope,
  account: AccountRow,
  payment: ReceivedPayment,
  parts: readonly ReceivedPart[],
): Promise<Result<readonly JournalEntry[]>> {
  const named = parts.map((part) => part.invoiceId);
  const locked = await lockToPay(scope, account.appliesMoneyItself ? account.id : null, named);
  const wanted = await wantedParts(scope, account, locked.named, parts);
  if (!wanted.ok) return wanted;
  const entries: JournalEntry[] = [];
  const byAccount = Map.groupBy(wanted.value, ({ invoice }) => invoice.accountId);
  for (const [accountId, ofAccount] of byAccount) {
    const applied = await (accountId === account.id
      ? applyOwn(scope, payment, ofAccount)
      : applyElsewhere(scope, payment, accountId, ofAccount));
    if (!applied.ok) return applied;
    entries.push(...applied.value);
  }
  const leftMinor = payment.amountMinor - sumMinor(parts.map((part) => part.amountMinor));
  if (!account.appliesMoneyItself || leftMinor === 0n) return ok(entries);
  const rest = await applyOldestFirst(scope, payment, leftMinor, lessParts(locked.oldestFirst, wanted.value));
  return rest.ok ? ok([...entries, ...rest.value]) : rest;
}

/** What is open of locked documents once the parts are taken off. */
function lessParts(
  documents: readonly LockedInvoice[],
  parts: readonly WantedPart[],
): readonly LockedInvoice[] {
  return documents.map((document) => {
    const own = parts.filter(({ invoice }) => invoice.id === document.id);
    const settledMinor = sumMinor(own.map((part) => part.amountMinor));
    return { ...document, openMinor: document.openMinor - settledMinor };
  });
}

async function wantedParts(
  scope: Scope,
  account: AccountRow,
  invoices: readonly LockedInvoice[],
  parts: readonly ReceivedPart[],
): Promise<Result<readonly WantedPart[]>> {
  const group = new Set<AccountId>([account.id]);
  for (const { accountId } of invoices) {
    if (group.has(accountId) || account.groupId === null) continue;
    const other = await findAccount(scope.tx, accountId);
    if (other?.groupId === account.groupId) group.add(accountId);
  }
  const wanted: WantedPart[] = [];
  for (const { invoiceId, amountMinor, field } of parts) {
    const invoice = invoices.find((each) => each.id === invoiceId);
    if (invoice === undefined || !group.has(invoice.accountId))
      return refuse('not_found', 'The account has no such invoice.', field);
    wanted.push({ id: toId<ApplicationId>(scope.newId()), invoice, amountMinor, field });
  }
  return ok(wanted);
}

async function applyOwn(
  scope: Scope,
  payment: MoneyToApply,
  parts: readonly WantedPart[],
): Promise<Result<readonly JournalEntry[]>> {
  const entry = await applyToInvoices(scope, payment, parts, settledOn(payment, parts));
  return entry.ok ? ok([entry.value]) : entry;
}

async function applyElsewhere(
  scope: Scope,
  payment: MoneyToApply,
  to: AccountId,
  parts: readonly WantedPart[],
): Promise<Result<readonly JournalEntry[]>> {
  const holder = await lockCreditHolder(scope, { paymentId: payment.id });
  if (!holder.ok) return holder;
  const amountMinor = sumMinor(parts.map((part) => part.amountMinor));
  const id = toId<CreditMoveId>(scope.newId());
  const on = payment.receivedOn;
  const moved = await moveTo(scope, holder.value, { id, to, amountMinor, on });
  if (!moved.ok) return { ok: false, problem: { ...moved.problem, field: parts[0]?.field ?? 'amount' } };
  const { paymentId, entry } = moved.value;
  const applied = await applyOwn(scope, { ...payment, id: paymentId, accountId: to }, parts);
  return applied.ok ? ok([entry, ...applied.value]) : applied;
}

/** The payer said what it is for when it came: that is the day, or where an invoice is younger, the invoice's. */
function settledOn({ receivedOn }: MoneyToApply, parts: readonly WantedPart[]): Day {
  const days = [receivedOn, ...parts.map(({ invoice }) => invoice.issuedOn)];
  return days.toSorted().at(-1) ?? receivedOn;
}
