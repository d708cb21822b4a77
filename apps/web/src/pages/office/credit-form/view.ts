import { formatMinor, type Problem } from '@grainwright/domain';
import type { Creditable, CreditPreview } from '@grainwright/operations';
import { actionButton, quietButton, quietLink } from '../../../look/buttons.ts';
import { fieldGroup } from '../../../look/field-group.ts';
import { dayText, money, moneyText } from '../../../look/figures.ts';
import {
  checkboxField,
  dateField,
  errorSummary,
  hiddenCsrf,
  hiddenField,
  moneyField,
  numberField,
  selectField,
  textArea,
  textField,
} from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { dataTable, emptyState } from '../../../look/tables.ts';
import { problemsOf } from '../../form-problems.ts';
import type { Frame } from '../../person.ts';
import { chargeKey, lineFields } from './form-values.ts';
import { previewPart } from './preview-part.ts';

export interface CreditForm {
  readonly frame: Frame;
  readonly creditable: Creditable;
  readonly creditNoteId: string;
  readonly typed: (name: string) => string;
  readonly checked: (name: string, value: string) => boolean;
  /** What it comes to, once it was asked for. */
  readonly preview: CreditPreview | null;
  /** Shown since what was previewed comes to something else by now. */
  readonly changed: boolean;
  readonly problem: Problem | null;
}

/** Sent along by the button that issues, and not by the one that only shows. */
export const issuingField = 'issue';

export function creditFormView(form: CreditForm): Html {
  const { frame, creditable, typed, preview } = form;
  const { invoiceId, invoiceNumber, accountName, currency } = creditable;
  const { errorOf, summary } = problemsOf(form.problem, fieldNames(creditable));
  const field = (name: string) => ({ name, value: typed(name), error: errorOf(name) });
  return officePage({
    ...frame,
    title: `Credit ${invoiceNumber}`,
    heading: `Credit ${invoiceNumber}`,
    lead: `${accountName}, ${moneyText(creditable.openMinor, currency)} open. The credit is what stands of the invoice less what it comes to put right; everything else stays as it was issued.`,
    beside: quietLink({ label: 'Back to the invoice', href: `/office/invoices/${invoiceId}` }),
    current: 'credit-notes',
    body: html`${errorSummary(summary)}
      <form method="post" action="${`/office/invoices/${invoiceId}/credit`}">
        ${hiddenCsrf(frame.csrfToken)}
        ${hiddenField('credit_note_id', form.creditNoteId)}
        ${linesPart(creditable, field)}
        ${chargesPart(form)}
        ${certificatesPart(form)}
        ${fieldGroup(
          'The credit note',
          html`${textArea({ ...field('reason'), label: 'Reason', hint: 'Printed on the credit note.', maxLength: 500, required: true })}
          ${dateField({ ...field('issued_on'), label: 'Date', min: creditable.issuedOn, max: frame.me.today, required: true })}
          ${checkboxField({ name: 'apply', label: `Apply it to ${invoiceNumber} at once, up to what is open`, checked: form.checked('apply', 'yes') })}`,
        )}
        ${preview && previewPart(preview, form.changed)}
        ${preview && hiddenField('shown_total', formatMinor(preview.totalMinor, currency))}
        <div class="buttons">
          ${quietButton({ label: preview === null ? 'Show what it comes to' : 'Show again' })}
          ${preview && actionButton({ label: `Issue the credit note of ${moneyText(preview.totalMinor, currency)}`, name: issuingField, value: 'yes' })}
        </div>
      </form>`,
  });
}

function fieldNames(creditable: Creditable): readonly string[] {
  const ofLines = creditable.lines.flatMap((line) => Object.values(lineFields(line.lineId)));
  return ['reason', 'issued_on', ...ofLines];
}

type FieldOf = (name: string) => {
  readonly name: string;
  readonly value: string;
  readonly error: string | undefined;
};

function linesPart({ lines, currency }: Creditable, field: FieldOf): Html {
  return dataTable({
    caption: 'Lines',
    columns: [
      { header: 'Line', names: true, cell: (line) => html`${line.description}<br>${line.vehicle}` },
      { header: 'Now', figure: true, cell: (line) => money(line.nowMinor, currency) },
      {
        header: 'Credit',
        cell: (line) =>
          selectField({
            ...field(lineFields(line.lineId).change),
            label: `What to do with ${line.code}`,
            empty: 'Leave it',
            choices: [
              { value: 'dropped', label: 'Take it off' },
              { value: 'reduced', label: 'Reduce it to an amount' },
              ...(line.byHand ? [] : [{ value: 'repriced', label: 'Price the size measured' }]),
            ],
          }),
      },
      {
        header: 'Instead',
        cell: (line) =>
          html`${moneyField({ ...field(lineFields(line.lineId).net), label: `${line.code} comes to, before tax`, currency })}
          ${!line.byHand && numberField({ ...field(lineFields(line.lineId).inches), label: `${line.code} measures`, unit: 'in' })}
          ${!line.byHand && textField({ ...field(lineFields(line.lineId).code), label: `or ${line.code} is really`, hint: 'A code of the price book.', code: true, maxLength: 40 })}`,
      },
    ],
    rows: lines,
    empty: emptyState('No line is left', 'Every line of this invoice was credited already.'),
  });
}

function chargesPart({ creditable, checked }: CreditForm): Html | false {
  const { charges, currency } = creditable;
  return (
    charges.length > 0 &&
    fieldGroup(
      'Charges to take off whole',
      html`${charges.map((charge, index) =>
        checkboxField({
          name: 'charge',
          id: `charge-${index}`,
          value: chargeKey(charge),
          label: `${charge.label}, ${moneyText(charge.nowMinor, currency)}`,
          checked: checked('charge', chargeKey(charge)),
        }),
      )}`,
    )
  );
}

function certificatesPart({ creditable, checked }: CreditForm): Html | false {
  const { certificates } = creditable;
  return (
    certificates.length > 0 &&
    fieldGroup(
      'Certificates furnished since',
      html`${certificates.map((certificate, index) =>
        checkboxField({
          name: 'certificate',
          id: `certificate-${index}`,
          value: certificate.id,
          label: `${certificate.number}, valid from ${dayText(certificate.validFrom)}${certificate.validTo === null ? '' : ` to ${dayText(certificate.validTo)}`}: take off the tax it covers`,
          checked: checked('certificate', certificate.id),
        }),
      )}
      <p>Whether a late certificate may cover earlier sales is a local rule. Your adviser decides.</p>`,
    )
  );
}
