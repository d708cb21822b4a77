/**
 * Labelled fields. Each takes {name, label, hint?, error?, value?, required?, id?}: the hint and the error
 * stand beside the field and are tied to it, what was typed is kept, and the error says what to do.
 * `required: true` asks for it, `false` writes “optional”, left out says neither.
 *
 * textField, moneyField (currency), numberField (unit), dateField, textArea, selectField, radioCards,
 * checkboxField, cameraField, pictureField, fileField (accept); errorSummary(problems) goes at the top of the form and links to the fields;
 * hiddenCsrf(token), hiddenField(name, value). Buttons are in buttons.ts, signatures in signature.ts.
 */
import { attributes, type Fragment, type Html, html } from './html.ts';

export interface Field {
  readonly name: string;
  readonly label: string;
  readonly hint?: Fragment;
  readonly error?: string | undefined;
  readonly value?: string | undefined;
  readonly required?: boolean | undefined;
  /** Only where one page has two fields of a name. */
  readonly id?: string | undefined;
}

export interface TextField extends Field {
  readonly type?: 'text' | 'email' | 'password' | 'tel' | 'search';
  /** An autofill token of the HTML standard, e.g. `username`, or `off`. */
  readonly autocomplete?: string;
  readonly maxLength?: number;
  /** VINs, stock and PO numbers: capitals on the phone's keyboard, no corrections, figures aligned. */
  readonly code?: boolean;
  /** The id of a datalist with suggestions. */
  readonly list?: string;
  /** The one field that a page is opened for. */
  readonly autofocus?: boolean;
}

export interface Choice {
  readonly value: string;
  readonly label: string;
  readonly detail?: Fragment;
}

export interface FieldError {
  /** The field's name, or its id where it was given one. Null for an error of the whole form. */
  readonly field: string | null;
  readonly message: string;
}

export function textField(field: TextField): Html {
  return wrapped(
    field,
    html`<input ${attributes({
      ...wiring(field),
      type: field.type ?? 'text',
      value: field.type === 'password' ? undefined : field.value,
      autocomplete: field.autocomplete,
      maxlength: field.maxLength,
      class: field.code ? 'code' : undefined,
      autocapitalize: field.code ? 'characters' : undefined,
      spellcheck: field.code ? 'false' : undefined,
      list: field.list,
      autofocus: field.autofocus === true,
    })}>`,
  );
}

/** Typed as plain figures, e.g. 284.90; the currency stands beside it. */
export function moneyField(field: Field & { readonly currency: string }): Html {
  return withUnit(field, field.currency, 'before', 'decimal');
}

export function numberField(field: Field & { readonly unit: string; readonly whole?: boolean }): Html {
  return withUnit(field, field.unit, 'after', field.whole ? 'numeric' : 'decimal');
}

/** `value`, `min` and `max` are days, YYYY-MM-DD. */
export function dateField(field: Field & { readonly min?: string; readonly max?: string }): Html {
  const own = { type: 'date', value: field.value, min: field.min, max: field.max };
  return wrapped(field, html`<input ${attributes({ ...wiring(field), ...own })}>`);
}

export function textArea(field: Field & { readonly rows?: number; readonly maxLength?: number }): Html {
  const own = { rows: field.rows ?? 3, maxlength: field.maxLength };
  return wrapped(
    field,
    html`<textarea ${attributes({ ...wiring(field), ...own })}>${'\n'}${field.value}</textarea>`,
  );
}

/** `empty` is the words of the choice that is none, e.g. “Choose an account”. */
export function selectField(
  field: Field & { readonly choices: readonly Omit<Choice, 'detail'>[]; readonly empty?: string },
): Html {
  const option = (choice: Omit<Choice, 'detail'>) =>
    html`<option ${attributes({ value: choice.value, selected: choice.value === field.value })}>${choice.label}</option>`;
  return wrapped(
    field,
    html`<select ${attributes(wiring(field))}>${
      field.empty !== undefined && html`<option value="">${field.empty}</option>`
    }${field.choices.map(option)}</select>`,
  );
}

/** One of a few, each a card large enough for a thumb. */
export function radioCards(field: Field & { readonly choices: readonly Choice[] }): Html {
  const id = fieldId(field);
  const card = (choice: Choice, index: number) => html`<label class="card">
      <input ${attributes({
        type: 'radio',
        name: field.name,
        value: choice.value,
        id: index === 0 ? id : `${id}-${index}`,
        checked: choice.value === field.value,
        required: field.required === true,
      })}>
      <span class="card-label">${choice.label}</span>
      ${choice.detail && html`<span class="card-detail">${choice.detail}</span>`}
    </label>`;
  return html`<fieldset ${attributes({
    class: fieldClass(field),
    role: 'radiogroup',
    'aria-describedby': described(field),
    'aria-invalid': field.error ? 'true' : undefined,
  })}>
    <legend>${field.label}${optionalMark(field)}</legend>
    ${hintAndError(field)}
    <div class="cards">${field.choices.map(card)}</div>
  </fieldset>`;
}

