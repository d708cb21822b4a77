import { type Day, type EstimatePrice, formatDecimal, type Problem } from '@grainwright/domain';
import { type DecisionView, numberWords, type WorkOrderView } from '@grainwright/operations';
import { quietLink } from '../../../look/buttons.ts';
import { dayShown, dayText, money, moneyText } from '../../../look/figures.ts';
import { type Html, html } from '../../../look/html.ts';
import { accountPage } from '../../../look/layout.ts';
import { notice } from '../../../look/notices.ts';
import { seam } from '../../../look/seam.ts';
import { definitionList } from '../../../look/tables.ts';
import type { Frame } from '../../person.ts';
import { acceptanceShown } from '../../work-order/acceptance-shown.ts';
import { answerForm } from '../../work-order/answer-form.ts';
import { answersToStartFrom, type TypedAnswer } from '../../work-order/answers.ts';
import { consentNotices } from '../../work-order/consent-parts.ts';
import { decisionShown } from '../../work-order/decision-shown.ts';
import { picturesOf } from '../../work-order/pictures.ts';
import {
  againstReplacement,
  estimateSums,
  explainedLines,
  linesTable,
} from '../../work-order/price-parts.ts';
import { stateShown, workOrderNumber } from '../../work-order/state-words.ts';
import { stitchesOf } from '../../work-order/stitches.ts';
import { firstOrderShown, storyNotices, storySections } from '../../work-order/story-parts.ts';
import { type NumbersTyped, numbersForm } from './numbers-form.ts';

export interface WorkOrderPage {
  readonly frame: Frame;
  readonly view: WorkOrderView;
  readonly problem: Problem | null;
  readonly typed: readonly TypedAnswer[];
  readonly numbers: NumbersTyped;
  /** The first order, where this is a rework. */
  readonly first: WorkOrderView | null;
}

/** What is it, show me, how much, yes or no. */
export function workOrderView(page: WorkOrderPage): Html {
  const { frame, view } = page;
  return accountPage({
    title: workOrderNumber(view.number),
    heading: `${workOrderNumber(view.number)}: ${view.vehicle.description}`,
    lead: html`${stateShown(view.state)}${numberWords(view.numbers) !== '' && html`, ${numberWords(view.numbers)}`}`,
    beside: toTheAnswer(frame, view),
    person: frame.person,
    current: view.state === 'awaiting_approval' ? 'needs' : 'vehicles',
    csrfToken: frame.csrfToken,
    assets: frame.assets,
    scripts: [frame.assets.pictures],
    elsewhere: frame.elsewhere,
    body: html`
      ${page.problem && problemNotice(page.problem)}
      ${view.holdReason !== null && notice('info', 'On hold', view.holdReason)}
      ${consentNotices(frame, view)}
      ${storyNotices(view, '/account/work-orders', frame.me.business.timeZone)}
      <section><h2>What it is</h2>${whatItIs(view)}</section>
      <section><h2>What it looks like</h2>${picturesOf(view)}</section>
      ${page.first && firstOrderShown(page.first)}
      ${storySections(view, frame.me.business.timeZone)}
      <section><h2>How much</h2>${view.decision === null ? howMuch(view) : asAnswered(view, view.decision, frame)}</section>
      ${view.state === 'awaiting_approval' && html`<section id="answer"><h2>Yes or no</h2>${yesOrNo(page)}</section>`}
      ${numbersForm(frame, view, page.numbers)}
      ${view.acceptance && html`<section><h2>Acceptance</h2>${acceptanceShown(view.acceptance, frame.me.business.timeZone)}</section>`}
      <section><h2>How it went</h2>${seam('How this work order went', stitchesOf(view, frame.me.business.timeZone))}</section>`,
  });
}

/** Pictures and price stand between; somebody who has seen them goes straight to the question. */
function toTheAnswer({ me }: Frame, { state, estimate, currency }: WorkOrderView): Html | null {
  if (state !== 'awaiting_approval' || me.role !== 'approver') return null;
  if (estimate === null || estimate.versionId === null) return null;
  const total = moneyText(estimate.price.invoice.totals.withTaxMinor, currency);
  return quietLink({ label: `${total}: yes or no`, href: '#answer' });
}

/** Where a newer version waits below, that is something to know; the rest is something to do. */
function problemNotice(problem: Problem): Html {
  const headings: Partial<Record<Problem['code'], string>> = {
    version_superseded: 'The estimate changed while you were reading',
    already_decided: 'Somebody was faster',
    shown_changed: 'Look again',
  };
  return notice('problem', headings[problem.code] ?? 'Not sent', problem.detail);
}

