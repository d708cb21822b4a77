import type { Named } from './holdings.ts';
import type { SampleRequests } from './sample-request.ts';

/** The form of a link's address, which opens nothing: tests/messages.test.ts writes by right ones. */
const nowhere = { token: `${'A'.repeat(22)}.${'A'.repeat(43)}`, id: 'none' };
const ofAsked = ({ asked }: Named) => ({ params: { id: asked } });
const ofAnswer = ({ paid, answer }: Named) => ({ params: { id: paid, decisionId: answer } });
const text = 'Does the seam have to come off?';

export const messageApiRequests: Readonly<Record<string, SampleRequests>> = {
  'POST /api/v1/work-orders/:id/messages': (named, { message: id }) => ({
    ...ofAsked(named),
    json: { id, text },
  }),
  'POST /api/v1/by-link/work-orders/:id/messages': (named, { message: id }) => ({
    ...ofAsked(named),
    json: { id, text },
  }),
  'GET /api/v1/work-orders/:id/versions': ofAsked,
};

/** Questions and answers on a work order, from each side. */
export const messagePageRequests: Readonly<Record<string, SampleRequests>> = {
  'GET /field/work-orders/:id/messages': ofAsked,
  'POST /field/work-orders/:id/messages': (named, { message: id }) => ({
    ...ofAsked(named),
    form: { id, text },
  }),
  'GET /office/work-orders/:id/messages': ofAsked,
  'POST /office/work-orders/:id/messages': (named, { officeMessage: id }) => ({
    ...ofAsked(named),
    form: { id, text },
  }),
  'GET /account/work-orders/:id/messages': ofAsked,
  'POST /account/work-orders/:id/messages': (named, { accountMessage: id }) => ({
    ...ofAsked(named),
    form: { id, text },
  }),
  'GET /office/work-orders/:id/decisions/:decisionId': ofAnswer,
  'GET /account/work-orders/:id/decisions/:decisionId': ofAnswer,
  'GET /link/:token/work-orders/:id/messages': () => ({ params: nowhere }),
  'POST /link/:token/work-orders/:id/messages': () => ({ params: nowhere, form: { text } }),
};
