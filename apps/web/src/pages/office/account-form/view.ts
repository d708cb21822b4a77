import type { Problem } from '@grainwright/domain';
import type { PriceBookView } from '@grainwright/operations';
import { actionButton, quietLink } from '../../../look/buttons.ts';
import { fieldGroup } from '../../../look/field-group.ts';
import {
  type Choice,
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
import { notice } from '../../../look/notices.ts';
import { emptyState } from '../../../look/tables.ts';
import { type FormProblems, problemsOf } from '../../form-problems.ts';
import type { Frame } from '../../person.ts';
import {
  acceptanceWords,
  choicesOf,
  invoiceWords,
  kindWords,
  ownNumberWords,
  photoWords,
  statementWords,
} from '../account-words.ts';
import { type AccountFormValues, accountFields } from './form.ts';
import { type ChangedMeanwhile, writeSeen } from './seen.ts';

export interface AccountFormView {
  readonly frame: Frame;
  /** Null: a new account. */
  readonly accountName: string | null;
  /** The account's page, or the list for a new one. */
  readonly back: string;
  readonly action: string;
  /** Made when the form is first shown, so that sending it twice opens one account. */
  readonly newId: string | null;
  readonly values: AccountFormValues;
  readonly problem: Problem | null;
  readonly book: Pick<PriceBookView, 'tiers' | 'taxAreas'>;
  readonly currency: string;
  readonly groups: readonly Omit<Choice, 'detail'>[];
  /** Accounts that may follow this one; empty for a new one. */
  readonly accounts: readonly Omit<Choice, 'detail'>[];
  /** For a group that is made on the way. */
  readonly newGroupId: string;
  /** What the account said when the form was shown; null for a new one. */
  readonly seen: AccountFormValues | null;
  /** What somebody else changed while it was open. */
  readonly meanwhile: readonly ChangedMeanwhile[];
}

export function accountFormView(view: AccountFormView): Html {
  const { frame, accountName, book } = view;
  const ready = book.tiers.length > 0 && book.taxAreas.length > 0;
  return officePage({
    ...frame,
    title: accountName === null ? 'Add an account' : `Change ${accountName}`,
    heading: accountName === null ? 'Add an account' : `Change ${accountName}`,
    lead:
      accountName === null
        ? 'Sites, contacts and certificates follow on its own page.'
        : 'What was issued before keeps the terms it was issued under.',
    beside: quietLink({ label: 'Back', href: view.back }),
    current: 'accounts',
    body: ready
      ? form(view)
      : emptyState(
          'The price book comes first',
          'An account buys by a tier and is taxed by a tax area. The price book has none yet.',
          quietLink({ label: 'Price book', href: '/office/price-book' }),
        ),
  });
}

function form(view: AccountFormView): Html {
  const problems = problemsOf(view.problem, accountFields);
  return html`<form method="post" action="${view.action}" novalidate>
    ${hiddenCsrf(view.frame.csrfToken)}
    ${view.newId !== null && hiddenField('id', view.newId)}
    ${hiddenField('new_group_id', view.newGroupId)}
    ${view.seen !== null && hiddenField('seen', writeSeen(view.seen))}
    ${errorSummary(problems.summary)}
    ${meanwhileNotice(view)}
    ${who(view, problems)}
    ${buying(view, problems)}
    ${working(view, problems)}
    ${money(view, problems)}
    <div class="buttons">${actionButton({ label: view.accountName === null ? 'Add the account' : 'Save the terms' })}</div>
  </form>`;
}

/** Nothing is saved over what somebody else did without being told. */
function meanwhileNotice({ meanwhile }: AccountFormView): Html | null {
  if (meanwhile.length === 0) return null;
  return notice(
    'problem',
    'Changed while you had this open',
    html`<ul>${meanwhile.map(({ label, was, is }) => html`<li>${label}: it said ${was} and says ${is} now.</li>`)}</ul>
      <p>What you typed stands below over what it says now. Look it over and save again.</p>`,
  );
}

function who({ values, newId, accounts }: AccountFormView, { errorOf }: FormProblems): Html {
  return fieldGroup('Who they are', [
    textField({
      name: 'name',
      label: 'Name',
      value: values.name,
      error: errorOf('name'),
      maxLength: 200,
      required: true,
      autocomplete: 'off',
    }),
    textField({
      name: 'short_name',
      label: 'Short name',
      hint: 'One to eight letters or figures, for lists',
      value: values.short_name,
      error: errorOf('short_name'),
      maxLength: 8,
      required: true,
      code: true,
      autocomplete: 'off',
    }),
    selectField({
      name: 'kind',
      label: 'Kind',
      value: values.kind,
      error: errorOf('kind'),
      choices: choicesOf(kindWords),
      empty: 'Choose a kind',
      required: true,
    }),
    textArea({
      name: 'billing_address',
      label: 'Billing address',
      value: values.billing_address,
      error: errorOf('billing_address'),
      required: false,
      maxLength: 500,
    }),
    newId === null &&
      dateField({
        name: 'ended_on',
        label: 'Closed to new work after',
        hint: 'The last day; leave it empty while they are a customer',
        value: values.ended_on,
        error: errorOf('ended_on'),
        required: false,
      }),
    newId === null &&
      selectField({
        name: 'successor_id',
        label: 'Who took it over',
        hint: 'Its own open items stay with it',
        value: values.successor_id,
        error: errorOf('successor_id'),
        choices: accounts,
        empty: 'Nobody',
      }),
  ]);
}

function buying({ values, book }: AccountFormView, { errorOf }: FormProblems): Html {
  const tiers = book.tiers.map((tier) => ({ value: tier.code, label: tier.name }));
  const areas = book.taxAreas.map((area) => ({ value: area.code, label: `${area.code}, ${area.name}` }));
  return fieldGroup('How they buy', [
    selectField({
      name: 'tier_code',
      label: 'Tier',
      value: values.tier_code,
      error: errorOf('tier_code'),
      choices: tiers,
      empty: 'Choose a tier',
      required: true,
    }),
    selectField({
      name: 'tax_area_code',
      label: 'Tax area',
      hint: 'Where their vehicles are handed over',
      value: values.tax_area_code,
      error: errorOf('tax_area_code'),
      choices: areas,
      empty: 'Choose a tax area',
      required: true,
    }),
    numberField({
      name: 'terms_days',
      label: 'Days to pay',
      unit: 'days',
      whole: true,
      hint: '0 means at once',
      value: values.terms_days,
      error: errorOf('terms_days'),
      required: true,
    }),
    selectField({
      name: 'invoice_rule',
      label: 'Invoices',
      value: values.invoice_rule,
      error: errorOf('invoice_rule'),
      choices: choicesOf(invoiceWords),
    }),
    selectField({
      name: 'statement_kind',
      label: 'Statement',
      value: values.statement_kind,
      error: errorOf('statement_kind'),
      choices: choicesOf(statementWords),
    }),
    checkboxField({
      name: 'walk_in',
      label: 'They come to us: no trip charge',
      checked: values.walk_in !== '',
    }),
  ]);
}

function money({ values, groups, currency }: AccountFormView, { errorOf }: FormProblems): Html {
  return fieldGroup('Money and statements', [
    textField({
      name: 'statement_email',
      label: 'E-mail for statements',
      type: 'email',
      value: values.statement_email,
      error: errorOf('statement_email'),
      maxLength: 254,
      required: false,
      autocomplete: 'off',
    }),
    moneyField({
      name: 'no_show_fee',
      label: 'Fee when the vehicle is not there',
      currency,
      hint: 'Empty means none',
      value: values.no_show_fee,
      error: errorOf('no_show_fee'),
      required: false,
    }),
    selectField({
      name: 'group_id',
      label: 'Pays together with a group',
      value: values.group_id,
      error: errorOf('group_id'),
      choices: groups,
      empty: 'No group',
    }),
    textField({
      name: 'new_group',
      label: 'Or a new group, by its name',
      value: values.new_group,
      error: errorOf('new_group'),
      maxLength: 200,
      required: false,
      autocomplete: 'off',
    }),
    checkboxField({
      name: 'applies_money_itself',
      label: 'Money that comes in settles the oldest first, by itself',
      checked: values.applies_money_itself !== '',
    }),
  ]);
}

function working({ values }: AccountFormView, { errorOf }: FormProblems): Html {
  return fieldGroup('How the work goes', [
    textField({
      name: 'remind_after_hours',
      label: 'Reminder after so many hours without an answer',
      hint: 'As the account chooses; its approvers can change it. Two at most, by day. Empty means none.',
      value: values.remind_after_hours,
      error: errorOf('remind_after_hours'),
      maxLength: 3,
      required: false,
      autocomplete: 'off',
    }),
    selectField({
      name: 'acceptance_rule',
      label: 'Acceptance',
      value: values.acceptance_rule,
      error: errorOf('acceptance_rule'),
      choices: choicesOf(acceptanceWords),
    }),
    selectField({
      name: 'photo_rule',
      label: 'Photos',
      value: values.photo_rule,
      error: errorOf('photo_rule'),
      choices: choicesOf(photoWords),
    }),
    selectField({
      name: 'own_number_kind',
      label: 'Their number for a vehicle',
      value: values.own_number_kind,
      error: errorOf('own_number_kind'),
      choices: choicesOf(ownNumberWords),
      empty: 'None',
    }),
    checkboxField({
      name: 'own_number_required',
      label: 'Their number is needed to invoice',
      checked: values.own_number_required !== '',
    }),
    checkboxField({
      name: 'requires_ro',
      label: 'An RO number is needed to invoice',
      checked: values.requires_ro !== '',
    }),
    checkboxField({
      name: 'requires_po',
      label: 'A PO number is needed to invoice',
      checked: values.requires_po !== '',
    }),
    checkboxField({
      name: 'shows_prices_at_acceptance',
      label: 'Whoever signs sees the prices',
      checked: values.shows_prices_at_acceptance !== '',
    }),
  ]);
}