/** `value` is what is sent when it is checked; `checked` whether it is. */
export function checkboxField(field: Field & { readonly checked?: boolean }): Html {
  const own = { type: 'checkbox', value: field.value ?? 'yes', checked: field.checked };
  return html`<div class="${fieldClass(field)}">
    <label class="check"><input ${attributes({ ...wiring(field), ...own })}> <span>${field.label}</span></label>
    ${hintAndError(field)}
  </div>`;
}

/**
 * Opens the phone's rear camera; on a desk, the file dialog. `several` lets more than one be chosen; `sendsAtOnce` sends
 * the form as soon as one is, where there is JavaScript: the camera itself has asked whether to use the picture.
 */
export function cameraField(
  field: Omit<Field, 'value'> & { readonly several?: boolean; readonly sendsAtOnce?: boolean },
): Html {
  const own = { type: 'file', accept: 'image/*', capture: 'environment', multiple: field.several };
  return wrapped(
    field,
    html`<input ${attributes({ ...wiring(field), ...own, 'data-photo': field.sendsAtOnce ? 'send' : '' })}>
    <ul class="previews" data-previews="${fieldId(field)}"></ul>`,
  );
}

/** Lets a picture be chosen from what is kept already: PNG or JPEG. */
export function pictureField(field: Omit<Field, 'value'>): Html {
  return fileField({ ...field, accept: 'image/png,image/jpeg' });
}

/** Lets a file be chosen. `accept` as HTML has it, e.g. `.csv,text/csv`. */
export function fileField(field: Omit<Field, 'value'> & { readonly accept: string }): Html {
  const own = { type: 'file', accept: field.accept };
  return wrapped(field, html`<input ${attributes({ ...wiring(field), ...own })}>`);
}

/** Stands at the top of a form that came back. It takes the focus, so it is read out first. */
export function errorSummary(problems: readonly FieldError[], ownHeading?: string): Html | null {
  if (problems.length === 0) return null;
  const heading =
    ownHeading ?? (problems.length === 1 ? 'One thing to correct' : `${problems.length} things to correct`);
  const entry = (problem: FieldError) =>
    problem.field === null
      ? html`<li>${problem.message}</li>`
      : html`<li><a href="#${fieldId({ name: problem.field })}">${problem.message}</a></li>`;
  return html`<div class="notice notice--problem" role="alert" tabindex="-1" autofocus>
    <h2>${heading}</h2>
    <ul>${problems.map(entry)}</ul>
  </div>`;
}

export function hiddenCsrf(token: string): Html {
  return hiddenField('_csrf', token);
}

export function hiddenField(name: string, value: string): Html {
  return html`<input type="hidden" name="${name}" value="${value}">`;
}

/** The id of a field's input, for links and labels written by hand. */
export function fieldId(field: Pick<Field, 'name' | 'id'>): string {
  return field.id ?? `field-${field.name.replaceAll(/[^A-Za-z0-9_-]+/g, '-')}`;
}

/** The hint and the error of a field, as they stand under its label. */
export function hintAndError(field: Pick<Field, 'name' | 'id' | 'hint' | 'error'>): Html {
  const id = fieldId(field);
  return html`${field.hint && html`<p class="hint" id="${id}-hint">${field.hint}</p>`}${
    field.error && html`<p class="error" id="${id}-error">${field.error}</p>`
  }`;
}

export function fieldClass(field: Pick<Field, 'error'>): string {
  return field.error ? 'form-field form-field--error' : 'form-field';
}

/** The ids that describe a field, for aria-describedby. */
export function described(field: Pick<Field, 'name' | 'id' | 'hint' | 'error'>): string | undefined {
  const id = fieldId(field);
  const ids = [field.hint ? `${id}-hint` : '', field.error ? `${id}-error` : ''].filter(
    (part) => part !== '',
  );
  return ids.length === 0 ? undefined : ids.join(' ');
}

function wrapped(field: Omit<Field, 'value'>, control: Html): Html {
  return html`<div class="${fieldClass(field)}">
    <label for="${fieldId(field)}">${field.label}${optionalMark(field)}</label>
    ${hintAndError(field)}
    ${control}
  </div>`;
}

function optionalMark(field: Pick<Field, 'required'>): Html | false {
  return field.required === false && html` <span class="optional">optional</span>`;
}

function wiring(field: Omit<Field, 'value'>): Readonly<Record<string, string | boolean | undefined>> {
  return {
    id: fieldId(field),
    name: field.name,
    required: field.required === true,
    'aria-describedby': described(field),
    'aria-invalid': field.error ? 'true' : undefined,
  };
}

/** Text and not type=number: a stray turn of the wheel must not change an amount. */
function withUnit(field: Field, unit: string, side: 'before' | 'after', inputMode: string): Html {
  const own = {
    type: 'text',
    inputmode: inputMode,
    autocomplete: 'off',
    value: field.value,
    class: 'figure',
  };
  const id = fieldId(field);
  const described = [wiring(field)['aria-describedby'], `${id}-unit`]
    .filter((part) => part !== undefined)
    .join(' ');
  const input = html`<input ${attributes({ ...wiring(field), ...own, 'aria-describedby': described })}>`;
  const words = html`<span class="unit" id="${id}-unit">${unit}</span>`;
  return wrapped(
    field,
    html`<span class="with-unit">${side === 'before' ? [words, input] : [input, words]}</span>`,
  );
}
