import type { Problem } from '@grainwright/domain';
import type { BusinessView } from '@grainwright/operations';
import { actionButton, quietButton } from '../../../look/buttons.ts';
import { fieldGroup } from '../../../look/field-group.ts';
import {
  checkboxField,
  errorSummary,
  hiddenCsrf,
  hiddenField,
  moneyField,
  numberField,
  pictureField,
  selectField,
  textArea,
  textField,
} from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { notice } from '../../../look/notices.ts';
import { dataTable, definitionList } from '../../../look/tables.ts';
import { type FormProblems, problemsOf } from '../../form-problems.ts';
import type { Frame } from '../../person.ts';
import { type SettingsForm, settingFields } from './form.ts';

export interface BusinessPage {
  readonly frame: Frame;
  readonly business: BusinessView;
  readonly form: SettingsForm;
  /** What stands there now, where somebody else changed it while the form was open. */
  readonly overtakenBy: SettingsForm | null;
  readonly problem: Problem | null;
  readonly saved: boolean;
}

export function businessPage(page: BusinessPage): Html {
  const { frame, business, form, overtakenBy, problem, saved } = page;
  const problems = problemsOf(problem, [...settingFields, 'logo']);
  return officePage({
    ...frame,
    title: 'Business',
    heading: 'Business',
    lead: 'What documents say of the business, and how it handles its money. Documents that were issued stay as they are.',
    current: 'business',
    body: html`${errorSummary(problems.summary)}
      ${saved && notice('done', 'Saved')}
      ${overtakenBy && differences(overtakenBy, form)}
      <form method="post" action="/office/business">
        ${hiddenCsrf(frame.csrfToken)}${hiddenField('revision', String(form.revision))}
        ${saidOfItself(form, problems.errorOf)}
        ${policies(form, problems.errorOf, business.currency)}
        ${warnings(form, problems.errorOf)}
        ${actionButton({ label: 'Save' })}
      </form>
      ${logoPart(frame, business, problems)}
      ${fixedPart(business)}`,
  });
}

function differences(now: SettingsForm, typed: SettingsForm): Html {
  const apart = settingFields.filter((name) => now[name] !== typed[name]);
  const words = (name: string) => name.replaceAll('_', ' ');
  return dataTable({
    caption: 'What stands there now, and what is typed below',
    columns: [
      { header: 'Setting', names: true, cell: (name) => words(name) },
      { header: 'Stands there', cell: (name) => now[name] || 'nothing' },
      { header: 'Typed below', cell: (name) => typed[name] || 'nothing' },
    ],
    rows: apart,
    empty: html`<p>What is typed below is what stands there.</p>`,
  });
}

type ErrorOf = FormProblems['errorOf'];

function saidOfItself(form: SettingsForm, errorOf: ErrorOf): Html {
  const field = (name: 'name' | 'phone' | 'email', label: string) => ({
    name,
    label,
    value: form[name],
    error: errorOf(name),
  });
  return fieldGroup(
    'On documents',
    html`${textField({ ...field('name', 'Name'), required: true, maxLength: 200 })}
    ${textArea({ name: 'address', label: 'Address', value: form.address, error: errorOf('address') })}
    ${textField({ ...field('phone', 'Phone'), type: 'tel', maxLength: 40 })}
    ${textField({ ...field('email', 'E-mail'), type: 'email', maxLength: 254 })}
    ${textArea({ name: 'document_note', label: 'Note on invoices', hint: 'Such as how to pay.', value: form.document_note, error: errorOf('document_note') })}
    ${selectField({
      name: 'page_size',
      label: 'Paper',
      value: form.page_size,
      error: errorOf('page_size'),
      choices: [
        { value: 'letter', label: 'US Letter' },
        { value: 'a4', label: 'A4' },
      ],
    })}`,
  );
}

