import type { Problem } from '@grainwright/domain';
import { numberWords, type WorkOrderView } from '@grainwright/operations';
import { quietLink } from '../../../look/buttons.ts';
import { moneyText } from '../../../look/figures.ts';
import { type Html, html } from '../../../look/html.ts';
import { accountPage } from '../../../look/layout.ts';
import { notice } from '../../../look/notices.ts';
import { seam } from '../../../look/seam.ts';
import type { Frame } from '../../person.ts';
import {
  type Answerer,
  asAnswered,
  howMuch,
  problemNotice,
  whatItIs,
  yesOrNo,
} from '../../work-order/answer-parts.ts';
import type { TypedAnswer } from '../../work-order/answers.ts';
import { passedOnNotice } from '../../work-order/asking-parts.ts';
import { attemptsSection } from '../../work-order/attempts.ts';
import { consentNotices, readerOf } from '../../work-order/consent-parts.ts';
import { evidenceLinks } from '../../work-order/evidence-links.ts';
import { picturesOf } from '../../work-order/pictures.ts';
import { recordingsOf } from '../../work-order/recordings.ts';
import { stateShown, workOrderNumber } from '../../work-order/state-words.ts';
import { stitchesOf } from '../../work-order/stitches.ts';
import { firstOrderShown, storyNotices, storySections } from '../../work-order/story-parts.ts';
import { threadOf, threadSection } from '../../work-order/thread-parts.ts';
import { type NumbersTyped, numbersForm } from './numbers-form.ts';

export interface WorkOrderPage {
  readonly frame: Frame;
  readonly view: WorkOrderView;
  readonly problem: Problem | null;
  readonly typed: readonly TypedAnswer[];
  readonly numbers: NumbersTyped;
  /** Of the message that is written next. */
  readonly messageId: string;
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
    scripts: [frame.assets.pictures, frame.assets.divider],
    elsewhere: frame.elsewhere,
    body: html`
      ${page.problem && problemNotice(page.problem)}
      ${view.holdReason !== null && notice('info', 'On hold', view.holdReason)}
      ${consentNotices(readerOf(frame), view)}
      ${passedOnNotice(view, frame.me.personId)}
      ${storyNotices(view, '/account/work-orders', frame.me.business.timeZone)}
      <section><h2>What it is</h2>${whatItIs(view)}</section>
      <section><h2>What it looks like</h2>${picturesOf(view)}${recordingsOf(view.recordings, { timeZone: frame.me.business.timeZone, isStaff: false })}</section>
      ${page.first && firstOrderShown(page.first)}
      ${storySections(view, frame.me.business.timeZone)}
      <section><h2>How much</h2>${
        view.decision === null
          ? howMuch(view)
          : html`${asAnswered(view, view.decision, frame.me.business.timeZone)}
        <p class="unprinted">${quietLink({ label: 'The answer on record, with what was seen', href: `/account/work-orders/${view.id}/decisions/${view.decision.id}` })}</p>`
      }</section>
      ${view.state === 'awaiting_approval' && html`<section id="answer"><h2>Yes or no</h2>${yesOrNo(view, answererOf(frame, view), page.typed)}</section>`}
      ${numbersForm({ action: `/account/work-orders/${view.id}/numbers`, csrfToken: frame.csrfToken, role: frame.me.role }, view, page.numbers)}
      ${threadSection(threadOf(view, frame.me.business.timeZone, { action: `/account/work-orders/${view.id}/messages`, csrfToken: frame.csrfToken, messageId: page.messageId }))}
      ${attemptsSection(view, frame.me.business.timeZone)}
      ${evidenceLinks(view, 'account')}
      <section><h2>How it went</h2>${seam('How this work order went', stitchesOf(view, frame.me.business.timeZone))}</section>`,
  });
}

function answererOf({ me, csrfToken }: Frame, view: WorkOrderView): Answerer {
  return {
    right: me.answers,
    accountName: me.accountName ?? '',
    today: me.today,
    action: `/account/work-orders/${view.id}/preview`,
    csrfToken,
  };
}

/** Pictures and price stand between; somebody who has seen them goes straight to the question. */
function toTheAnswer({ me }: Frame, { state, estimate, currency }: WorkOrderView): Html | null {
  if (state !== 'awaiting_approval' || me.answers === null) return null;
  if (estimate === null || estimate.versionId === null) return null;
  const total = moneyText(estimate.price.invoice.totals.withTaxMinor, currency);
  return quietLink({ label: `${total}: yes or no`, href: '#answer' });
}
