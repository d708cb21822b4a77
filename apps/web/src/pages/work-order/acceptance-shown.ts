import { signerRoles } from '@grainwright/domain';
import type { AcceptanceView } from '@grainwright/operations';
import { instantShown } from '../../look/figures.ts';
import { type Html, html } from '../../look/html.ts';
import { statusWord } from '../../look/notices.ts';
import { sealFrame } from '../../look/seam.ts';

/** Who accepted the work, how they signed, and the digest of what they were shown. */
export function acceptanceShown(acceptance: AcceptanceView, timeZone: string): Html {
  const { outcome, remark, signerName, signerRole, identifiedBy, drawn, method, digest, acceptedAt } =
    acceptance;
  return sealFrame(html`
    <p>${statusWord(outcome === 'not_accepted' ? 'problem' : 'settled', outcomeWords[outcome])}</p>
    ${remark !== '' && html`<p>“${remark}”</p>`}
    ${drawn && drawnSignature(drawn, signerName)}
    <p>${signerName}, ${signerRoles[signerRole]}, ${instantShown(acceptedAt, timeZone)}${method === 'typed' && ', name typed and confirmed'}</p>
    <p>Known by: ${identifiedBy}</p>
    <p>What was shown: <code>${digest}</code></p>`);
}

const outcomeWords = {
  accepted: 'accepted',
  accepted_with_remark: 'accepted with a remark',
  not_accepted: 'not accepted',
} as const satisfies Record<AcceptanceView['outcome'], string>;

export function drawnSignature(drawn: NonNullable<AcceptanceView['drawn']>, signerName: string): Html {
  return html`<svg class="drawn-signature" viewBox="${drawn.viewBox}" role="img" aria-label="Signature of ${signerName}"><path d="${drawn.path}"
    fill="none" stroke="currentColor" stroke-width="2" stroke-linecap="round" stroke-linejoin="round"/></svg>`;
}
