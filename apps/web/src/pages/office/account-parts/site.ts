import { type SiteId, toId } from '@grainwright/domain';
import { addSite } from '@grainwright/operations';
import { fieldGroup } from '../../../look/field-group.ts';
import { numberField, textArea, textField } from '../../../look/forms.ts';
import { type Part, withoutCode } from './part.ts';

export const sitePart: Part = {
  path: 'sites',
  heading: 'Add a site',
  lead: ({ account }) => `A place where vehicles of ${account.name} are worked on.`,
  button: 'Add the site',
  permission: 'change_accounts',
  fields: ['name', 'address', 'miles'],
  ids: ['id'],
  initial: {},
  form: ({ values, problems }) =>
    fieldGroup('Site', [
      textField({
        name: 'name',
        label: 'Name',
        value: values.name,
        error: problems.errorOf('name'),
        maxLength: 200,
        required: true,
      }),
      numberField({
        name: 'miles',
        label: 'Miles from the business',
        unit: 'mi',
        hint: 'One way, like 12.5',
        value: values.miles,
        error: problems.errorOf('miles'),
        required: true,
      }),
      textArea({
        name: 'address',
        label: 'Address',
        value: values.address,
        error: problems.errorOf('address'),
        required: false,
        maxLength: 500,
      }),
    ]),
  send: (services, actor, { accountId, text, id }) =>
    withoutCode(
      addSite(services, actor, {
        id: toId<SiteId>(id('id')),
        accountId,
        name: text('name'),
        address: text('address').replaceAll('\r\n', '\n'),
        miles: text('miles'),
      }),
    ),
};
