import { type StandingApprovalId, toId } from '@grainwright/domain';
import { setStandingApproval } from '@grainwright/operations';
import { fieldGroup } from '../../../look/field-group.ts';
import { dateField, moneyField, textField } from '../../../look/forms.ts';
import { type Part, type PartFields, withoutCode } from './part.ts';

export const standingApprovalPart: Part = {
  path: 'standing-approvals',
  heading: 'Set a standing approval',
  lead: ({ account }) =>
    `What ${account.name} agrees to beforehand. Within every limit an estimate is approved when it is sent; above one somebody of the account is asked.`,
  button: 'Set the standing approval',
  permission: 'change_accounts',
  fields: ['per_vehicle', 'per_visit', 'per_month', 'text', 'valid_from', 'valid_to'],
  ids: ['id'],
  initial: {},
  form: (fields) => [limits(fields), days(fields)],
  send: (services, actor, { accountId, text, id }) =>
    withoutCode(
      setStandingApproval(services, actor, {
        id: toId<StandingApprovalId>(id('id')),
        accountId,
        perVehicle: text('per_vehicle') === '' ? null : text('per_vehicle'),
        perVisit: text('per_visit') === '' ? null : text('per_visit'),
        perMonth: text('per_month') === '' ? null : text('per_month'),
        text: text('text'),
        validFrom: text('valid_from'),
        validTo: text('valid_to') === '' ? null : text('valid_to'),
      }),
    ),
};

function limits({ values, problems, view }: PartFields) {
  const limit = (name: string, label: string, hint: string) =>
    moneyField({
      name,
      label,
      hint,
      currency: view.currency,
      value: values[name],
      error: problems.errorOf(name),
      required: false,
    });
  return fieldGroup('Up to', [
    limit('per_vehicle', 'A vehicle', 'Repairs with their minimum and after-hours, before trip and tax'),
    limit('per_visit', 'A visit', 'All vehicles of one visit that are approved this way'),
    limit('per_month', 'A month', 'All of a calendar month that is approved this way'),
  ]);
}

function days({ values, problems, view }: PartFields) {
  return fieldGroup('Agreed', [
    textField({
      name: 'text',
      label: 'By whom and how',
      hint: 'Like: Ravi Stellmacher, by e-mail. The account reads it too.',
      value: values.text,
      error: problems.errorOf('text'),
      maxLength: 500,
      required: true,
      autocomplete: 'off',
    }),
    dateField({
      name: 'valid_from',
      label: 'First day',
      value: values.valid_from ?? view.today,
      error: problems.errorOf('valid_from'),
      required: true,
    }),
    dateField({
      name: 'valid_to',
      label: 'Last day',
      hint: 'Empty if it has no end',
      value: values.valid_to,
      error: problems.errorOf('valid_to'),
      required: false,
    }),
  ]);
}
