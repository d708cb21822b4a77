import { type Instant, missingSignatureReasons, witnessWords } from '@grainwright/domain';
import type { NotSignedView, WorkOrderView } from '@grainwright/operations';
import { instantShown } from '../../look/figures.ts';
import { type Html, html } from '../../look/html.ts';
import { statusWord } from '../../look/notices.ts';
import { acceptanceShown } from './acceptance-shown.ts';

/**
 * Every time that somebody was asked to accept, in the order it happened: a no and its reason, that nobody signed and who
 * saw it, and the yes in the end. A later attempt takes nothing away of an earlier one.
 */
export function attemptsSection(
  { answers, notSigned }: Pick<WorkOrderView, 'answers' | 'notSigned'>,
  timeZone: string,
): Html | null {
  const attempts = [
    ...answers.map((answer) => ({ at: answer.acceptedAt, shown: acceptanceShown(answer, timeZone) })),
    ...notSigned.map((row) => ({ at: row.recordedAt, shown: nobodySigned(row, timeZone) })),
  ].toSorted(inOrder);
  const [only] = attempts;
  if (only === undefined) return null;
  if (attempts.length === 1) return html`<section><h2>Acceptance</h2>${only.shown}</section>`;
  return html`<section><h2>Acceptance, in ${attempts.length} attempts</h2>
    <ol class="attempts">${attempts.map(({ shown }) => html`<li>${shown}</li>`)}</ol></section>`;
}

function inOrder(a: { readonly at: Instant }, b: { readonly at: Instant }): number {
  return a.at === b.at ? 0 : a.at < b.at ? -1 : 1;
}

/** That nobody signed: why, who saw it, and who let the work go in spite of it. */
export function nobodySigned(row: NotSignedView, timeZone: string): Html {
  const { why, reason, witness, recordedBy, recordedAt, released } = row;
  return html`<p>${statusWord('problem', missingSignatureReasons[why])}, ${instantShown(recordedAt, timeZone)}</p>
    <p>“${reason}”</p>
    <p>${witnessWords(witness)}. Written down by ${recordedBy}.</p>
    ${released && html`<p>Released by ${released.by}, ${instantShown(released.at, timeZone)}: ${released.reason}</p>`}`;
}
