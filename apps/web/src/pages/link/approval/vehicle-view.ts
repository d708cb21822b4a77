import { allows, displayMoney, type Problem } from '@grainwright/domain';
import { numberWords, type WorkOrderView } from '@grainwright/operations';
import { quietLink } from '../../../look/buttons.ts';
import { moneyText } from '../../../look/figures.ts';
import { type Html, html } from '../../../look/html.ts';
import { notice } from '../../../look/notices.ts';
import { type NumbersTyped, numbersForm } from '../../account/work-order/numbers-form.ts';
import { asAnswered, howMuch, problemNotice, whatItIs, yesOrNo } from '../../work-order/answer-parts.ts';
import type { TypedAnswer } from '../../work-order/answers.ts';
import { passedOnNotice } from '../../work-order/asking-parts.ts';
import { consentNotices } from '../../work-order/consent-parts.ts';
import { picturesOf } from '../../work-order/pictures.ts';
import { stateShown, workOrderNumber } from '../../work-order/state-words.ts';
import { threadOf, threadSection } from '../../work-order/thread-parts.ts';
import {
  approvalPage,
  type LinkFrame,
  linkReader,
  totalOf,
  vehicleAddress,
  whatElseWaits,
} from './vehicle-parts.ts';

export interface VehiclePage {
  readonly frame: LinkFrame;
  readonly view: WorkOrderView;
  readonly problem: Problem | null;
  readonly typed: readonly TypedAnswer[];
  readonly numbers: NumbersTyped;
  /** Of the message that is written next. */
  readonly messageId: string;
}

/** One vehicle by the link: what it is, show me, how much, yes or no; once it is answered, what was said and what follows. */
export function vehicleView({ frame, view, problem, typed, numbers, messageId }: VehiclePage): Html {
  const { visit, path } = frame;
  const waits = view.state === 'awaiting_approval';
  return approvalPage(frame, {
    heading: view.vehicle.description,
    lead: html`${stateShown(view.state)}, ${[workOrderNumber(view.number), numberWords(view.numbers)].filter((part) => part !== '').join(', ')}`,
    beside: waits && visit.right !== null ? toTheAnswer(view) : null,
    body: html`
      ${problem && problemNotice(problem)}
      ${!waits && problem === null && answeredNotice(view)}
      ${view.holdReason !== null && notice('info', 'On hold', view.holdReason)}
      ${consentNotices(linkReader(frame), view)}
      ${passedOnNotice(view, visit.person.id)}
      <section><h2>What it is</h2>${whatItIs(view)}</section>
      <section><h2>What it looks like</h2>${picturesOf(view, `${path}/photos`)}</section>
      <section><h2>How much</h2>${view.decision === null ? howMuch(view) : asAnswered(view, view.decision, visit.business.timeZone)}</section>
      ${waits && html`<section id="answer"><h2>Yes or no</h2>${yesOrNo(view, answererOf(frame, view), typed)}</section>`}
      ${numbersForm(
        {
          role: allows('approver', 'give_numbers') && visit.right !== null ? 'approver' : 'viewer',
          action: `${vehicleAddress(frame, view.id)}/numbers`,
          csrfToken: null,
          ordersHint: ordersHint(frame, view),
        },
        view,
        numbers,
      )}
      ${threadSection(threadOf(view, visit.business.timeZone, { action: `${vehicleAddress(frame, view.id)}/messages`, csrfToken: null, messageId }))}
      ${whatElseWaits(frame, view.id)}
      ${visit.workOrders.length > 1 && html`<p><a href="${path}">All vehicles of this visit</a></p>`}`,
  });
}

function answererOf(frame: LinkFrame, { id }: WorkOrderView) {
  const { right, accountName, today } = frame.visit;
  return { right, accountName, today, action: `${vehicleAddress(frame, id)}/preview`, csrfToken: null };
}

function toTheAnswer(view: WorkOrderView): Html {
  return quietLink({ label: `${moneyText(totalOf(view), view.currency)}: yes or no`, href: '#answer' });
}

function answeredNotice({ state, decision, currency }: WorkOrderView): Html | null {
  if (decision === null)
    return notice('info', 'There is nothing to answer', 'It does not wait for you any more.');
  const who =
    decision.decidedBy === null ? 'A standing approval answered it.' : `${decision.decidedBy} answered it.`;
  if (state === 'declined')
    return notice('done', 'Answered: declined', `${who} Nothing is repaired and nothing is billed.`);
  return notice(
    'done',
    `Answered: approved, ${displayMoney(decision.totalMinor, currency)}`,
    `${who} The work comes next; nothing is left for you to do. A copy comes by e-mail.`,
  );
}

/** The account’s orders that could be named, with what this leaves of each: “77105: $650.00, $37.41 left after this”. */
function ordersHint({ visit }: LinkFrame, view: WorkOrderView): string | undefined {
  const totalMinor = view.decision?.totalMinor ?? totalOf(view);
  const words = visit.purchaseOrders.map(({ number, capMinor, leftMinor }) => {
    if (capMinor === null || leftMinor === null) return `${number}: no cap`;
    const after = leftMinor - totalMinor;
    const cap = displayMoney(capMinor, view.currency);
    return after < 0n
      ? `${number}: ${cap}, ${displayMoney(-after, view.currency)} too little for this`
      : `${number}: ${cap}, ${displayMoney(after, view.currency)} left after this`;
  });
  return words.length === 0 ? undefined : `On file: ${words.join('; ')}.`;
}