function policies(form: SettingsForm, errorOf: ErrorOf, currency: string): Html {
  const amount = (name: 'small_difference' | 'return_fee', label: string, hint: string) =>
    moneyField({ name, label, hint, currency, value: form[name], error: errorOf(name) });
  return html`${notice('info', 'On tax and late charges your licensed adviser decides', 'What may be charged, and when tax comes back with a bad debt, differs from state to state. This program computes what is set here and charges nothing unless it is set.')}
    ${fieldGroup(
      'Money',
      html`${numberField({ name: 'estimate_valid_days', label: 'An estimate holds', unit: 'days', value: form.estimate_valid_days, error: errorOf('estimate_valid_days') })}
    ${amount('small_difference', 'Small difference', 'What may stay open of an invoice and be let go.')}
    ${amount('return_fee', 'Fee for a returned payment', 'Offered when a payment comes back; 0 for none.')}
    ${numberField({ name: 'late_charge_percent', label: 'Late charge a month', unit: '%', hint: 'Of what is past due and not in dispute; 0 for none.', value: form.late_charge_percent, error: errorOf('late_charge_percent') })}
    ${numberField({ name: 'late_charge_grace_days', label: 'Days of grace before it', unit: 'days', value: form.late_charge_grace_days, error: errorOf('late_charge_grace_days') })}
    ${checkboxField({ name: 'write_off_reclaims_tax', label: 'A write-off takes back its share of sales tax', checked: form.write_off_reclaims_tax === 'yes', error: errorOf('write_off_reclaims_tax') })}`,
    )}`;
}

function warnings(form: SettingsForm, errorOf: ErrorOf): Html {
  const days = (
    name:
      | 'duplicate_days'
      | 'comeback_days'
      | 'warranty_days'
      | 'acceptance_link_days'
      | 'acceptance_copy_days'
      | 'certificate_warning_days',
    label: string,
    hint: string,
  ) => numberField({ name, label, hint, unit: 'days', value: form[name], error: errorOf(name) });
  return fieldGroup(
    'Notices',
    html`${days('duplicate_days', 'The same vehicle again within', 'Then the write-up asks whether it is the same damage.')}
    ${days('warranty_days', 'Own work is put right without charge within', 'Then the same part is offered as a rework.')}
    ${days('acceptance_link_days', 'A link to a vehicle’s owner takes an answer for', 'No answer is no acceptance: it can be sent again.')}
    ${days('acceptance_copy_days', 'A signer can read their copy again for', 'By the link that they get with it. The words above a signature are the business’s own: have an adviser look at them.')}
    ${days('comeback_days', 'A rework is a comeback within', 'Counted in the figures.')}
    ${days('certificate_warning_days', 'A certificate is about to end within', 'Then it is said before work is billed.')}`,
  );
}

function logoPart(frame: Frame, business: BusinessView, { errorOf }: FormProblems): Html {
  return html`<section><h2>Logo</h2>
    ${
      business.logoKey === null
        ? html`<p>None yet. Documents carry the name alone.</p>`
        : html`<p><img class="logo" src="/logo?of=${business.logoKey.slice(-12)}" alt="The logo of ${business.name}"></p>`
    }
    <form method="post" action="/office/business/logo" enctype="multipart/form-data">
      ${hiddenCsrf(frame.csrfToken)}
      ${pictureField({ name: 'logo', label: 'A picture', hint: 'PNG or JPEG, 1 MB at most. It stands on statements and invoices from now on.', error: errorOf('logo') })}
      ${quietButton({ label: 'Use as logo' })}
    </form>
    ${
      business.logoKey !== null &&
      html`<form method="post" action="/office/business/logo/remove">${hiddenCsrf(frame.csrfToken)}
      ${quietButton({ label: 'Take the logo off' })}</form>`
    }
  </section>`;
}

function fixedPart(business: BusinessView): Html {
  return html`<section><h2>Set when the business was made</h2>
    ${definitionList([
      { term: 'Time zone', value: business.timeZone },
      { term: 'Currency', value: business.currency },
      {
        term: 'Numbers',
        value: `${business.invoicePrefix}…, ${business.creditNotePrefix}…, ${business.feePrefix}…`,
      },
      {
        term: 'Aging',
        value: business.agingBasis === 'due_date' ? 'from the due date' : 'from the document’s date',
      },
      {
        term: 'Tax is rounded',
        value: `per ${business.taxBasis}, ${business.taxComponents === 'each' ? 'each component by itself' : 'components together'}`,
      },
    ])}
  </section>`;
}
