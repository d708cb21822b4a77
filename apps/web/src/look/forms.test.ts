import { expect, test } from 'vitest';
import {
  cameraField,
  checkboxField,
  dateField,
  errorSummary,
  hiddenCsrf,
  moneyField,
  numberField,
  radioCards,
  selectField,
  textArea,
  textField,
} from './forms.ts';
import type { Html } from './html.ts';

// aria-describedby, aria-invalid and the summary that links to fields: WCAG 2.2 technique ARIA21, ARIA1, G139.

const wrong = {
  name: 'amount',
  label: 'Amount',
  hint: 'As on the check.',
  error: 'Write it like 284.90.',
  value: '2x',
};
const right = { name: 'amount', label: 'Amount', value: '284.90' };
const choices = [
  { value: '2x', label: 'Two' },
  { value: '3x', label: 'Three' },
];

type Make = (field: typeof wrong) => Html;
const makers: Readonly<Record<string, Make>> = {
  text: textField,
  money: (field) => moneyField({ ...field, currency: 'USD' }),
  number: (field) => numberField({ ...field, unit: 'inches' }),
  day: dateField,
  textarea: textArea,
  select: (field) => selectField({ ...field, choices }),
  radio: (field) => radioCards({ ...field, choices }),
  checkbox: checkboxField,
  camera: cameraField,
};

test.each(Object.entries(makers))('the %s field is tied to its hint and its error', (_kind, make) => {
  const markup = String(make(wrong));
  const describedBy = /aria-describedby="([^"]+)"/.exec(markup)?.[1]?.split(' ') ?? [];
  expect(describedBy).toEqual(expect.arrayContaining(['field-amount-hint', 'field-amount-error']));
  for (const id of describedBy) expect(markup).toContain(`id="${id}"`);
  expect(markup).toContain('aria-invalid="true"');
  expect(markup).toContain('Write it like 284.90.');
});

test.each(Object.entries(makers))('the %s field has a label', (kind, make) => {
  const markup = String(make(wrong));
  if (kind === 'radio') expect(markup).toMatch(/<fieldset[^>]*>\s*<legend>Amount<\/legend>/);
  else if (kind === 'checkbox') expect(markup).toMatch(/<label class="check"><input [^>]*id="field-amount"/);
  else expect(markup).toContain('<label for="field-amount">Amount');
});

test('a field without an error is not marked as wrong', () => {
  const markup = String(textField(right));
  expect(markup).not.toContain('aria-invalid');
  expect(markup).not.toContain('aria-describedby');
});

test('what was typed is kept', () => {
  expect(String(textField(wrong))).toContain('value="2x"');
  expect(String(moneyField({ ...wrong, currency: 'USD' }))).toContain('value="2x"');
  expect(String(textArea(wrong))).toContain('\n2x</textarea>');
  expect(String(selectField({ ...wrong, choices }))).toContain('<option  value="2x" selected>');
  expect(String(radioCards({ ...wrong, choices }))).toMatch(/value="2x"[^>]* checked/);
  expect(String(radioCards({ ...wrong, choices }))).not.toMatch(/value="3x"[^>]* checked/);
});

test('a password is never sent back', () => {
  expect(String(textField({ ...wrong, type: 'password' }))).not.toContain('2x');
});

test('an amount stands beside its currency and a number beside its unit', () => {
  expect(String(moneyField({ ...right, currency: 'USD' }))).toMatch(/id="field-amount-unit">USD</);
  expect(String(numberField({ ...right, unit: 'inches' }))).toMatch(/id="field-amount-unit">inches</);
});

test('the camera field opens the rear camera and takes pictures only', () => {
  const markup = String(cameraField({ name: 'before', label: 'Before photo' }));
  expect(markup).toContain('accept="image/*"');
  expect(markup).toContain('capture="environment"');
});

test('the summary counts the errors and links each to its field', () => {
  const summary = String(
    errorSummary([
      { field: 'lines[0].size', message: 'Measure it.' },
      { field: null, message: 'The estimate has changed.' },
    ]),
  );
  expect(summary).toContain('2 things to correct');
  expect(summary).toContain('<a href="#field-lines-0-size">Measure it.</a>');
  expect(summary).toContain('<li>The estimate has changed.</li>');
  expect(String(textField({ name: 'lines[0].size', label: 'Size' }))).toContain('id="field-lines-0-size"');
});

test('the summary links to the first card of a choice', () => {
  expect(String(errorSummary([{ field: 'amount', message: 'Choose.' }]))).toContain('href="#field-amount"');
  expect(String(radioCards({ ...wrong, choices }))).toMatch(/<input [^>]*value="2x"[^>]*id="field-amount"/);
});

test('there is no summary without errors', () => {
  expect(errorSummary([])).toBeNull();
});

test('the token that protects a form is escaped', () => {
  expect(String(hiddenCsrf('a"b'))).toBe('<input type="hidden" name="_csrf" value="a&quot;b">');
});
