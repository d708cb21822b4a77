import { insertLateCharge, lockBalancesOfInvoices } from '@grainwright/db';
import {
  displayMoney,
  displayPercent,
  firstDay,
  type InvoiceId,
  type JournalEntry,
  monthOf,
  ok,
  type Result,
  refuse,
} from '@grainwright/domain';
import { type Actor, performAsStaff, record, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { chargeFee } from './charge-fee.ts';
import { type LateChargeDue, lateChargesDue } from './late-charges-due.ts';
import { postEntries } from './post-entries.ts';

export interface ChargedLate {
  readonly charges: readonly {
    readonly id: InvoiceId;
    readonly number: string;
    readonly invoiceNumber: string;
    readonly amountMinor: bigint;
  }[];
  readonly currency: string;
}

/**
 * Charges for paying late, today, on the invoices named or on all that `listLateCharges` shows: one document for each, and
 * once a month. What was charged this month already is passed over, so sending it twice charges once. Refuses with
 * `wrong_state` while the business has set no per cent, and with `not_found` an invoice that is not there.
 */
export function chargeLate(
  services: Services,
  actor: Actor,
  input: { readonly invoiceIds: readonly InvoiceId[] | null },
): Promise<Result<ChargedLate>> {
  return performAsStaff(services, actor, 'record_payment', async (scope) => {
    const { business } = scope;
    if (business.lateChargePercent.digits === 0n)
      return refuse(
        'wrong_state',
        'Late charges are off. The owner of the business sets their per cent first.',
      );
    const due = await lockDue(scope, input.invoiceIds);
    if (due === null) return refuse('not_found', 'There is no such invoice.', 'invoice_ids');
    const charges = [];
    const entries: JournalEntry[] = [];
    for (const late of due) {
      const { id, number, entry } = await charge(scope, late);
      charges.push({ id, number, invoiceNumber: late.number, amountMinor: late.amountMinor });
      entries.push(entry);
    }
    const posted = entries.length === 0 ? ok(true) : await postEntries(scope, entries);
    return posted.ok ? ok({ charges, currency: business.currency }) : posted;
  });
}

/**
 * Read again once their balances are locked: by then somebody else may have charged them, or they may be paid. Null where
 * one that was named is not there.
 */
async function lockDue(
  scope: Scope,
  chosen: readonly InvoiceId[] | null,
): Promise<readonly LateChargeDue[] | null> {
  const ids = [...new Set(chosen ?? (await lateChargesDue(scope)).map((late) => late.id))];
  const locked = await lockBalancesOfInvoices(scope.tx, ids);
  if (locked.length < ids.length) return null;
  const held = new Set(ids);
  return (await lateChargesDue(scope)).filter((late) => held.has(late.id));
}

async function charge(scope: Scope, late: LateChargeDue) {
  const { today, business } = scope;
  const { accountId, amountMinor, baseMinor } = late;
  const percent = business.lateChargePercent;
  const words = `${displayPercent(percent)} of ${displayMoney(baseMinor, business.currency)}`;
  const subject = `Late charge for ${monthOf(today)} on ${late.number}: ${words} past due`;
  const document = await chargeFee(scope, {
    accountId,
    kind: 'late_charge',
    amountMinor,
    on: today,
    subject,
  });
  const month = firstDay(monthOf(today));
  const row = { invoiceId: late.id, month, accountId, documentId: document.id, baseMinor, percent };
  if (!(await insertLateCharge(scope.tx, row))) throw new Error('an invoice was charged under lock');
  await record(scope, 'late_charge_charged', { kind: 'invoice', id: late.id }, { number: document.number });
  return document;
}
