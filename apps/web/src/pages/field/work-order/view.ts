import {
  formatDecimal,
  ownNumberKinds,
  type Problem,
  parseVin,
  photoPurposes,
  signerRoles,
} from '@grainwright/domain';
import type { EarlierWorkView, WorkOrderLineView, WorkOrderView } from '@grainwright/operations';
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
import { consentNotices } from '../../work-order/consent-parts.ts';
import { earlierLines } from '../../work-order/earlier-parts.ts';
import { againstReplacement, estimateSums } from '../../work-order/price-parts.ts';
import { stateShown, waitsForWords, workOrderNumber } from '../../work-order/state-words.ts';
import { stitchesOf } from '../../work-order/stitches.ts';
import { firstOrderShown, storyNotices, storySections } from '../../work-order/story-parts.ts';
import { lineChangeIn } from '../line/keep-line.ts';
import { nextStep } from '../next-step.ts';
import { turnLinks } from './turn-links.ts';

export interface FieldWorkOrderPage {
  readonly frame: Frame;
  readonly view: WorkOrderView;
  /** For the estimate's version, if sending it is what comes next. */
  readonly versionId: string;
  /** What else was written up of the vehicle lately; empty once that is no question any more. */
  readonly earlier: readonly EarlierWorkView[];
  /** The first order, where this is a rework. */
  readonly first: WorkOrderView | null;
  readonly problem: Problem | null;
}

/** A work order at the vehicle: what it waits for, its lines with their prices, and the one thing to do next. */
export function fieldWorkOrderPage(page: FieldWorkOrderPage): Html {
  const { frame, view, versionId, earlier, first, problem } = page;
  const { timeZone } = frame.me.business;
  return fieldPage({
    ...frame,
    title: workOrderNumber(view.number),
    heading: view.vehicle.description,
    lead: `${workOrderNumber(view.number)} · ${view.account.name}, ${view.site.name}`,
    current: null,
    scripts: [frame.assets.pictures, frame.assets.sending],
    body: html`
      ${problem && (problem.code === 'duplicate' ? notice('info', 'Already there', problem.detail) : notice('problem', 'Not done yet', problem.detail))}
      ${vinWarnings(view)}
      ${earlierNotice(view, earlier)}
      ${storyNotices(view, '/field/work-orders', timeZone)}
      ${view.holdReason !== null && notice('problem', 'On hold', view.holdReason)}
      ${consentNotices(frame, view)}
      ${view.state === 'awaiting_approval' && html`<p>${quietLink({ label: 'They are here: take their answer', href: `/field/work-orders/${view.id}/answer` })}</p>`}
      ${notAccepted(view)}
      <p>${stateShown(view.state)}${view.waitsFor !== 'nobody' && view.waitsFor !== 'approval' && html`, waits for ${waitsForWords[view.waitsFor]}`}</p>
      <section><h2>Lines</h2>${linesOf(view)}${moreLines(view)}</section>
      ${priceOf(view)}
      <section><h2>Photos</h2>${photosOf(view)}</section>
      ${first && firstOrderShown(first)}
      ${storySections(view, timeZone)}
      ${turnLinks(frame, view)}
      <section><h2>Vehicle and numbers</h2>${definitionList(factsOf(view))}
        <p>${quietLink({ label: 'Numbers, owner, quote', href: `/field/work-orders/${view.id}/details` })}</p></section>
      <section><h2>So far</h2>${seam('The life of this work order', stitchesOf(view, timeZone))}</section>
      ${nextForm(frame, view, versionId)}`,
    primaryAction: nextAction(view),
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

/** A doubt about the VIN stays in sight as long as the vehicle does; it stops nothing. */
function vinWarnings({ vehicle }: WorkOrderView): readonly Html[] {
  const vin = vehicle.vin === null ? null : parseVin(vehicle.vin);
  if (vin === null || !vin.ok) return [];
  return vin.value.warnings.map((warning) =>
    notice('info', 'Look at the VIN again', `${warning.sentence} It is used as it was written.`),
  );
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

function nextAction(view: WorkOrderView): Html {
  const { label, href, method } = nextStep(view);
  return method === 'get' ? fieldLink({ label, href }) : fieldButton({ label, form: 'next-step' });
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
  const priced = (line: WorkOrderLineView) => estimate?.lines.find((each) => each.lineId === line.id);
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
      { header: 'Price', figure: true, cell: (line) => priceShown(priced(line)?.netMinor, currency) },
    ],
  });
}

function answerOf({ answer, answerReason }: WorkOrderLineView): string | null {
  return answer === null || answerReason === '' ? answer : `${answer}: ${answerReason}`;
}

function priceShown(minor: bigint | undefined, currency: string): Html | string {
  return minor === undefined ? 'no price yet' : money(minor, currency);
}

function moreLines(view: WorkOrderView): Html | false {
  const how = lineChangeIn(view.state);
  const label = how === 'written_up' ? 'Add another line' : 'Found more: add a line';
  const isNext = how === 'written_up' && view.lines.length === 0;
  return (
    how !== 'closed' &&
    !isNext &&
    html`<p>${quietLink({ label, href: `/field/work-orders/${view.id}/lines/new` })}</p>`
  );
}

function priceOf(view: WorkOrderView): Html | null {
  const { estimate, currency } = view;
  if (estimate === null) return null;
  const heading = estimate.version === null ? 'Price so far' : `Estimate, version ${estimate.version}`;
  const minimum = estimate.price.vehicle.minimum;
  return html`<section><h2>${heading}</h2>
    ${minimum && html`<p class="hint">${minimum.trail}</p>`}
    ${estimateSums(estimate.price, currency, view.deposit)}
    <p>A limit is compared with ${money(estimate.price.limitMinor, currency)}: repairs and after-hours, before trip and tax.</p>
    ${againstReplacement(view.replacement, estimate.price.visit.netMinor, currency)}
  </section>`;
}

function photosOf(view: WorkOrderView): Html {
  const words = (lineId: string | null) =>
    lineId === null
      ? 'The vehicle'
      : (view.lines.find((line) => line.id === lineId)?.words ?? 'A line that is not done');
  const strip = pictureRow(
    view.photos.map((photo) => ({
      src: `/photos/${photo.id}/thumb`,
      ready: photo.ready,
      alt: `${words(photo.lineId)}: ${photoPurposes[photo.purpose]}`,
      caption: photoPurposes[photo.purpose],
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
