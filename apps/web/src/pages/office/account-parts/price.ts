import { addAccountPrice } from '@grainwright/operations';
import { fieldGroup } from '../../../look/field-group.ts';
import { moneyField, selectField } from '../../../look/forms.ts';
import { type Part, withoutCode } from './part.ts';
import { reasonField, validityFields } from './validity-fields.ts';

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
  form: (fields) => {
    const { values, problems, view, book } = fields;
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
      reasonField(fields),
      ...validityFields(fields, view.today),
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
