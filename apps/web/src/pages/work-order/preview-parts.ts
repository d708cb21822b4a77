import { changeWords, type DecisionId, formatMinor, type PhotoId, type Problem } from '@grainwright/domain';
import type { DecisionPreview } from '@grainwright/operations';
import { actionButton, quietButton } from '../../look/buttons.ts';
import { sums } from '../../look/document-sheet.ts';
import { dayText, money, moneyText } from '../../look/figures.ts';
import { hiddenCsrf, hiddenField } from '../../look/forms.ts';
import { type Fragment, type Html, html } from '../../look/html.ts';
import { notice } from '../../look/notices.ts';
import { dataTable } from '../../look/tables.ts';
import { comparedWords, onceAVisit, reasons } from './price-parts.ts';
import { againstReplacement } from './replacement-parts.ts';

export interface PreviewParts {
  readonly preview: DecisionPreview;
  readonly decisionId: DecisionId;
  readonly action: string;
  /** Null where the address itself is the secret. */
  readonly csrfToken: string | null;
  readonly problem: Problem | null;
  /** Whose limit it is, in words: “Your limit”. */
  readonly whoseLimit: string;
  /** Where answers above the limit go to be passed on, and who sees them there; left out where only their own giver passes them on. */
  readonly passOn?: { readonly action: string; readonly business: string };
  /** The photos that stood on the page before. */
  readonly photoIds: readonly PhotoId[];
  /** More hidden fields that the answer needs. */
  readonly hidden?: readonly (readonly [name: string, value: string])[];
  /** What the person fills in before the answer is sent, such as a signature. */
  readonly before?: Html;
}

/** What the answers come to, and the buttons that send them. */
export function previewParts(parts: PreviewParts): Html {
  const { preview, problem } = parts;
  const { currency } = preview;
  const charge = (term: string, minor: bigint) =>
    minor === 0n ? [] : [{ term, value: money(minor, currency) }];
  return html`
    ${problem && notice('problem', 'Not sent', problem.detail)}
    <p>${totalWords(preview)}</p>
    ${increaseWords(preview)}
    ${linesWithAnswers(preview)}
    ${sums([
      { term: 'Repairs', value: money(preview.repairsMinor, currency) },
      ...charge('After hours', preview.afterHoursMinor),
      ...charge('Rush', preview.rushMinor),
      ...charge('Visit minimum', preview.visitMinimumMinor),
      { term: 'Trip', value: money(preview.tripMinor, currency) },
      { term: 'Tax', value: money(preview.taxMinor, currency) },
      { term: 'New total', value: money(preview.totalMinor, currency) },
    ])}
    ${reasons([
      preview.minimumTrail,
      preview.afterHoursTrail,
      preview.rushTrail,
      preview.visitMinimumTrail,
      tripWords(preview),
      ...onceAVisit(preview.visitMinimumMinor, preview.tripMinor),
    ])}
    ${preview.totalMinor > 0n && againstReplacement(preview.quoted, preview.totalMinor - preview.taxMinor, currency)}
    ${inWhosePlace(parts)}${limitNotice(parts)}
    ${confirmForm(parts)}`;
}

function totalWords({ lines, totalMinor, offeredTotalMinor, currency }: DecisionPreview): Html {
  const approved = lines.filter((line) => line.answer === 'approved').length;
  if (approved === 0) return html`Every line is declined. Nothing is repaired and nothing is billed.`;
  if (approved === lines.length)
    return html`All lines approved: <strong>${money(totalMinor, currency)}</strong>.`;
  return html`${approved} of ${lines.length} lines approved: <strong>${money(totalMinor, currency)}</strong> instead of
    ${money(offeredTotalMinor, currency)}. The rest was priced again without what you declined.`;
}

/** Where declining changes the trip, both: the total falls by less than what was declined, and this is why. */
function tripWords(preview: DecisionPreview): string {
  const { tripMinor, tripTrail, offeredTripMinor, offeredTripTrail, currency } = preview;
  if (tripMinor === offeredTripMinor || preview.totalMinor === 0n) return tripTrail;
  return `Trip: was ${moneyText(offeredTripMinor, currency)} (${offeredTripTrail}), now ${moneyText(tripMinor, currency)} (${tripTrail})`;
}

/** What it is against the last yes; the more is in the words, the same whatever the sign. */
function increaseWords({ increase, currency }: DecisionPreview): Html | null {
  if (increase === null) return null;
  if (increase.differenceMinor === 0n)
    return html`<p>${money(increase.approvedMinor, currency)} was approved before: the total stays.</p>`;
  return html`<p><strong>The total that was approved goes ${changeWords(increase, currency)}.</strong></p>`;
}

