import {
  formatDecimal,
  ownNumberKinds,
  type PhotoPurpose,
  type Problem,
  parseVin,
  photoPurposes,
  signerRoles,
} from '@grainwright/domain';
import type {
  DecisionView,
  EarlierWorkView,
  LineToRepeat,
  QuotesView,
  WorkOrderLineView,
  WorkOrderView,
} from '@grainwright/operations';
import { pictureRow } from '../../../look/before-after.ts';
import { fieldButton, fieldLink, quietLink } from '../../../look/buttons.ts';
import { money } from '../../../look/figures.ts';
import { hiddenCsrf, hiddenField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { fieldPage } from '../../../look/layout.ts';
import { notice } from '../../../look/notices.ts';
import { seam } from '../../../look/seam.ts';
import { type Definition, dataTable, definitionList, emptyState } from '../../../look/tables.ts';
import type { Frame } from '../../person.ts';
import { attemptsSection } from '../../work-order/attempts.ts';
import { consentNotices, readerOf } from '../../work-order/consent-parts.ts';
import { decisionSums, whoAnswered } from '../../work-order/decision-shown.ts';
import { earlierLines } from '../../work-order/earlier-parts.ts';
import { evidenceLinks } from '../../work-order/evidence-links.ts';
import { coveredWords, pictureState } from '../../work-order/photo-state.ts';
import { estimateSums } from '../../work-order/price-parts.ts';
import { recordingsOf } from '../../work-order/recordings.ts';
import { replacementBeside } from '../../work-order/replacement-parts.ts';
import { stateShown, waitsForWords, workOrderNumber } from '../../work-order/state-words.ts';
import { stitchesOf } from '../../work-order/stitches.ts';
import { firstOrderShown, storyNotices, storySections } from '../../work-order/story-parts.ts';
import { questionNotice, threadOf, threadSection } from '../../work-order/thread-parts.ts';
import { lineChangeIn } from '../line/keep-line.ts';
import { repeatForm } from '../line/repeat-form.ts';
import { nextStep } from '../next-step.ts';
import { lastQuoteForm } from '../quotes/last-quote.ts';
import { nextVehicleOf, turnLinks } from './turn-links.ts';

export interface FieldWorkOrderPage {
  readonly frame: Frame;
  readonly view: WorkOrderView;
  /** For the estimate's version, if sending it is what comes next. */
  readonly versionId: string;
  /** Of the message that is written next. */
  readonly messageId: string;
  /** What else was written up of the vehicle lately; empty once that is no question any more. */
  readonly earlier: readonly EarlierWorkView[];
  /** What was doubted when it was written up. */
  readonly warnings: readonly string[];
  /** The line that one tap writes once more, under this id; null where there is none. */
  readonly last: LineToRepeat | null;
  readonly repeatId: string;
  /** Its estimate went out a moment ago: in a row, the next vehicle comes now. */
  readonly isJustSent: boolean;
  /** What was photographed a moment ago. */
  readonly keptPhoto: PhotoPurpose | null;
  /** The first order, where this is a rework. */
  readonly first: WorkOrderView | null;
  /** What new parts would cost, and an id for the quote that is taken with one tap; null where nothing is charged. */
  readonly quoted: QuotesView | null;
  readonly quoteId: string;
  readonly problem: Problem | null;
}

/** Without the browser's module the answer is looked for so often. */
const refreshSeconds = 30;

/** A work order at the vehicle: what it waits for, its lines with their prices, and the one thing to do next. */
export function fieldWorkOrderPage(page: FieldWorkOrderPage): Html {
  const { frame, view, versionId, earlier, first, problem } = page;
  const { timeZone } = frame.me.business;
  return fieldPage({
    ...frame,
    title: workOrderNumber(view.number),
    heading: view.vehicle.description,
    lead: [workOrderNumber(view.number), view.numbers.own, `${view.account.name}, ${view.site.name}`]
      .filter((part) => part !== '')
      .join(' · '),
    current: null,
    scripts: [frame.assets.pictures, frame.assets.divider, frame.assets.sending],
    ...(view.state === 'awaiting_approval' ? { refreshSeconds } : {}),
    body: html`
      ${problem && (problem.code === 'duplicate' ? notice('info', 'Already there', problem.detail) : notice('problem', 'Not done yet', problem.detail))}
      ${page.keptPhoto && notice('done', `Kept: ${photoPurposes[page.keptPhoto]}`, 'Look at it below before you move the vehicle or the lamp.')}
      ${vinWarnings(view)}
      ${writeUpWarnings(page)}
      ${earlierNotice(view, earlier)}
      ${questionNotice(view)}
      ${storyNotices(view, '/field/work-orders', timeZone)}
      ${view.holdReason !== null && notice('problem', 'On hold', view.holdReason)}
      ${consentNotices(readerOf(frame), view)}
      ${view.state === 'awaiting_approval' && html`<p>${quietLink({ label: 'They are here: take their answer', href: `/field/work-orders/${view.id}/answer` })}</p>`}
      ${notAccepted(view)}
      <p>${stateShown(view.state)}${view.waitsFor !== 'nobody' && view.waitsFor !== 'approval' && html`, waits for ${waitsForWords[view.waitsFor]}`}</p>
      ${page.isJustSent && view.state === 'approved' && html`<p>${quietLink(nextStep(view))}</p>`}
      <section><h2>Lines</h2>${linesOf(view)}${moreLines(page)}</section>
      ${priceOf(page)}
      <section><h2>Photos</h2>${photosOf(view)}${recordingsOf(view.recordings, { timeZone, isStaff: true })}</section>
      ${first && firstOrderShown(first)}
      ${storySections(view, timeZone)}
      ${attemptsSection(view, timeZone)}
      ${turnLinks(frame, view)}
      ${threadSection(threadOf(view, timeZone, { action: `/field/work-orders/${view.id}/messages`, csrfToken: frame.csrfToken, messageId: page.messageId }))}
      <section><h2>Vehicle and numbers</h2>${definitionList(factsOf(view))}
        <p>${quietLink({ label: 'Numbers and owner', href: `/field/work-orders/${view.id}/details` })}</p></section>
      ${evidenceLinks(view, 'field')}
      <section><h2>So far</h2>${seam('The life of this work order', stitchesOf(view, timeZone))}</section>
      ${nextForm(frame, view, versionId)}`,
    primaryAction: nextAction(page),
  });
}

/** The same vehicle not long ago: the same damage written up twice, something that came back, or another damage. */
function earlierNotice(view: WorkOrderView, earlier: readonly EarlierWorkView[]): Html | null {
  if (view.state !== 'written_up' || view.reworkOf !== null || earlier.length === 0) return null;
  const back = earlier.filter(({ maybeComeback }) => maybeComeback);
  return notice(
    'info',
    'This vehicle was written up before',
    html`${earlierLines(earlier, '/field/work-orders')}
      <p>If it is the same damage, ask the office to void this one as a duplicate.</p>
      ${back.map(
        ({ id, number }) =>
          html`<p>${quietLink({ label: `${workOrderNumber(number)} came back: rework without charge`, href: `/field/work-orders/${id}/rework` })}</p>`,
      )}`,
  );
}

/** What was doubted at the write-up, but for the VIN, which is doubted as long as it stands there. */
function writeUpWarnings({ view, warnings }: FieldWorkOrderPage): readonly Html[] {
  const ofVin = doubtsOfVin(view);
  return warnings
    .filter((sentence) => !ofVin.includes(sentence))
    .map((sentence) => notice('info', 'Look again', sentence));
}

/** A doubt about the VIN stays in sight as long as the vehicle does; it stops nothing. */
function vinWarnings(view: WorkOrderView): readonly Html[] {
  return doubtsOfVin(view).map((sentence) =>
    notice('info', 'Look at the VIN again', `${sentence} It is used as it was written.`),
  );
}

function doubtsOfVin({ vehicle }: WorkOrderView): readonly string[] {
  const vin = vehicle.vin === null ? null : parseVin(vehicle.vin);
  return vin === null || !vin.ok ? [] : vin.value.warnings.map(({ sentence }) => sentence);
}

/** A no stays in sight until it was mended and asked again. */
function notAccepted({ state, acceptance }: WorkOrderView): Html | null {
  if (state !== 'done' || acceptance?.outcome !== 'not_accepted') return null;
  const { signerName, signerRole, remark } = acceptance;
  return notice(
    'problem',
    `Not accepted by ${signerName}, ${signerRoles[signerRole]}`,
    html`<p>${remark}</p><p>Put it right, take a new after picture, and ask again.</p>`,
  );
}

/** Once an estimate is out, the next vehicle of the row comes first; starting on this one is beside it. */
function nextAction({ view, isJustSent }: FieldWorkOrderPage): Html {
  const { label, href, method } = nextStep(view);
  if (isInRow(view, isJustSent)) return fieldLink({ label: 'Next vehicle here', href: nextVehicleOf(view) });
  return method === 'get' ? fieldLink({ label, href }) : fieldButton({ label, form: 'next-step' });
}

function isInRow({ state }: WorkOrderView, isJustSent: boolean): boolean {
  return state === 'awaiting_approval' || (isJustSent && state === 'approved');
}

/** Sending needs a form, since a link only ever looks. */
function nextForm(frame: Frame, view: WorkOrderView, versionId: string): Html | null {
  const { href, method } = nextStep(view);
  if (method === 'get') return null;
  return html`<form method="post" action="${href}" id="next-step" data-sending="Sending…">
    ${hiddenCsrf(frame.csrfToken)}${hiddenField('version_id', versionId)}
  </form>`;
}

function linesOf(view: WorkOrderView): Html {
  const { currency, estimate } = view;
  const prices = standingDecision(view)?.lines ?? estimate?.lines ?? [];
  const priced = (line: WorkOrderLineView) => prices.find((each) => each.lineId === line.id);
  return dataTable({
    caption: 'Lines',
    captionHidden: true,
    rows: view.lines,
    empty: emptyState('No line yet', 'A line is one part and what is wrong with it.'),
    columns: [
      {
        header: 'Line',
        names: true,
        cell: (line) => html`<a href="/field/work-orders/${view.id}/lines/${line.id}">${line.words}</a>`,
      },
      {
        header: 'Measured',
        cell: (line) => line.measuredInches !== null && `${formatDecimal(line.measuredInches)} in`,
      },
      { header: 'Material', cell: (line) => line.inferred },
      {
        header: 'Repair',
        cell: (line) => line.repair !== null && `${line.rateCode ?? 'by hand'}, ${line.repair}`,
      },
      { header: 'Why this price', cell: (line) => priced(line)?.trail ?? line.unpriced },
      { header: 'Answer', cell: answerOf },
      { header: 'Price', figure: true, cell: (line) => priceShown(line, priced(line)?.netMinor, currency) },
    ],
  });
}

function answerOf({ answer, answerReason }: WorkOrderLineView): string | null {
  return answer === null || answerReason === '' ? answer : `${answer}: ${answerReason}`;
}

function priceShown({ answer }: WorkOrderLineView, minor: bigint | undefined, currency: string) {
  if (answer === 'declined') return 'declined, not billed';
  return minor === undefined ? 'no price yet' : money(minor, currency);
}

function moreLines({ frame, view, last, repeatId }: FieldWorkOrderPage): Html | false {
  const how = lineChangeIn(view.state);
  const label = how === 'written_up' ? 'Add another line' : 'Found more: add a line';
  const isNext = how === 'written_up' && view.lines.length === 0;
  return (
    how !== 'closed' &&
    !isNext &&
    html`<p>${quietLink({ label, href: `/field/work-orders/${view.id}/lines/new` })}</p>
      ${repeatForm({ csrfToken: frame.csrfToken, workOrderId: view.id, lineId: repeatId, last })}`
  );
}

/** The answer that holds; null while a newer estimate is being written up or waits. */
function standingDecision({ state, decision }: WorkOrderView): DecisionView | null {
  return state === 'written_up' || state === 'awaiting_approval' ? null : decision;
}

function priceOf(page: FieldWorkOrderPage): Html | null {
  const { view } = page;
  const { estimate, currency } = view;
  const decision = standingDecision(view);
  if (decision !== null)
    return html`<section><h2>${decision.lines.some(({ answer }) => answer === 'approved') ? html`Approved ${money(decision.totalMinor, currency)}` : 'Declined'}</h2>
      ${whoAnswered(decision, currency, page.frame.me.business.timeZone)}
      ${decisionSums(decision, currency, view.deposit)}
      ${replacementBeside(view)}
      ${quoteAsk(page)}
    </section>`;
  if (estimate === null) return null;
  const heading = estimate.version === null ? 'Price so far' : `Estimate, version ${estimate.version}`;
  const minimum = estimate.price.vehicle.minimum;
  return html`<section><h2>${heading}</h2>
    ${minimum && html`<p class="hint">${minimum.trail}</p>`}
    ${estimateSums(estimate.price, currency, view.deposit)}
    <p>A limit is compared with ${money(estimate.price.limitMinor, currency)}: repairs and after-hours, before trip and tax.</p>
    ${replacementBeside(view)}
    ${quoteAsk(page)}
  </section>`;
}

/** Asked for where it is missing, with what the part cost the last time; it stops nothing. */
function quoteAsk({ frame, view, quoted, quoteId }: FieldWorkOrderPage): Html | null {
  if (quoted === null || !quoted.open || quoted.parts.length === 0) return null;
  const address = `/field/work-orders/${view.id}/quotes`;
  const [first] = quoted.quotes.some(({ placed }) => placed === null)
    ? []
    : quoted.parts.filter(({ quote }) => quote === null);
  if (first === undefined) return html`<p>${quietLink({ label: 'Quotes for new parts', href: address })}</p>`;
  const { currency } = quoted;
  return html`<h3>What would a new part cost, fitted?</h3>
    ${lastQuoteForm({ frame, address, currency, quoteId, part: first })}
    <p>${quietLink({ label: `Quote: ${first.words}`, href: address })}</p>`;
}

function photosOf(view: WorkOrderView): Html {
  const words = (lineId: string | null) =>
    lineId === null
      ? 'The vehicle'
      : (view.lines.find((line) => line.id === lineId)?.words ?? 'A line that is not done');
  const strip = pictureRow(
    view.photos.map((photo) => ({
      src: `/photos/${photo.id}/thumb`,
      ...pictureState(photo),
      alt: `${words(photo.lineId)}: ${photoPurposes[photo.purpose]}`,
      caption: [photoPurposes[photo.purpose], coveredWords(photo)].filter((part) => part !== '').join(', '),
      href: `/photos/${photo.id}/view`,
    })),
  );
  return html`${view.photos.length === 0 ? html`<p>No photo yet.</p>` : strip}
    <p>${quietLink({ label: 'Photos', href: `/field/work-orders/${view.id}/photos` })}</p>`;
}

function factsOf(view: WorkOrderView): readonly Definition[] {
  const { vehicle, numbers, owner, odometerMiles } = view;
  const entries: readonly Definition[] = [
    { term: 'VIN', value: vehicle.vin ?? (vehicle.lastEight === null ? '' : `…${vehicle.lastEight}`) },
    { term: numbers.ownKind === null ? 'Own number' : ownNumberKinds[numbers.ownKind], value: numbers.own },
    { term: 'RO', value: numbers.ro },
    { term: 'PO', value: numbers.po },
    { term: 'Owner', value: owner.name },
    {
      term: 'Owner’s phone',
      value: owner.phone !== '' && html`<a href="tel:${owner.phone}">${owner.phone}</a>`,
    },
    { term: 'Odometer', value: odometerMiles !== null && `${odometerMiles.toLocaleString('en-US')} mi` },
    { term: 'Technician', value: view.technician.name },
  ];
  return entries.filter(({ value }) => value !== '' && value !== false);
}
