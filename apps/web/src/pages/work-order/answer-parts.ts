import {
  type AnswerRight,
  type Day,
  type EstimatePrice,
  formatDecimal,
  type Problem,
} from '@grainwright/domain';
import { type DecisionView, numberWords, type WorkOrderView } from '@grainwright/operations';
import { dayShown, dayText, money, moneyText } from '../../look/figures.ts';
import { type Html, html } from '../../look/html.ts';
import { notice } from '../../look/notices.ts';
import { definitionList } from '../../look/tables.ts';
import { answerForm } from './answer-form.ts';
import { answersToStartFrom, type TypedAnswer } from './answers.ts';
import { decisionShown } from './decision-shown.ts';
import { shownPhotoIds } from './pictures.ts';
import { comparedWords, estimateSums, explainedLines, linesTable } from './price-parts.ts';
import { replacementBeside } from './replacement-parts.ts';

/**
 * What an account is asked, in four parts: what it is, how much, yes or no, and what was answered; the pictures are
 * pictures.ts. The account’s own page and the page of a mailed link are made of these.
 */
export interface Answerer {
  /** How far the reader may answer, and in whose place; null: not at all. */
  readonly right: AnswerRight | null;
  readonly accountName: string;
  readonly today: Day;
  /** Where the answers go to be priced. */
  readonly action: string;
  /** Null where the address itself is the secret. */
  readonly csrfToken: string | null;
}

export function whatItIs(view: WorkOrderView): Html {
  const { vehicle, numbers, visit } = view;
  const optional = (term: string, value: string) => (value === '' ? [] : [{ term, value }]);
  return html`${definitionList([
    { term: 'Vehicle', value: vehicle.description },
    ...optional('VIN', vehicle.vin ?? (vehicle.lastEight === null ? '' : `ending in ${vehicle.lastEight}`)),
    ...optional('Your numbers', numberWords(numbers)),
    ...optional('Vehicle’s owner', view.owner.name),
    {
      term: 'Where and when',
      value: html`${view.site.name}, ${dayShown(visit.day)}${visit.afterHours && ', after hours'}${visit.rush && ', rush'}`,
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

export function howMuch(view: WorkOrderView): Html {
  const { estimate, currency } = view;
  if (estimate === null) return html`<p>There is no estimate yet.</p>`;
  const { price } = estimate;
  return html`
    ${linesTable(explainedLines(view, price), price.vehicle.repairsMinor, currency, false)}
    ${estimateSums(price, currency, view.deposit)}
    ${replacementBeside(view)}
    ${estimate.version !== null && html`<p class="hint">Version ${estimate.version}${estimate.expiresOn !== null && html`, good through ${dayShown(estimate.expiresOn)}`}.</p>`}`;
}

/** Once it is answered: who said what, when, and what it comes to. */
export function asAnswered(view: WorkOrderView, decision: DecisionView, timeZone: string): Html {
  return html`
    ${decisionShown(view, decision, timeZone)}
    ${replacementBeside(view)}`;
}

export function yesOrNo(view: WorkOrderView, answerer: Answerer, typed: readonly TypedAnswer[]): Html {
  const { estimate, currency } = view;
  if (estimate === null || estimate.versionId === null || estimate.digest === null)
    return html`<p>The estimate is being changed. Come back when the new one is here.</p>`;
  if (answerer.right === null)
    return html`<p>An approver of ${answerer.accountName} answers this, or somebody in their place.</p>`;
  return html`
    ${limitWords(answerer.right, estimate.price, currency)}
    ${estimate.expiresOn !== null && expiredNotice(estimate.expiresOn, answerer.today)}
    ${answerForm({
      action: answerer.action,
      csrfToken: answerer.csrfToken,
      versionId: estimate.versionId,
      digest: estimate.digest,
      photoIds: shownPhotoIds(view),
      currency,
      typed: answersToStartFrom(view, typed),
      lines: estimate.lines.map((line) => ({
        lineId: line.lineId,
        words: view.lines.find((each) => each.id === line.lineId)?.words ?? line.repair,
        offeredMinor: line.netMinor,
      })),
    })}`;
}

/** Where a newer version waits below, that is something to know; the rest is something to do. */
export function problemNotice(problem: Problem): Html {
  const headings: Partial<Record<Problem['code'], string>> = {
    version_superseded: 'The estimate changed while you were reading',
    already_decided: 'Somebody was faster',
    shown_changed: 'Look again',
  };
  return notice('problem', headings[problem.code] ?? 'Not sent', problem.detail);
}

function expiredNotice(expiresOn: Day, today: Day): Html | null {
  if (expiresOn >= today) return null;
  return notice(
    'problem',
    'This estimate has expired',
    `It was good through ${dayText(expiresOn)}. It can still be declined; ask for a new one to approve.`,
  );
}

function limitWords({ limitMinor, delegated }: AnswerRight, price: EstimatePrice, currency: string): Html {
  const comparedMinor = price.limitMinor;
  const { afterHours, rush } = price.visit;
  const all = comparedWords('All lines', afterHours?.amountMinor ?? 0n, rush?.amountMinor ?? 0n);
  const compared = html`${all} come to ${money(comparedMinor, currency)} before trip and tax`;
  const inPlace =
    delegated !== null && html`You answer for ${delegated.forName}, through ${dayShown(delegated.through)}. `;
  if (limitMinor === null) return html`<p>${inPlace}You approve without a limit. ${compared}.</p>`;
  const limit = html`${inPlace}Your limit is ${money(limitMinor, currency)}.`;
  if (comparedMinor <= limitMinor) return html`<p>${limit} ${compared}: within it.</p>`;
  return notice(
    'info',
    'More than your limit',
    html`${limit} ${compared}, ${moneyText(comparedMinor - limitMinor, currency)} more. Decline lines, or send your ticks on: the next page says to whom.`,
  );
}
