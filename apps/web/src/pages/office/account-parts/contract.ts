import { addContract } from '@grainwright/operations';
import { fieldGroup } from '../../../look/field-group.ts';
import { numberField, textField } from '../../../look/forms.ts';
import { type Part, withoutCode } from './part.ts';
import { reasonField, validityFields } from './validity-fields.ts';

export const contractPart: Part = {
  path: 'contracts',
  heading: 'Make a contract',
  lead: ({ account, tier }) =>
    `Between its days ${account.name} pays list, with care factors, less this share, in place of the terms of ${tier.name}. Prices of its own still go before it.`,
  button: 'Make the contract',
  permission: 'change_price_book',
  fields: ['name', 'discount_percent', 'reason', 'valid_from', 'valid_to'],
  ids: ['id'],
  initial: {},
  form: (fields) => {
    const { values, problems, view } = fields;
    return fieldGroup('Contract', [
      textField({
        name: 'name',
        label: 'Name',
        hint: 'As it stands beside each price, like Autumn 2026',
        value: values.name,
        error: problems.errorOf('name'),
        maxLength: 60,
        required: true,
      }),
      numberField({
        name: 'discount_percent',
        label: 'Off list',
        unit: '%',
        value: values.discount_percent,
        error: problems.errorOf('discount_percent'),
        required: true,
      }),
      reasonField(fields),
      ...validityFields(fields, view.today),
    ]);
  },
  send: (services, actor, { accountId, text, id }) =>
    withoutCode(
      addContract(services, actor, {
        id: id('id'),
        accountId,
        name: text('name'),
        discountPercent: text('discount_percent'),
        reason: text('reason'),
        validFrom: text('valid_from'),
        validTo: text('valid_to') === '' ? null : text('valid_to'),
      }),
    ),
};
