import { type DecisionId, displayMoney, formatMinor } from '@grainwright/domain';
import { numberWords, type WorkOrderView } from '@grainwright/operations';
import { actionButton, quietLink } from '../../../look/buttons.ts';
import { money, moneyText } from '../../../look/figures.ts';
import { hiddenField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { notice } from '../../../look/notices.ts';
import { dataTable } from '../../../look/tables.ts';
import { passedOnNotice } from '../../work-order/asking-parts.ts';
import { consentNotices } from '../../work-order/consent-parts.ts';
import { picturesOf, shownPhotoIds } from '../../work-order/pictures.ts';
import {
  estimateSums,
  explainedLines,
  linesTable,
  onceAVisit,
  reasons,
} from '../../work-order/price-parts.ts';
import { replacementBeside } from '../../work-order/replacement-parts.ts';
import { stateShown, workOrderNumber } from '../../work-order/state-words.ts';
import {
  approvalPage,
  canApproveAsShown,
  type LinkFrame,
  linkReader,
  totalOf,
  vehicleAddress,
  waitingOf,
} from './vehicle-parts.ts';

/** All that the link opens, several vehicles of one visit: each with its pictures and its price, and one yes to all. */
export function overviewView(frame: LinkFrame, newDecisionId: () => DecisionId): Html {
  const { visit } = frame;
  const waiting = waitingOf(visit);
  const others = visit.workOrders.filter((view) => !waiting.includes(view));
  const count = waiting.length === 1 ? '1 vehicle waits' : `${waiting.length} vehicles wait`;
  const [any] = visit.workOrders;
  return approvalPage(frame, {
    heading: waiting.length === 0 ? 'Nothing waits for you' : `${count} for your answer`,
    lead: any === undefined ? '' : `${any.site.name}`,
    body: html`
      ${waiting.length > 0 && html`<section><h2>All of them</h2>${allOfThem(frame, waiting, newDecisionId)}</section>`}
      ${waiting.map((view) => vehicle(frame, view))}
      ${others.length > 0 && html`<section><h2>Not waiting any more</h2>${notWaiting(frame, others)}</section>`}`,
  });
}

function allOfThem(
  frame: LinkFrame,
  waiting: readonly WorkOrderView[],
  newDecisionId: () => DecisionId,
): Html {
  const [{ currency } = { currency: 'USD' }] = waiting;
  const total = waiting.reduce((sum, view) => sum + totalOf(view), 0n);
  return html`${dataTable({
    caption: 'What waits',
    captionHidden: true,
    rows: waiting,
    empty: html`<p>Nothing waits.</p>`,
    totalsLabel: 'All of them',
    columns: [
      {
        header: 'Vehicle',
        names: true,
        cell: (view) => html`<a href="${vehicleAddress(frame, view.id)}">${view.vehicle.description}</a>`,
      },
      { header: 'Your number', cell: (view) => numberWords(view.numbers) },
      { header: 'Lines', figure: true, cell: (view) => view.estimate?.lines.length ?? 0 },
      {
        header: 'For you to approve',
        cell: (view) => (canApproveAsShown(frame.visit, view) ? 'yes' : whyNot(frame, view)),
      },
      {
        header: 'Total',
        figure: true,
        cell: (view) => money(totalOf(view), view.currency),
        total: money(total, currency),
      },
    ],
  })}
  ${yesToAll(frame, waiting, newDecisionId)}`;
}

function whyNot({ visit }: LinkFrame, { estimate }: WorkOrderView): string {
  if (visit.right === null) return 'an approver answers it';
  return estimate?.expiresOn !== null && estimate !== null && estimate.expiresOn < visit.today
    ? 'it has expired'
    : 'above your limit';
}

/** One form carries of each vehicle what was seen: its version, digest, total and pictures. */
function yesToAll(
  { path, visit }: LinkFrame,
  waiting: readonly WorkOrderView[],
  newDecisionId: () => DecisionId,
): Html | null {
  const possible = waiting.filter((view) => canApproveAsShown(visit, view));
  const [first] = possible;
  if (first === undefined) return null;
  const total = possible.reduce((sum, view) => sum + totalOf(view), 0n);
  const { length } = possible;
  const which =
    length < waiting.length
      ? `Yes to ${length} of ${waiting.length} vehicles —`
      : length === 1
        ? 'Yes,'
        : `Yes to all ${length} vehicles —`;
  const trips = possible.some(({ estimate }) => (estimate?.price.visit.trip?.amountMinor ?? 0n) > 0n);
  return html`<form method="post" action="${path}/approvals">
    ${hiddenField('work_orders', possible.map(({ id }) => id).join(','))}
    ${possible.map((view) => seenFields(view, newDecisionId()))}
    <div class="buttons">${actionButton({ label: `${which} ${displayMoney(total, first.currency)}` })}</div>
    <p class="hint">Every line of ${length === 1 ? 'it' : 'them'} is approved as shown below, each vehicle by itself. To decline a line, answer its vehicle first.</p>
    ${reasons(onceAVisit(0n, trips ? 1n : 0n))}
  </form>`;
}

function seenFields(view: WorkOrderView, decisionId: DecisionId): Html {
  const { id, estimate, currency } = view;
  const fields = [
    ['version', estimate?.versionId ?? ''],
    ['digest', estimate?.digest ?? ''],
    ['total', formatMinor(totalOf(view), currency)],
    ['decision', decisionId],
    ['photos', shownPhotoIds(view).join(',')],
  ] as const;
  return html`${fields.map(([name, value]) => hiddenField(`${name}-${id}`, value))}`;
}

function vehicle(frame: LinkFrame, view: WorkOrderView): Html {
  const { estimate, currency } = view;
  return html`<section><h2>${view.vehicle.description}</h2>
    <p>${[workOrderNumber(view.number), numberWords(view.numbers)].filter((part) => part !== '').join(', ')}</p>
    ${view.holdReason !== null && notice('info', 'On hold', view.holdReason)}
    ${consentNotices(linkReader(frame), view)}
    ${passedOnNotice(view, frame.visit.person.id)}
    ${picturesOf(view, `${frame.path}/photos`)}
    ${
      estimate !== null &&
      html`${linesTable(explainedLines(view, estimate.price), estimate.price.vehicle.repairsMinor, currency, false)}
      ${estimateSums(estimate.price, currency, view.deposit)}`
    }
    ${replacementBeside(view)}
    <p>${quietLink({ label: `Answer line by line: ${view.vehicle.description}`, href: vehicleAddress(frame, view.id) })}</p>
  </section>`;
}

function notWaiting(frame: LinkFrame, views: readonly WorkOrderView[]): Html {
  return html`<ul>${views.map(
    (view) =>
      html`<li><a href="${vehicleAddress(frame, view.id)}">${view.vehicle.description}</a> ${stateShown(view.state)}${
        view.decision !== null && html`, ${moneyText(view.decision.totalMinor, view.currency)}`
      }</li>`,
  )}</ul>`;
}
