import { allows, formatDecimal, formatMinor, type Problem, signerRoles } from '@grainwright/domain';
import { type Approver, type LegalHoldView, numberWords, type WorkOrderView } from '@grainwright/operations';
import { quietLink } from '../../../look/buttons.ts';
import { dayShown, dayText, instantShown, money } from '../../../look/figures.ts';
import { type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { notice } from '../../../look/notices.ts';
import { seam } from '../../../look/seam.ts';
import { dataTable, definitionList } from '../../../look/tables.ts';
import type { Frame } from '../../person.ts';
import { attemptsSection } from '../../work-order/attempts.ts';
import { consentNotices, readerOf } from '../../work-order/consent-parts.ts';
import { decisionShown } from '../../work-order/decision-shown.ts';
import { evidenceLinks } from '../../work-order/evidence-links.ts';
import { picturesOf } from '../../work-order/pictures.ts';
import { estimateSums, explainedLines, linesTable } from '../../work-order/price-parts.ts';
import { recordingsOf } from '../../work-order/recordings.ts';
import { replacementBeside } from '../../work-order/replacement-parts.ts';
import { stateShown, waitsForWords, workOrderNumber } from '../../work-order/state-words.ts';
import { stitchesOf } from '../../work-order/stitches.ts';
import { firstOrderShown, storyNotices, storySections } from '../../work-order/story-parts.ts';
import { questionNotice, threadOf, threadSection } from '../../work-order/thread-parts.ts';
import { warnedPhotosOf } from '../../work-order/warned-photos.ts';
import { coveringLinks } from '../covering/covering-links.ts';
import { issueInvoiceForm } from '../invoices/issue-invoice-form.ts';
import { holdNotices } from '../legal-holds/view.ts';
import { type AskedSection, askedSection } from './asked-section.ts';
import { type FloorTyped, floorPart } from './floor-part.ts';
import { type NumbersTyped, numbersForm } from './numbers-form.ts';
import { type RecordedTyped, recordedAnswerForm } from './recorded-answer-form.ts';
import { type TypedTurn, turnForms } from './turn-forms.ts';

export interface OfficeWorkOrderPage {
  readonly frame: Frame;
  readonly view: WorkOrderView;
  /** For the invoice that may be issued from here, made when the page is. */
  readonly invoiceId: string;
  /** Of the message that is written next. */
  readonly messageId: string;
  /** Whose answer may be written down; empty where none may. */
  readonly approvers: readonly Approver[];
  readonly numbers: { readonly typed: NumbersTyped; readonly problem: Problem | null };
  readonly answer: { readonly typed: RecordedTyped; readonly problem: Problem | null };
  /** A hold, void or release that came back. */
  readonly turn: TypedTurn | null;
  readonly asked: Omit<AskedSection, 'frame' | 'view'>;
  /** A consent that came back. */
  readonly floor: FloorTyped | null;
  /** The first order, where this is a rework. */
  readonly first: WorkOrderView | null;
  /** What keeps it, or all of its account, from being deleted. */
  readonly holds: readonly LegalHoldView[];
}

/** Everything about one work order, for the desk. */
export function officeWorkOrderView(page: OfficeWorkOrderPage): Html {
  const { frame, view } = page;
  const { timeZone } = frame.me.business;
  return officePage({
    title: workOrderNumber(view.number),
    heading: `${workOrderNumber(view.number)}: ${view.vehicle.description}`,
    lead: html`${stateShown(view.state)}${view.waitsFor !== 'nobody' && view.state !== 'awaiting_approval' && html`, waits for ${waitsForWords[view.waitsFor]}`}`,
    beside: html`${quietLink({ label: 'In the field', href: `/field/work-orders/${view.id}` })}`,
    ...frame,
    current: 'work-orders',
    scripts: [frame.assets.pictures, frame.assets.divider],
    body: html`
      ${view.holdReason !== null && notice('problem', 'On hold', view.holdReason)}
      ${holdNotices(page.holds, timeZone)}
      ${notAcceptedNotice(view, timeZone)}
      ${consentNotices(readerOf(frame), view)}
      ${questionNotice(view)}
      ${storyNotices(view, '/office/work-orders', timeZone)}
      <div class="beside-each-other">
        <section><h2>Facts</h2>${facts(view)}</section>
        <section><h2>How it went</h2>${seam('How this work order went', stitchesOf(view, timeZone))}</section>
      </div>
      <section>${linesFound(view)}</section>
      <section><h2>Estimate</h2>${estimate(view, timeZone)}${depositStep(frame, view)}</section>
      ${floorPart(frame, view, page.floor)}
      ${
        view.decision &&
        html`<section><h2>Answer</h2>${decisionShown(view, view.decision, timeZone)}
        <p class="unprinted">${quietLink({ label: 'The answer on record, with what was seen', href: `/office/work-orders/${view.id}/decisions/${view.decision.id}` })}</p></section>`
      }
      ${askedSection({ frame, view, ...page.asked })}
      ${recordedAnswerForm(page)}
      <section><h2>Photos</h2>${picturesOf(view)}${coveringLinks(view)}${warnedPhotosOf(view, timeZone)}${recordingsOf(view.recordings, { timeZone, isStaff: true })}</section>
      ${page.first && firstOrderShown(page.first)}
      ${storySections(view, timeZone)}
      ${attemptsSection(view, timeZone)}
      ${view.answers.length + view.notSigned.length > 0 && html`<p class="unprinted">${quietLink({ label: 'What is on record of each answer, and copies', href: `/office/work-orders/${view.id}/acceptances` })}</p>`}
      ${threadSection(threadOf(view, timeZone, { action: `/office/work-orders/${view.id}/messages`, csrfToken: frame.csrfToken, messageId: page.messageId }))}
      ${evidenceLinks(view, 'office')}
      ${invoice(page)}
      ${numbersForm(page)}
      ${turnForms(frame, view, page.turn)}
      <section>${steps(view, timeZone)}</section>`,
  });
}

/** A no stays in sight until it was put right and answered anew. */
function notAcceptedNotice({ state, acceptance }: WorkOrderView, timeZone: string): Html | null {
  if (state !== 'done' || acceptance?.outcome !== 'not_accepted') return null;
  const { signerName, signerRole, remark, acceptedAt } = acceptance;
  return notice(
    'problem',
    `Not accepted by ${signerName}, ${signerRoles[signerRole]}`,
    html`<p>${instantShown(acceptedAt, timeZone)}: ${remark}</p><p>The technician puts it right, takes a new after picture, and asks again.</p>`,
  );
}

/** Once it is accepted, or void with a fee, its invoice; from then on the invoice itself. */
function invoice({ frame, view, invoiceId }: OfficeWorkOrderPage): Html | null {
  if (view.invoice !== null)
    return html`<section><h2>Invoice</h2><p><a href="/office/invoices/${view.invoice.id}">${view.invoice.number}</a></p></section>`;
  const hasFee = view.voided !== null && view.voided.noShowFeeMinor !== null;
  const isToBill = hasFee || (view.state === 'accepted' && view.reworkOf === null);
  if (!isToBill || !allows(frame.me.role, 'issue_invoice')) return null;
  return html`<section class="unprinted" id="invoice"><h2>Invoice</h2>
    ${view.waitsFor === 'po' && html`<p>The account asks for a number that is still missing. Write it down below first.</p>`}
    ${issueInvoiceForm({ workOrder: view, invoiceId, csrfToken: frame.csrfToken })}
    <p class="hint">Several vehicles of one visit on one invoice: <a href="/office/invoices/ready">ready to invoice</a>.</p></section>`;
}

function facts(view: WorkOrderView): Html {
  const { vehicle, visit, owner, numbers } = view;
  const optional = (term: string, value: string) => (value === '' ? [] : [{ term, value }]);
  return definitionList([
    { term: 'Account', value: html`<a href="/office/accounts/${view.account.id}">${view.account.name}</a>` },
    ...optional('Its numbers', numberWords(numbers)),
    ...optional('Numbers asked for', numbersAsked(view)),
    { term: 'Vehicle', value: vehicle.description },
    ...optional('VIN', vehicle.vin ?? (vehicle.lastEight === null ? '' : `ending in ${vehicle.lastEight}`)),
    ...optional(
      'Written up as',
      vehicle.writtenAs === null ? '' : `${vehicle.writtenAs}, as its owner signs`,
    ),
    ...optional(
      'Odometer',
      view.odometerMiles === null ? '' : `${view.odometerMiles.toLocaleString('en-US')} mi`,
    ),
    ...optional('Owner', [owner.name, owner.phone].filter((part) => part !== '').join(', ')),
    {
      term: 'Visit',
      value: html`${view.site.name}, ${dayShown(visit.day)}${visit.afterHours && ', after hours'}${visit.rush && ', rush'}${visit.walkIn && ', walk-in'}`,
    },
    { term: 'Technician', value: view.technician.name },
  ]);
}

/** “by e-mail on 2 days, last Oct 16, 2026: Ansel Corvin, Bettina Quarles”. */
function numbersAsked({ numbersAsked: asked }: WorkOrderView): string {
  const last = asked.at(-1);
  if (last === undefined) return '';
  const days = new Set(asked.map(({ on }) => on)).size;
  const names = [...new Set(asked.map(({ name }) => name))].join(', ');
  return `by e-mail on ${days === 1 ? '1 day' : `${days} days`}, last ${dayText(last.on)}: ${names}`;
}

function linesFound(view: WorkOrderView): Html {
  return dataTable({
    caption: 'Damage and material',
    rows: view.lines,
    empty: html`<p>No line is written up yet.</p>`,
    narrow: 'scroll',
    columns: [
      { header: 'No.', figure: true, cell: (line) => line.position },
      { header: 'Line', names: true, cell: (line) => line.words },
      {
        header: 'Size, in',
        figure: true,
        cell: (line) => line.measuredInches !== null && formatDecimal(line.measuredInches),
      },
      { header: 'Observed', cell: (line) => line.observed },
      {
        header: 'Inferred',
        cell: (line) =>
          html`${line.inferred}${line.overruleReason !== null && html`<br>overruled: ${line.overruleReason}`}`,
      },
      { header: 'Repair', cell: (line) => line.unpriced ?? `${line.rateCode ?? ''} ${line.repair ?? ''}` },
      { header: 'Seen when', cell: (line) => line.visibleWhen },
      { header: 'Note', cell: (line) => line.note },
      {
        header: 'Answer',
        cell: (line) =>
          line.answer !== null && `${line.answer}${line.answerReason === '' ? '' : `: ${line.answerReason}`}`,
      },
    ],
  });
}

function estimate(view: WorkOrderView, timeZone: string): Html {
  const { estimate: current, currency } = view;
  if (current === null) return html`<p>Nothing is priced yet.</p>`;
  const { price } = current;
  return html`
    ${versionWords(current, timeZone)}
    ${linesTable(explainedLines(view, price), price.vehicle.repairsMinor, currency, true)}
    ${estimateSums(price, currency, view.deposit)}
    <p class="hint">A limit is compared with ${money(price.limitMinor, currency)}: repairs and after-hours, before trip and tax.</p>
    ${replacementBeside(view)}
    <p class="unprinted">${quietLink({ label: 'What new parts would cost', href: `/field/work-orders/${view.id}/quotes` })}</p>`;
}

/** What is asked in advance and is not there yet: one step away for whoever takes the money. */
function depositStep({ me }: Frame, { id, account, deposit, currency }: WorkOrderView): Html | null {
  if (deposit === null || !allows(me.role, 'record_payment')) return null;
  const missingMinor = deposit.askedMinor - deposit.heldMinor;
  if (missingMinor <= 0n) return null;
  const amount = formatMinor(missingMinor, currency);
  const query = new URLSearchParams({ account: account.id, work_order: id, amount });
  return html`<p class="unprinted">${quietLink({ label: 'Record the deposit', href: `/office/deposits/new?${query}` })}</p>`;
}

function versionWords(
  { version, madeAt, expiresOn, digest }: NonNullable<WorkOrderView['estimate']>,
  timeZone: string,
): Html {
  if (version === null) return html`<p>Not sent yet: this is what it comes to now.</p>`;
  return html`<p>Version ${version}${madeAt !== null && html`, sent ${instantShown(madeAt, timeZone)}`}${
    expiresOn !== null && html`, good through ${dayShown(expiresOn)}`
  }${digest !== null && html`, digest <span class="code">${digest.slice(0, 12)}…</span>`}</p>`;
}

function steps(view: WorkOrderView, timeZone: string): Html {
  return dataTable({
    caption: 'Steps on record',
    rows: view.steps,
    empty: html`<p>No step is on record.</p>`,
    columns: [
      { header: 'When', names: true, cell: (step) => instantShown(step.happenedAt, timeZone) },
      { header: 'Who', cell: (step) => step.personName ?? 'by a link' },
      { header: 'What', cell: (step) => step.event.replaceAll('_', ' ') },
      { header: 'Now', cell: (step) => stateShown(step.toState) },
      { header: 'Note', cell: (step) => step.note },
    ],
  });
}
