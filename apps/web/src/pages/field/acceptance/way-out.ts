import { type Html, html } from '../../../look/html.ts';

/** For the technician who gets the phone back unsigned: small, after all that the signer is asked. */
export function wayOut({ notSigned, back }: { readonly notSigned?: string; readonly back: string }): Html {
  return html`<p class="buttons"><span class="hint">Technician:</span>
    ${notSigned !== undefined && html`<a class="plain-button" href="${notSigned}">Nobody here signs</a>`}
    <a class="plain-button" href="${back}">Back</a></p>`;
}
