import type { Named } from './holdings.ts';
import type { SampleRequests } from './sample-request.ts';

/** The form of a link's address, which opens nothing: tests/waiting.test.ts opens right ones. */
const nowhere = { token: `${'A'.repeat(22)}.${'A'.repeat(43)}` };
const days = (month: string) => ({ valid_from: `2028-${month}-01`, valid_to: `2028-${month}-20` });
const people = ({ person, colleague }: Named) => ({ from_person_id: person, to_person_id: colleague });

/** Who answers for somebody who is away, when people are reminded, and numbers by a link. */
export const waitingApiRequests: Readonly<Record<string, SampleRequests>> = {
  'POST /api/v1/account/delegations': ({ colleague }, { delegation }) => ({
    json: { id: delegation, to_person_id: colleague, ...days('01') },
  }),
  'POST /api/v1/accounts/:id/delegations': (named, { officeDelegation }) => ({
    params: { id: named.account },
    json: { id: officeDelegation, ...people(named), ...days('02') },
  }),
  'POST /api/v1/delegations/:id/end': ({ delegation }) => ({ params: { id: delegation } }),
  'PUT /api/v1/account/reminders': () => ({ json: { remind_after_hours: 12 } }),
};

export const waitingPageRequests: Readonly<Record<string, SampleRequests>> = {
  'POST /account/delegations/new': ({ colleague }, { delegation }) => ({
    form: { id: delegation, to_person_id: colleague, limit: '', ...days('03') },
  }),
  'POST /account/delegations/:id/end': ({ delegation }) => ({ params: { id: delegation }, form: {} }),
  'POST /account/reminders': () => ({ form: { remind_after_hours: '36' } }),
  'GET /office/accounts/:id/delegations/new': ({ account }) => ({ params: { id: account } }),
  'POST /office/accounts/:id/delegations/new': (named, { officeDelegation }) => ({
    params: { id: named.account },
    form: { id: officeDelegation, limit: '', ...people(named), ...days('04') },
  }),
  'POST /office/accounts/:id/delegations/:delegationId/end': ({ account, delegation }) => ({
    params: { id: account, delegationId: delegation },
    form: {},
  }),
  'GET /link/:token/numbers': () => ({ params: nowhere }),
  'POST /link/:token/numbers/:id': () => ({ params: { ...nowhere, id: 'none' }, form: { po_number: '7' } }),
};
