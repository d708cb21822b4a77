import { type CertificateId, refuse, toId } from '@grainwright/domain';
import { addCertificate } from '@grainwright/operations';
import { fieldGroup } from '../../../look/field-group.ts';
import { selectField, textField } from '../../../look/forms.ts';
import { certificateWords, choicesOf, chosen } from '../account-words.ts';
import { type Part, withoutCode } from './part.ts';
import { validityFields } from './validity-fields.ts';

export const certificatePart: Part = {
  path: 'certificates',
  heading: 'File a certificate',
  lead: ({ account }) =>
    `What ${account.name} buys is not taxed while it holds. It counts by the date of work, first and last day included.`,
  button: 'File the certificate',
  permission: 'change_accounts',
  fields: ['kind', 'number', 'valid_from', 'valid_to'],
  ids: ['id'],
  initial: { kind: 'resale' },
  form: (fields) => {
    const { values, problems } = fields;
    return fieldGroup('Certificate', [
      selectField({
        name: 'kind',
        label: 'Kind',
        value: values.kind,
        error: problems.errorOf('kind'),
        choices: choicesOf(certificateWords),
        required: true,
      }),
      textField({
        name: 'number',
        label: 'Number',
        value: values.number,
        error: problems.errorOf('number'),
        maxLength: 80,
        required: true,
        autocomplete: 'off',
      }),
      ...validityFields(fields),
    ]);
  },
  send: async (services, actor, { accountId, text, id }) => {
    const kind = chosen(certificateWords, text('kind'));
    if (kind === null) return refuse('invalid_input', 'Choose the kind of certificate.', 'kind');
    const validTo = text('valid_to') === '' ? null : text('valid_to');
    const dates = { validFrom: text('valid_from'), validTo };
    return withoutCode(
      addCertificate(services, actor, {
        id: toId<CertificateId>(id('id')),
        accountId,
        kind,
        number: text('number'),
        ...dates,
      }),
    );
  },
};
