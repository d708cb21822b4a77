import { findDiscount, insertDiscount } from '@grainwright/db';
import {
  type DiscountId,
  discountTaken,
  formatMinor,
  type InvoiceId,
  parseMoney,
  type Result,
  refuse,
} from '@grainwright/domain';
import { type Actor, performAsStaff, record } from '../perform.ts';
import { readWords } from '../read-input.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';
import type { InvoiceView } from './invoice-view.ts';
import { creditIsApplied, openInvoice, stands } from './open-invoice.ts';
import { postEntries } from './post-entries.ts';
import { readEventDay } from './read-event-day.ts';
import { readInvoiceOf } from './read-invoice.ts';
import { settleInvoices } from './settle-invoices.ts';

export interface TakeDiscountInput {
  /** Made by the client: the same id with the same content again is the same discount. */
  readonly discountId: DiscountId;
  readonly invoiceId: InvoiceId;
  readonly amount: string;
  /** What was agreed, such as 2 % within 10 days. */
  readonly reason: string;
  /** Null: today. */
  readonly on: string | null;
}

/**
 * Grants the discount that a customer took for paying early: it settles a part of the invoice. Refuses with
 * `wrong_state`, `invalid_money`, `over_payment`, `dates_out_of_order`, `month_closed`, `id_reused`.
 */
export function takeDiscount(
  services: Services,
  actor: Actor,
  input: TakeDiscountInput,
): Promise<Result<InvoiceView>> {
  return performAsStaff(services, actor, 'write_off', async (scope) => {
    const { tx } = scope;
    const opened = await openInvoice(scope, input.invoiceId);
    if (!opened.ok) return opened;
    const { invoice, locked } = opened.value;
    const { id: invoiceId, accountId, currency, number } = invoice;
    const amount = parseMoney(input.amount, { currency, field: 'amount' });
    if (!amount.ok) return amount;
    const reason = readWords(input.reason, 'reason', 'what was agreed', 500);
    if (!reason.ok) return reason;
    const on = readEventDay(scope, input.on, { day: invoice.issuedOn, what: number }, 'on');
    if (!on.ok) return on;
    const discount = { invoiceId, amountMinor: amount.value, reason: reason.value };
    const before = await findDiscount(tx, input.discountId);
    if (before !== null)
      return sameContent(before, discount) && (input.on === null || before.takenOn === on.value)
        ? readInvoiceOf(scope, invoiceId)
        : refuse('id_reused', 'That id is another discount already.', 'id');
    const standing = stands(invoice);
    if (!standing.ok) return standing;
    const applied = await creditIsApplied(scope, opened.value, amount.value);
    if (!applied.ok) return applied;
    const source = { unappliedMinor: amount.value, currency, receivedOn: on.value };
    const part = { invoice: locked, amountMinor: amount.value, field: 'amount' };
    const settled = await settleInvoices(scope, source, [part], on.value);
    if (!settled.ok) return settled;
    const by = { takenOn: on.value, takenBy: scope.actor.personId, takenAt: scope.now };
    if (!(await insertDiscount(tx, { id: input.discountId, accountId, ...discount, ...by })))
      return refuse('id_reused', 'That id is another discount already.', 'id');
    await record(
      scope,
      'discount_taken',
      { kind: 'invoice', id: invoiceId },
      { number, amount: formatMinor(amount.value, currency), reason: reason.value },
    );
    const taken = { party: accountId, on: on.value, invoiceId, amountMinor: amount.value };
    const posted = await postEntries(scope, [discountTaken(taken)], 'on');
    return posted.ok ? readInvoiceOf(scope, invoiceId) : posted;
  });
}
