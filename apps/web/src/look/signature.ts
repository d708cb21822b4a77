/**
 * signatureField({strokesName, nameName, confirmName, …}): the signer's name and a box to confirm it, which
 * work without JavaScript, and above them a place to draw that browser/signature.ts opens. The strokes come
 * as JSON [[{x, y, t}]]: x and y in pixels of a drawing `data-width` wide on the screen it was drawn on, t in
 * milliseconds since the first touch.
 */

import { checkboxField, described, fieldClass, fieldId, hintAndError, textField } from './forms.ts';
import { attributes, type Fragment, type Html, html } from './html.ts';

export interface SignatureField {
  readonly strokesName: string;
  readonly typedName: string;
  readonly confirmName: string;
  readonly label: string;
  /** What the person confirms, in full. */
  readonly confirmation: string;
  readonly hint?: Fragment;
  readonly strokes?: string | undefined;
  readonly typed?: string | undefined;
  readonly confirmed?: boolean | undefined;
  readonly errors?: {
    readonly strokes?: string | undefined;
    readonly typed?: string | undefined;
    readonly confirm?: string | undefined;
  };
}

export function signatureField(field: SignatureField): Html {
  return html`${textField({
    name: field.typedName,
    label: 'Your name',
    value: field.typed,
    error: field.errors?.typed,
    required: true,
    autocomplete: 'off',
  })}
  ${drawing(field)}
  ${checkboxField({
    name: field.confirmName,
    label: field.confirmation,
    checked: field.confirmed ?? false,
    error: field.errors?.confirm,
    required: true,
  })}`;
}

/** Hidden until the module opens it: without JavaScript the typed name and the box are the signature. */
function drawing(field: SignatureField): Html {
  const drawn = { name: field.strokesName, hint: field.hint, error: field.errors?.strokes };
  const id = fieldId(drawn);
  return html`<div ${attributes({
    class: `${fieldClass(drawn)} signature`,
    role: 'group',
    'aria-labelledby': `${id}-label`,
    'aria-describedby': described(drawn),
    hidden: true,
    'data-signature-field': '',
  })}>
    <p class="label" id="${id}-label">${field.label} <span class="optional">optional</span></p>
    ${hintAndError(drawn)}
    <canvas data-signature="${field.strokesName}" id="${id}" class="signature-canvas" tabindex="-1"
      role="img" aria-label="Place to draw. Your name and the box below count as a signature too."></canvas>
    <input type="hidden" name="${field.strokesName}" value="${field.strokes}" data-strokes="${field.strokesName}">
    <div class="signature-tools">
      <button type="button" class="button" data-signature-undo>Undo</button>
      <button type="button" class="button" data-signature-clear>Clear</button>
    </div>
  </div>`;
}
