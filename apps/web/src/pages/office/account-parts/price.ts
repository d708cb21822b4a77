import { addAccountPrice } from '@grainwright/operations';
import { fieldGroup } from '../../../look/field-group.ts';
import { dateField, moneyField, selectField, textField } from '../../../look/forms.ts';
import { type Part, withoutCode } from './part.ts';

export const pricePart: Part = {
  path: 'prices',
  heading: 'Give an own price',
  lead: ({ account }) =>
    `${account.name} then pays it in place of list price, care factor, contract and tier.`,
  button: 'Give the price',
  permission: 'change_price_book',
  fields: ['code', 'price', 'reason', 'valid_from', 'valid_to'],
  ids: ['id'],
  initial: {},
  form: ({ values, problems, view, book }) => {
    const repairs = new Map(book.rates.map((rate) => [rate.code, `${rate.code}, ${rate.repair}`]));
    const choices = [...repairs].map(([value, label]) => ({ value, label }));
    return fieldGroup('Price', [
      selectField({
        name: 'code',
        label: 'Repair',
        value: values.code,
        error: problems.errorOf('code'),
        choices,
        empty: 'Choose a repair',
        required: true,
      }),
      moneyField({
        name: 'price',
        label: 'Price',
        currency: view.currency,
        value: values.price,
        error: problems.errorOf('price'),
        required: true,
      }),
      textField({
        name: 'reason',
        label: 'Why',
        value: values.reason,
        error: problems.errorOf('reason'),
        maxLength: 200,
        required: true,
      }),
      dateField({
        name: 'valid_from',
        label: 'Valid from',
        value: values.valid_from ?? view.today,
        error: problems.errorOf('valid_from'),
        required: true,
      }),
      dateField({
        name: 'valid_to',
        label: 'Valid to',
        hint: 'The last day; empty if it has no end',
        value: values.valid_to,
        error: problems.errorOf('valid_to'),
        required: false,
      }),
    ]);
  },
  send: (services, actor, { accountId, text, id }) =>
    withoutCode(
      addAccountPrice(services, actor, {
        id: id('id'),
        accountId,
        code: text('code'),
        price: text('price'),
        reason: text('reason'),
        validFrom: text('valid_from'),
        validTo: text('valid_to') === '' ? null : text('valid_to'),
      }),
    ),
};