function whatItIs(view: WorkOrderView): Html {
  const { vehicle, numbers, visit } = view;
  const optional = (term: string, value: string) => (value === '' ? [] : [{ term, value }]);
  return html`${definitionList([
    { term: 'Vehicle', value: vehicle.description },
    ...optional('VIN', vehicle.vin ?? (vehicle.lastEight === null ? '' : `ending in ${vehicle.lastEight}`)),
    ...optional('Your numbers', numberWords(numbers)),
    ...optional('Vehicle’s owner', view.owner.name),
    {
      term: 'Where and when',
      value: html`${view.site.name}, ${dayShown(visit.day)}${visit.afterHours && ', after hours'}`,
    },
    { term: 'Technician', value: view.technician.name },
  ])}
  ${view.lines.map(
    (line) => html`<h3>${line.words}</h3>
      <p>${[line.repair, sizeWords(line), line.visibleWhen].filter((part) => part !== null && part !== '').join('; ')}</p>
      ${line.note !== '' && html`<p>${line.note}</p>`}`,
  )}`;
}

function sizeWords({ measuredInches }: WorkOrderView['lines'][number]): string {
  return measuredInches === null ? '' : `measured ${formatDecimal(measuredInches)} in`;
}

function howMuch(view: WorkOrderView): Html {
  const { estimate, currency } = view;
  if (estimate === null) return html`<p>There is no estimate yet.</p>`;
  const { price } = estimate;
  return html`
    ${linesTable(explainedLines(view, price), price.vehicle.repairsMinor, currency, false)}
    ${estimateSums(price, currency, view.deposit)}
    ${againstReplacement(view.replacement, price.visit.netMinor, currency)}
    ${estimate.version !== null && html`<p class="hint">Version ${estimate.version}${estimate.expiresOn !== null && html`, good through ${dayShown(estimate.expiresOn)}`}.</p>`}`;
}

/** Once it is answered: who said what, when, and what it comes to. */
function asAnswered(view: WorkOrderView, decision: DecisionView, frame: Frame): Html {
  const repairMinor = decision.repairsMinor + decision.afterHoursMinor + decision.tripMinor;
  return html`
    ${decisionShown(view, decision, frame.me.business.timeZone)}
    ${repairMinor > 0n && againstReplacement(view.replacement, repairMinor, view.currency)}`;
}

function yesOrNo({ frame, view, typed }: WorkOrderPage): Html {
  const { estimate, currency } = view;
  if (estimate === null || estimate.versionId === null || estimate.digest === null)
    return html`<p>The estimate is being changed. Come back when the new one is here.</p>`;
  if (frame.me.role !== 'approver')
    return html`<p>An approver of ${frame.me.accountName} answers this. Your role is ${frame.me.role}.</p>`;
  return html`
    ${limitWords(frame.me.limitMinor, estimate.price, currency)}
    ${estimate.expiresOn !== null && expiredNotice(estimate.expiresOn, frame.me.today)}
    ${answerForm({
      action: `/account/work-orders/${view.id}/preview`,
      csrfToken: frame.csrfToken,
      versionId: estimate.versionId,
      digest: estimate.digest,
      currency,
      typed: answersToStartFrom(view, typed),
      lines: estimate.lines.map((line) => ({
        lineId: line.lineId,
        words: view.lines.find((each) => each.id === line.lineId)?.words ?? line.repair,
        offeredMinor: line.netMinor,
      })),
    })}`;
}

function expiredNotice(expiresOn: Day, today: Day): Html | null {
  if (expiresOn >= today) return null;
  return notice(
    'problem',
    'This estimate has expired',
    `It was good through ${dayText(expiresOn)}. It can still be declined; ask for a new one to approve.`,
  );
}

function limitWords(limitMinor: bigint | null, price: EstimatePrice, currency: string): Html {
  const comparedMinor = price.limitMinor;
  const all = price.visit.afterHours === null ? 'All lines come to' : 'All lines with after-hours come to';
  const compared = html`${all} ${money(comparedMinor, currency)} before trip and tax`;
  if (limitMinor === null) return html`<p>You approve without a limit. ${compared}.</p>`;
  const limit = html`Your limit is ${money(limitMinor, currency)}.`;
  if (comparedMinor <= limitMinor) return html`<p>${limit} ${compared}: within it.</p>`;
  return notice(
    'info',
    'More than your limit',
    html`${limit} ${compared}, ${moneyText(comparedMinor - limitMinor, currency)} more. Decline lines, or ask somebody with a higher limit.`,
  );
}
