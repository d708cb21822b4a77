import { allows, changeWords, exceededWords } from '@grainwright/domain';
import type { PurchaseOrderView, WorkOrderView } from '@grainwright/operations';
import { dayText, instantShown, moneyText } from '../../look/figures.ts';
import { type Html, html } from '../../look/html.ts';
import { notice } from '../../look/notices.ts';
import type { Frame } from '../person.ts';
import { workOrderNumber } from './state-words.ts';

/** What whoever answers, or does the work, should know of what was agreed to before. */
export function consentNotices(reader: NoticeReader, view: WorkOrderView): readonly (Html | null)[] {
  return [
    lapsedNotice(view),
    increaseNotice(view, reader.timeZone),
    standingNotice(view),
    purchaseOrderNotice(view),
    earlierRoNotice(reader, view),
  ];
}

/** Who reads notices, as far as they differ by it. */
export interface NoticeReader {
  readonly timeZone: string;
  /** The folder of invoices that the reader may open; null where they may open none from here. */
  readonly invoicesAt: string | null;
}

export function readerOf({ me }: Frame): NoticeReader {
  const invoicesAt = me.accountName === null ? '/office/invoices' : '/account/invoices';
  return {
    timeZone: me.business.timeZone,
    invoicesAt: allows(me.role, 'see_invoices') ? invoicesAt : null,
  };
}

/** An estimate that nobody answered in time, until it is sent again. */
function lapsedNotice({ state, steps }: WorkOrderView): Html | null {
  const last = steps.at(-1);
  if (state !== 'written_up' || last?.event !== 'lapsed') return null;
  return notice(
    'problem',
    'The estimate has lapsed',
    `${last.note} It can’t be answered any more; sent again, it has prices of that day.`,
  );
}

/** An approved total that became another one: while it is asked for, and afterwards for the record. */
function increaseNotice({ increase, state, currency }: WorkOrderView, timeZone: string): Html | null {
  if (increase === null || increase.differenceMinor === 0n) return null;
  const by = increase.approvedBy === null ? 'by standing approval' : `by ${increase.approvedBy}`;
  const before = html`${moneyText(increase.approvedMinor, currency)} was approved ${by} on ${instantShown(increase.approvedAt, timeZone)}.`;
  const change = `The total goes ${changeWords(increase, currency)}.`;
  if (state !== 'awaiting_approval') return html`<p class="hint">${before} ${change}</p>`;
  const left = increase.declinedBefore.length > 0 ? ' What was declined before is left out of it.' : '';
  const heading = increase.differenceMinor > 0n ? 'More than was approved' : 'Changed since it was approved';
  return notice(
    'problem',
    heading,
    html`${before} ${change}${left} It needs a new yes before the work goes on.`,
  );
}

/** Why the account’s standing approval does not answer it, or that it will. */
function standingNotice({ standing, state, currency, lines }: WorkOrderView): Html | null {
  if (standing === null) return null;
  const { exceeded, answeredByPerson, text } = standing;
  if (exceeded.length > 0) {
    const over = exceeded.map((each) => exceededWords(each, currency)).join('; ');
    return notice(
      'info',
      'Above the standing approval',
      `${capital(over)}. Compared are repairs and after-hours, before trip and tax. Somebody of the account has to answer it.`,
    );
  }
  if (lines.some(({ unpriced }) => unpriced !== null))
    return notice('info', 'Standing approval', 'Can’t be told until every line has a price.');
  if (answeredByPerson)
    return notice(
      'info',
      'Within the standing approval',
      'Somebody of the account has answered this work order before, so they answer it again.',
    );
  if (state === 'written_up')
    return notice('info', 'Within the standing approval', `Once it is sent it is approved: ${text}.`);
  return notice(
    'info',
    'Within the standing approval',
    'It was sent before that was agreed. Somebody answers it, or it is sent again.',
  );
}

function purchaseOrderNotice(view: WorkOrderView): Html | null {
  const { purchaseOrder: order, currency } = view;
  if (order === null || ['paid', 'void', 'declined', 'written_off'].includes(view.state)) return null;
  const problem = purchaseOrderProblem(view, order);
  const leftWords = order.leftMinor === null ? 'no cap' : `${moneyText(order.leftMinor, currency)} left`;
  if (problem !== null) return notice('problem', `Purchase order ${order.number}, ${leftWords}`, problem);
  if (order.capMinor === null || order.leftMinor === null) return null;
  const totalMinor = view.invoice === null ? totalOf(view) : 0n;
  if (totalMinor > 0n)
    return html`<p class="hint">Purchase order ${order.number}: ${moneyText(order.capMinor, currency)}, ${moneyText(order.leftMinor - totalMinor, currency)} left after this.</p>`;
  return html`<p class="hint">Purchase order ${order.number}: ${leftWords} of ${moneyText(order.capMinor, currency)}.</p>`;
}

function totalOf({ decision, estimate }: WorkOrderView): bigint {
  return decision?.totalMinor ?? estimate?.price.invoice.totals.withTaxMinor ?? 0n;
}

/** What has to be asked of the account before this can be invoiced on its purchase order; null: nothing. */
function purchaseOrderProblem(view: WorkOrderView, order: PurchaseOrderView): string | null {
  if (order.standing === 'ended' && order.validTo !== null)
    return `It ended on ${dayText(order.validTo)}. A new number, or a later end, is needed.`;
  if (order.standing === 'not_yet') return `It counts from ${dayText(order.validFrom)} on.`;
  const totalMinor = totalOf(view);
  if (view.invoice !== null || order.leftMinor === null || totalMinor <= order.leftMinor) return null;
  return `This work comes to ${moneyText(totalMinor, view.currency)}, ${moneyText(totalMinor - order.leftMinor, view.currency)} more than is left. The order has to be increased before it can be invoiced.`;
}

function earlierRoNotice({ invoicesAt }: NoticeReader, view: WorkOrderView): Html | null {
  const [first, ...others] = view.earlierWithRo;
  if (first === undefined) return null;
  const invoice =
    invoicesAt === null
      ? first.number
      : html`<a href="${`${invoicesAt}/${first.invoiceId}`}">${first.number}</a>`;
  const more = others.length === 0 ? '' : ` and ${others.length} more`;
  return notice(
    'problem',
    `RO ${view.numbers.ro} was invoiced before`,
    html`It stands on invoice ${invoice} of ${dayText(first.issuedOn)} for ${workOrderNumber(first.workOrderNumber)}${more}. Check that it is not asked for twice.`,
  );
}

function capital(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}
