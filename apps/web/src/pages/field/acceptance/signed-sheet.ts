import { acceptanceOutcomes, signerRoles } from '@grainwright/domain';
import type { OwnersCopy } from '@grainwright/operations';
import { instantShown } from '../../../look/figures.ts';
import { type Html, html } from '../../../look/html.ts';
import { notice } from '../../../look/notices.ts';
import { sealFrame } from '../../../look/seam.ts';
import { definitionList } from '../../../look/tables.ts';
import { drawnSignature } from '../../work-order/acceptance-shown.ts';
import { vehicleShown, workShown } from './shown-parts.ts';

export interface SignedSheet extends Pick<OwnersCopy, 'signed'> {
  readonly business: Pick<OwnersCopy['business'], 'name' | 'phone' | 'timeZone'>;
}

/** What the signer keeps: the answer, to what, by whom, and the digest that binds them. */
export function signedSheet({ business, signed }: SignedSheet): Html {
  const { answer, shown, workOrder } = signed;
  const accepted = answer.outcome !== 'not_accepted';
  return html`
    ${notice(
      accepted ? 'done' : 'info',
      `The repair is ${acceptanceOutcomes[answer.outcome]}`,
      accepted ? null : 'The repair business will put it right and ask you again.',
    )}
    ${sealFrame(html`
      <h2>Keep a copy</h2>
      ${vehicleShown(shown)}
      ${workShown(shown)}
      ${definitionList([
        { term: 'Answer', value: acceptanceOutcomes[answer.outcome] },
        ...(answer.remark === '' ? [] : [{ term: 'Remark', value: answer.remark }]),
        { term: 'Signed by', value: `${answer.signerName}, ${signerRoles[answer.signerRole]}` },
        { term: 'On', value: instantShown(answer.acceptedAt, business.timeZone) },
        { term: 'Repaired by', value: `${business.name}, ${business.phone}` },
        { term: 'Work order', value: `WO-${workOrder.number}` },
        { term: 'Pictures shown', value: String(shown.photos.length) },
      ])}
      ${answer.drawn && drawnSignature(answer.drawn, answer.signerName)}
      <p>${shown.text.text}</p>
      <p>SHA-256 of what was shown and signed: <code>${answer.digest}</code></p>`)}
    ${whatToExpect(signed.expect)}
    <p>Take a picture of this page, or print it. What you signed can’t be changed any more.</p>`;
}

/** How to care for the repair. */
export function whatToExpect(sentences: readonly string[]): Html | null {
  if (sentences.length === 0) return null;
  return html`<h2>What to expect</h2>
    ${sentences.map((sentence) => html`<p>${sentence}</p>`)}`;
}

/** Above the signed copy. */
export function signedHeading({ answer }: SignedSheet['signed']): string {
  return answer.outcome === 'not_accepted' ? 'Your answer is kept' : 'Thank you';
}
