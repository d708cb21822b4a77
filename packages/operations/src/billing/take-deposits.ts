import { type LockedInvoice, lockOpenDeposits, type OpenDeposit } from '@grainwright/db';
import {
  type AccountId,
  type ApplicationId,
  type Day,
  type JournalEntry,
  lesserMinor,
  ok,
  type Result,
  toId,
  type WorkOrderId,
} from '@grainwright/domain';
import { record, type Scope } from '../perform.ts';
import { applyToInvoices } from './apply-to-invoices.ts';

/** Whose deposits: those for the work orders, and those of the account that are for no certain one. */
export interface DepositsWanted {
  readonly accountId: AccountId;
  readonly workOrderIds: readonly WorkOrderId[];
  /** The day of the invoice; a deposit that comes later is not for it. */
  readonly on: Day;
}

export interface TakenDeposits {
  /** To be posted after the invoice's own. */
  readonly entries: readonly JournalEntry[];
  readonly prepaidMinor: bigint;
}

/**
 * What there is of deposits for an invoice about to be issued, locked. Called before the work orders are locked, it
 * keeps whoever issues and whoever handles a deposit from waiting for each other.
 */
export function lockDeposits(scope: Scope, wanted: DepositsWanted): Promise<readonly OpenDeposit[]> {
  const { accountId, workOrderIds, on } = wanted;
  return lockOpenDeposits(scope.tx, { accountId, workOrderIds, through: on, withoutWaiting: false });
}

/**
 * Applies what there is of deposits to an invoice just inserted, whose work orders are invoiced already: first those for
 * its work orders, each group oldest first. From then on they are a payment of the invoice and no longer a debt. Whoever
 * issues holds the work orders by now, so a deposit that came since `lockDeposits` and is in other hands stays held.
 */
export async function takeDeposits(
  scope: Scope,
  wanted: DepositsWanted & { readonly invoice: LockedInvoice },
): Promise<Result<TakenDeposits>> {
  const { accountId, workOrderIds, on } = wanted;
  let { invoice } = wanted;
  const entries: JournalEntry[] = [];
  const open = await lockOpenDeposits(scope.tx, {
    accountId,
    workOrderIds,
    through: on,
    withoutWaiting: true,
  });
  for (const deposit of open) {
    const amountMinor = lesserMinor(deposit.unappliedMinor, invoice.openMinor);
    if (amountMinor === 0n) break;
    const part = { id: toId<ApplicationId>(scope.newId()), invoice, amountMinor, field: 'deposit' };
    const entry = await applyToInvoices(scope, deposit, [part], on, true);
    if (!entry.ok) return entry;
    await record(scope, 'deposit_taken', { kind: 'payment', id: deposit.id }, { invoice: invoice.number });
    entries.push(entry.value);
    invoice = { ...invoice, openMinor: invoice.openMinor - amountMinor };
  }
  return ok({ entries, prepaidMinor: wanted.invoice.openMinor - invoice.openMinor });
}
