import { type MembershipId, ok, type PersonId, refuse, toId, type UserId } from '@grainwright/domain';
import { addContact } from '@grainwright/operations';
import { fieldGroup } from '../../../look/field-group.ts';
import { checkboxField, moneyField, radioCards, textField } from '../../../look/forms.ts';
import { chosen, roleWords } from '../account-words.ts';
import type { Part, PartFields } from './part.ts';

export const contactPart: Part = {
  path: 'contacts',
  heading: 'Add a contact',
  lead: ({ account }) => `Somebody of ${account.name}.`,
  button: 'Add the contact',
  permission: 'change_accounts',
  fields: ['name', 'email', 'phone', 'role', 'limit', 'signs_in', 'password'],
  ids: ['person_id', 'user_id', 'membership_id'],
  initial: { role: 'approver', signs_in: 'yes' },
  form: (fields) => [person(fields), may(fields), signIn(fields)],
  send: async (services, actor, { accountId, text, asTyped, id }) => {
    const role = chosen(roleWords, text('role'));
    if (role === null) return refuse('invalid_input', 'Choose what they may do.', 'role');
    const login = {
      userId: toId<UserId>(id('user_id')),
      membershipId: toId<MembershipId>(id('membership_id')),
      password: asTyped('password'),
    };
    const added = await addContact(services, actor, {
      accountId,
      personId: toId<PersonId>(id('person_id')),
      name: text('name'),
      email: text('email'),
      phone: text('phone'),
      role,
      limit: text('limit') === '' ? null : text('limit'),
      login: text('signs_in') === '' ? null : login,
    });
    if (!added.ok) return added;
    const given = added.value.login;
    return ok({ joinCode: given?.kind === 'existing' ? given.joinCode : null });
  },
};

function person({ values, problems }: PartFields) {
  return fieldGroup('Person', [
    textField({
      name: 'name',
      label: 'Name',
      value: values.name,
      error: problems.errorOf('name'),
      maxLength: 200,
      required: true,
      autocomplete: 'off',
    }),
    textField({
      name: 'email',
      label: 'E-mail',
      type: 'email',
      value: values.email,
      error: problems.errorOf('email'),
      maxLength: 254,
      autocomplete: 'off',
    }),
    textField({
      name: 'phone',
      label: 'Telephone',
      type: 'tel',
      value: values.phone,
      error: problems.errorOf('phone'),
      required: false,
      maxLength: 40,
      autocomplete: 'off',
    }),
  ]);
}

function may({ values, problems, view }: PartFields) {
  return fieldGroup('What they may do', [
    radioCards({
      name: 'role',
      label: 'Role',
      value: values.role,
      error: problems.errorOf('role'),
      choices: [
        {
          value: 'approver',
          label: roleWords.approver,
          detail: 'says yes or no to estimates, up to the limit',
        },
        { value: 'payer', label: roleWords.payer, detail: 'sees invoices, payments and statements' },
        { value: 'viewer', label: roleWords.viewer, detail: 'sees work orders, invoices and statements' },
      ],
    }),
    moneyField({
      name: 'limit',
      label: 'Approver’s limit for a vehicle',
      currency: view.currency,
      hint: 'Before trip and tax. Empty means no limit.',
      value: values.limit,
      error: problems.errorOf('limit'),
      required: false,
    }),
  ]);
}

function signIn({ values, problems }: PartFields) {
  return fieldGroup('Sign-in', [
    checkboxField({
      name: 'signs_in',
      label: 'They sign in with their e-mail address',
      checked: values.signs_in === 'yes',
    }),
    textField({
      name: 'password',
      label: 'First password',
      type: 'password',
      hint: 'At least 12 characters; give it to them yourself. Whoever has a sign-in at another business already keeps the password they have; you get a code to hand over instead.',
      error: problems.errorOf('password'),
      autocomplete: 'new-password',
    }),
  ]);
}
