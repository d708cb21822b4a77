import { acceptanceOutcomes, signerRoles } from '@grainwright/domain';
import type { AcceptanceView } from '@grainwright/operations';
import { sentLaterShown } from '../../look/figures.ts';
import { type Html, html } from '../../look/html.ts';
import { statusWord } from '../../look/notices.ts';
import { sealFrame } from '../../look/seam.ts';

/** Who answered, how they signed, and the digest of what they were shown. */
export function acceptanceShown(acceptance: AcceptanceView, timeZone: string): Html {
  const { outcome, remark, signerName, signerRole, identifiedBy, method, digest } = acceptance;
  const { acceptedAt, answeredAt } = acceptance;
  return sealFrame(html`
    <p>${statusWord(outcome === 'not_accepted' ? 'problem' : 'settled', acceptanceOutcomes[outcome])}</p>
    ${remark !== '' && html`<p>“${remark}”</p>`}
    ${signatureShown(acceptance)}
    <p>${signerName}, ${signerRoles[signerRole]}, ${sentLaterShown(acceptedAt, answeredAt, timeZone)}${method === 'typed' && ', name typed and confirmed'}</p>
    <p>Known by: ${identifiedBy}</p>
    <p>What was shown: <code>${digest}</code></p>`);
}

/** The picture that was kept of it; what was signed before pictures were kept is drawn from its strokes. */
export function signatureShown(
  { id, picture, drawn, signerName }: AcceptanceView,
  folder = '/signatures',
): Html | null {
  if (picture !== null)
    return html`<img class="drawn-signature" src="${folder}/${id}" width="640" height="240" alt="Signature of ${signerName}">`;
  return drawn && drawnSignature(drawn, signerName);
}

export function drawnSignature(drawn: NonNullable<AcceptanceView['drawn']>, signerName: string): Html {
  return html`<svg class="drawn-signature" viewBox="${drawn.viewBox}" role="img" aria-label="Signature of ${signerName}"><path d="${drawn.path}"
    fill="none" stroke="currentColor" stroke-width="2" stroke-linecap="round" stroke-linejoin="round"/></svg>`;
}