function linesWithAnswers({ lines, currency, minimumMinor, repairsMinor }: DecisionPreview): Html {
  const minimum =
    minimumMinor === 0n
      ? []
      : [
          {
            description: 'Vehicle minimum',
            answer: '' as Fragment,
            offered: null,
            net: money(minimumMinor, currency) as Fragment,
          },
        ];
  return dataTable({
    caption: 'What changes',
    captionHidden: true,
    empty: html`<p>There are no lines.</p>`,
    totalsLabel: 'Repairs',
    rows: [
      ...lines.map((line) => ({
        description: line.description,
        answer: answerWords(line),
        offered: money(line.offeredMinor, currency),
        net: line.netMinor === null ? 'not billed' : money(line.netMinor, currency),
      })),
      ...minimum,
    ],
    columns: [
      { header: 'Line', names: true, cell: (line) => line.description },
      { header: 'Answer', cell: (line) => line.answer },
      { header: 'Was', figure: true, cell: (line) => line.offered },
      { header: 'Now', figure: true, cell: (line) => line.net, total: money(repairsMinor, currency) },
    ],
  });
}

function answerWords({
  answer,
  reason,
  trail,
  netMinor,
  offeredMinor,
}: DecisionPreview['lines'][number]): Fragment {
  if (answer === 'declined') return reason === '' ? 'declined' : html`declined: ${reason}`;
  if (netMinor === offeredMinor) return 'approved';
  return html`approved<br><span class="hint">${trail}</span>`;
}

function inWhosePlace({ preview: { answersFor } }: PreviewParts): Html | null {
  if (answersFor === null) return null;
  return html`<p>The answer is given for ${answersFor.name}, who is away until ${dayText(answersFor.through)}.</p>`;
}

function limitNotice({ preview, whoseLimit, passOn }: PreviewParts): Html | null {
  const { comparedMinor, limitMinor, withinLimit, currency } = preview;
  if (preview.expired)
    return notice(
      'problem',
      'This estimate has expired',
      'It can still be declined. Ask the repair business for a new one to approve.',
    );
  if (limitMinor === null || comparedMinor === 0n) return null;
  const what = comparedWords('Repairs', preview.afterHoursMinor, preview.rushMinor);
  const compared = `${what} come to ${moneyText(comparedMinor, currency)}`;
  if (withinLimit)
    return html`<p class="hint">${whoseLimit} is ${money(limitMinor, currency)}. ${compared}, before trip and tax.</p>`;
  return notice(
    'problem',
    'Above the limit',
    `${whoseLimit} is ${moneyText(limitMinor, currency)}. ${compared}, ${moneyText(comparedMinor - limitMinor, currency)} more. ${aboveWords(preview, passOn)}`,
  );
}

function aboveWords({ passTo }: DecisionPreview, passOn: PreviewParts['passOn']): string {
  if (passOn === undefined) return 'Decline lines, or ask somebody of the account with a higher limit.';
  return passTo === null
    ? `This is above your limit and nobody else of the account may approve as much. Send your ticks to ${passOn.business}; they will get in touch.`
    : `Decline lines, or pass your ticks on to ${passTo.name}, who may approve as much and is asked by e-mail.`;
}

/** All buttons send the same answers, but the one that declines everything, whatever was chosen. */
function confirmForm(parts: PreviewParts): Html {
  const { preview, decisionId, action, csrfToken, photoIds, hidden = [], before } = parts;
  const { lines, totalMinor, currency } = preview;
  const approves = lines.some((line) => line.answer === 'approved');
  const mayApprove = approves && preview.withinLimit && !preview.expired;
  const declineAll = { label: 'Decline all', name: 'choice', value: 'decline_all' };
  return html`<form method="post" action="${action}">
    ${csrfToken !== null && hiddenCsrf(csrfToken)}
    ${hiddenField('decision_id', decisionId)}
    ${hiddenField('version_id', preview.versionId)}
    ${hiddenField('digest', preview.digest)}
    ${hiddenField('total', formatMinor(totalMinor, currency))}
    ${hiddenField('photos', photoIds.join(','))}
    ${hidden.map(([name, value]) => hiddenField(name, value))}
    ${hiddenField('lines', lines.map(({ lineId }) => lineId).join(','))}
    ${lines.map(
      ({ lineId, answer, reason }) =>
        html`${hiddenField(`answer-${lineId}`, answer)}${hiddenField(`reason-${lineId}`, reason)}`,
    )}
    ${before}
    <div class="buttons">
      ${mayApprove && actionButton({ label: `Approve — ${moneyText(totalMinor, currency)}`, name: 'choice', value: 'as_shown' })}
      ${passOnButton(parts)}
      ${approves ? quietButton(declineAll) : actionButton(declineAll)}
    </div>
  </form>`;
}

function passOnButton({ preview, passOn }: PreviewParts): Html | null {
  if (passOn === undefined || preview.withinLimit || preview.expired) return null;
  const label = preview.passTo === null ? 'Send my ticks' : `Pass on to ${preview.passTo.name}`;
  return actionButton({ label, formAction: passOn.action });
}
