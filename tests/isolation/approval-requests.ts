import type { Made, Named } from './holdings.ts';
import type { SampleRequests } from './sample-request.ts';

/** The form of a link's address, which opens nothing; a caller by link puts their own in its place. */
export const linkOfNobody = `${'A'.repeat(22)}.${'A'.repeat(43)}`;

const ofAsked = ({ asked }: Named) => ({ params: { id: asked } });
const answers = ({ askedLine, askedVersion, askedDigest }: Named) => ({
  version_id: askedVersion,
  digest: askedDigest,
  answers: [{ line_id: askedLine, answer: 'approved' }],
});
const passedOn = (named: Named, made: Made) => ({
  ...ofAsked(named),
  json: { id: made.passedOn, ...answers(named), total: named.askedTotal },
});
const several = (named: Named, { severalDecision }: Made) => ({
  json: {
    estimates: [
      {
        id: severalDecision,
        work_order_id: named.several,
        version_id: named.severalVersion,
        digest: named.severalDigest,
        total: named.severalTotal,
      },
    ],
  },
});
const order = ({ person, firstApprover }: Named) => [person, firstApprover];

/** Who is asked for an answer, and what they do with it. */
export const approvalApiRequests: Readonly<Record<string, SampleRequests>> = {
  'GET /api/v1/work-orders/:id/asks': ofAsked,
  'POST /api/v1/work-orders/:id/asks': (named, { approvalAsk }) => ({
    ...ofAsked(named),
    json: { id: approvalAsk, person_id: named.person },
  }),
  'PUT /api/v1/accounts/:id/ask-order': (named) => ({
    params: { id: named.account },
    json: { person_ids: order(named) },
  }),
  'POST /api/v1/work-orders/:id/passed-on-answers': passedOn,
  'POST /api/v1/approvals': several,
  'GET /api/v1/decisions/:id': ({ answer }) => ({ params: { id: answer } }),

  'POST /api/v1/by-link/work-orders/:id/decision-preview': (named) => ({
    ...ofAsked(named),
    json: answers(named),
  }),
  'POST /api/v1/by-link/work-orders/:id/decisions': (named, { decision }) => ({
    ...ofAsked(named),
    json: { id: decision, ...answers(named), total: named.askedTotal },
  }),
  'POST /api/v1/by-link/work-orders/:id/passed-on-answers': passedOn,
  'POST /api/v1/by-link/work-orders/:id/numbers': (named) => ({
    ...ofAsked(named),
    json: { own_number: '', ro_number: 'Q-1', po_number: '' },
  }),
  'POST /api/v1/by-link/approvals': several,
};

const byLink = ({ asked }: Named) => ({ params: { token: linkOfNobody, id: asked } });
const answerForm = ({ askedLine, askedVersion, askedDigest, askedTotal }: Named) => ({
  version_id: askedVersion,
  digest: askedDigest,
  lines: askedLine,
  [`answer-${askedLine}`]: 'approved',
  total: askedTotal,
});

export const approvalPageRequests: Readonly<Record<string, SampleRequests>> = {
  'POST /office/accounts/:id/ask-order': (named) => ({
    params: { id: named.account },
    form: { person_ids: order(named).join(',') },
  }),
  'POST /office/work-orders/:id/asks': (named, { approvalAskByPage }) => ({
    ...ofAsked(named),
    form: { id: approvalAskByPage, person_id: named.person },
  }),
  'POST /office/work-orders/:id/links/:linkId/take-back': ({ asked, approvalLink }) => ({
    params: { id: asked, linkId: approvalLink },
    form: {},
  }),
  'POST /account/work-orders/:id/passed-on': (named, { passedOn }) => ({
    ...ofAsked(named),
    form: { ...answerForm(named), decision_id: passedOn },
  }),

  'GET /link/:token/work-orders/:id': byLink,
  'POST /link/:token/work-orders/:id/preview': (named) => ({ ...byLink(named), form: answerForm(named) }),
  'POST /link/:token/work-orders/:id/decision': (named, { decision }) => ({
    ...byLink(named),
    form: { ...answerForm(named), decision_id: decision, choice: 'as_shown' },
  }),
  'POST /link/:token/work-orders/:id/passed-on': (named, { passedOn }) => ({
    ...byLink(named),
    form: { ...answerForm(named), decision_id: passedOn },
  }),
  'POST /link/:token/work-orders/:id/numbers': (named) => ({ ...byLink(named), form: { ro_number: 'Q-1' } }),
  'POST /link/:token/approvals': (named, { severalDecision }) => ({
    params: { token: linkOfNobody },
    form: {
      work_orders: named.several,
      [`version-${named.several}`]: named.severalVersion,
      [`digest-${named.several}`]: named.severalDigest,
      [`decision-${named.several}`]: severalDecision,
    },
  }),
};
