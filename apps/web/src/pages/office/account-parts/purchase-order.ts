import { type PurchaseOrderId, toId } from '@grainwright/domain';
import { addPurchaseOrder } from '@grainwright/operations';
import { fieldGroup } from '../../../look/field-group.ts';
import { dateField, moneyField, textField } from '../../../look/forms.ts';
import { type Part, withoutCode } from './part.ts';

export const purchaseOrderPart: Part = {
  path: 'purchase-orders',
  heading: 'File a purchase order',
  lead: ({ account }) =>
    `An order of ${account.name} by its number. A cap holds over all invoices that carry the number; where it is not enough, ask for an increase.`,
  button: 'File the purchase order',
  permission: 'change_accounts',
  fields: ['number', 'cap', 'valid_from', 'valid_to', 'note'],
  ids: ['id'],
  initial: {},
  form: ({ values, problems, view }) =>
    fieldGroup('Purchase order', [
      textField({
        name: 'number',
        label: 'Number',
        hint: 'As it is given for work orders',
        value: values.number,
        error: problems.errorOf('number'),
        maxLength: 40,
        required: true,
        code: true,
        autocomplete: 'off',
      }),
      moneyField({
        name: 'cap',
        label: 'Cap',
        currency: view.currency,
        hint: 'With tax, over all its invoices. Empty means no cap.',
        value: values.cap,
        error: problems.errorOf('cap'),
        required: false,
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
      textField({
        name: 'note',
        label: 'Note',
        value: values.note,
        error: problems.errorOf('note'),
        maxLength: 500,
        required: false,
      }),
    ]),
  send: (services, actor, { accountId, text, id }) =>
    withoutCode(
      addPurchaseOrder(services, actor, {
        id: toId<PurchaseOrderId>(id('id')),
        accountId,
        number: text('number'),
        cap: text('cap') === '' ? null : text('cap'),
        validFrom: text('valid_from'),
        validTo: text('valid_to') === '' ? null : text('valid_to'),
        note: text('note'),
      }),
    ),
};
