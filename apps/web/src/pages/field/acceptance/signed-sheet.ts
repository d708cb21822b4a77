import { acceptanceOutcomes, signerRoles } from '@grainwright/domain';
import type { CopyPage, SignedAcceptance } from '@grainwright/operations';
import { sentLaterShown } from '../../../look/figures.ts';
import { type Html, html } from '../../../look/html.ts';
import { notice } from '../../../look/notices.ts';
import { sealFrame } from '../../../look/seam.ts';
import { definitionList } from '../../../look/tables.ts';
import { signatureShown } from '../../work-order/acceptance-shown.ts';
import { copiesShown } from '../../work-order/copies-shown.ts';
import { wordsSigned } from './answer-fields.ts';
import { type PictureOf, picturedParts } from './pictured-parts.ts';
import { vehicleShown, workShown } from './shown-parts.ts';

export interface SignedSheet {
  readonly business: Pick<CopyPage['business'], 'name' | 'phone' | 'timeZone'>;
  readonly signed: SignedAcceptance;
  /** Where the pictures come from, and the signature. */
  readonly pictureOf?: PictureOf | undefined;
  readonly signatures?: string | undefined;
}

/** What the signer keeps: the answer, to what, by whom, and the digest that binds them. */
export function signedSheet(sheet: SignedSheet): Html {
  const { business, signed } = sheet;
  const accepted = signed.answer.outcome !== 'not_accepted';
  return html`
    ${notice(
      accepted ? 'done' : 'info',
      `The repair is ${acceptanceOutcomes[signed.answer.outcome]}`,
      accepted ? null : 'The repair business will put it right and ask you again.',
    )}
    ${signedText(sheet)}
    ${signed.parts.length > 0 && html`<h2>Before and after</h2>${picturedParts(signed.parts, sheet.pictureOf)}`}
    ${whatToExpect(signed.expect)}
    ${signed.copies.length > 0 && html`<h2>Where your copy went</h2>${copiesShown(signed.copies, business.timeZone)}`}
    <p>You can print this page too, or ask for it on paper. What you signed can’t be changed any more.</p>`;
}

/** The text that was signed, as it stands on record. */
export function signedText({ business, signed, signatures }: SignedSheet): Html {
  const { answer, shown, workOrder } = signed;
  return sealFrame(html`
    <h2>Keep a copy</h2>
    ${vehicleShown(shown)}
    ${workShown(shown)}
    ${definitionList([
      { term: 'Answer', value: acceptanceOutcomes[answer.outcome] },
      ...(answer.remark === '' ? [] : [{ term: 'Remark', value: answer.remark }]),
      { term: 'Signed by', value: `${answer.signerName}, ${signerRoles[answer.signerRole]}` },
      { term: 'Known by', value: answer.identifiedBy },
      { term: 'On', value: sentLaterShown(answer.acceptedAt, answer.answeredAt, business.timeZone) },
      { term: 'Repaired by', value: `${business.name}, ${business.phone}` },
      { term: 'Work order', value: `WO-${workOrder.number}` },
      { term: 'Pictures shown', value: String(shown.photos.length) },
    ])}
    ${signatureShown(answer, signatures)}
    ${answer.method === 'typed' && html`<p>The name was typed and confirmed as the signature.</p>`}
    ${wordsSigned(shown)}
    <p>SHA-256 of what was shown and signed: <code>${answer.digest}</code></p>`);
}

/** How to care for the repair. */
export function whatToExpect(sentences: readonly string[]): Html | null {
  if (sentences.length === 0) return null;
  return html`<h2>What to expect</h2>
    ${sentences.map((sentence) => html`<p>${sentence}</p>`)}`;
}

/** Above the signed copy. */
export function signedHeading({ answer }: Pick<SignedAcceptance, 'answer'>): string {
  return answer.outcome === 'not_accepted' ? 'Your answer is kept' : 'Thank you';
}
