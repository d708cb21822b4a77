import type { Problem } from '@grainwright/domain';
import { actionButton, quietLink } from '../../../look/buttons.ts';
import { fieldGroup } from '../../../look/field-group.ts';
import {
  dateField,
  errorSummary,
  hiddenCsrf,
  hiddenField,
  radioCards,
  textField,
} from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { accountPage } from '../../../look/layout.ts';
import { problemsOf } from '../../form-problems.ts';
import { certificateWords } from '../../office/account-words.ts';
import type { Frame } from '../../person.ts';

/** As typed; days as YYYY-MM-DD. */
export interface CertificateTyped {
  readonly id: string;
  readonly kind: string;
  readonly number: string;
  readonly validFrom: string;
  readonly validTo: string;
}

export function handInView(page: {
  readonly frame: Frame;
  readonly typed: CertificateTyped;
  readonly problem: Problem | null;
}): Html {
  const { frame, typed } = page;
  const { summary, errorOf } = problemsOf(page.problem, ['kind', 'number', 'valid_from', 'valid_to']);
  const business = frame.me.business.name;
  return accountPage({
    ...frame,
    title: 'Hand in a certificate',
    heading: 'Hand in a certificate',
    lead: `${business} checks it; until then it exempts nothing. Keep the paper at hand: they may ask for it.`,
    beside: quietLink({ label: 'Back to the account', href: '/account/details' }),
    current: 'account',
    body: html`<form method="post" action="/account/certificates/new" novalidate>
      ${hiddenCsrf(frame.csrfToken)}
      ${hiddenField('id', typed.id)}
      ${errorSummary(summary)}
      ${radioCards({
        name: 'kind',
        label: 'Kind',
        value: typed.kind,
        error: errorOf('kind'),
        choices: [
          { value: 'resale', label: certificateWords.resale, detail: 'what is repaired is sold on' },
          {
            value: 'exempt_use',
            label: certificateWords.exempt_use,
            detail: 'who buys, or what for, is exempt',
          },
        ],
      })}
      ${fieldGroup('Certificate', [
        textField({
          name: 'number',
          label: 'Number',
          value: typed.number,
          error: errorOf('number'),
          maxLength: 80,
          autocomplete: 'off',
          required: true,
        }),
        dateField({
          name: 'valid_from',
          label: 'Valid from',
          value: typed.validFrom,
          error: errorOf('valid_from'),
          required: true,
        }),
        dateField({
          name: 'valid_to',
          label: 'Valid through',
          hint: 'The last day; empty if it has no end',
          value: typed.validTo,
          error: errorOf('valid_to'),
          required: false,
        }),
      ])}
      <p>It counts by the day of the work, first and last day included. Whether it may cover work done before you handed
      it in is for your tax adviser to say.</p>
      <div class="buttons">${actionButton({ label: 'Hand it in' })}</div>
    </form>`,
  });
}
