import { type DelegationId, isUuid, type PersonId, refuse, toId } from '@grainwright/domain';
import { recordDelegation } from '@grainwright/operations';
import { fieldGroup } from '../../../look/field-group.ts';
import { dateField, moneyField, selectField } from '../../../look/forms.ts';
import { roleWords } from '../account-words.ts';
import { type Part, type PartFields, withoutCode } from './part.ts';

export const delegationPart: Part = {
  path: 'delegations',
  heading: 'Write down a delegate',
  lead: ({ account }) => `Who of ${account.name} answers for an approver who is away.`,
  button: 'Write it down',
  permission: 'change_accounts',
  fields: ['from_person_id', 'to_person_id', 'valid_from', 'valid_to', 'limit'],
  ids: ['id'],
  initial: {},
  form: (fields) => [whom(fields), when(fields)],
  send: (services, actor, { accountId, text, id }) => {
    const [away, delegate] = [text('from_person_id').toLowerCase(), text('to_person_id').toLowerCase()];
    if (!isUuid(away)) return refused('Choose who is away.', 'from_person_id');
    if (!isUuid(delegate)) return refused('Choose who answers for them.', 'to_person_id');
    return withoutCode(
      recordDelegation(services, actor, {
        id: toId<DelegationId>(id('id')),
        accountId,
        fromPersonId: toId<PersonId>(away),
        toPersonId: toId<PersonId>(delegate),
        validFrom: text('valid_from'),
        validTo: text('valid_to'),
        limit: text('limit') === '' ? null : text('limit'),
      }),
    );
  },
};

function refused(detail: string, field: string) {
  return withoutCode(Promise.resolve(refuse('invalid_input', detail, field)));
}

function whom({ values, problems, view }: PartFields) {
  const there = view.contacts.filter((each) => !each.hasEnded);
  const choice = ({ personId, name, role }: (typeof there)[number]) => ({
    value: personId,
    label: `${name}, ${roleWords[role]}`,
  });
  return fieldGroup('Who', [
    selectField({
      name: 'from_person_id',
      label: 'Who is away',
      value: values.from_person_id,
      error: problems.errorOf('from_person_id'),
      empty: 'Choose an approver',
      choices: there.filter(({ role }) => role === 'approver').map(choice),
    }),
    selectField({
      name: 'to_person_id',
      label: 'Who answers',
      value: values.to_person_id,
      error: problems.errorOf('to_person_id'),
      empty: 'Choose somebody of the account',
      choices: there.map(choice),
    }),
  ]);
}

function when({ values, problems, view }: PartFields) {
  return fieldGroup('When, and for how much', [
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
      value: values.valid_to,
      error: problems.errorOf('valid_to'),
      required: true,
    }),
    moneyField({
      name: 'limit',
      label: 'Up to, for a vehicle',
      currency: view.currency,
      hint: 'Never more than whoever is away may approve; empty means as much.',
      value: values.limit,
      error: problems.errorOf('limit'),
      required: false,
    }),
  ]);
}
