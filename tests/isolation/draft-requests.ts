import type { Named } from './holdings.ts';
import type { SampleRequests } from './sample-request.ts';
import { draftDay } from './told-drafts.ts';

const rate = {
  code: 'PT-S',
  repair: 'Pillar trim scratch',
  family: 'Pillar trim scratch',
  list: '90.00',
  materials_percent: '10',
  takes_further_repair: true,
  repairs_damage: true,
};
const csv = [
  'code,repair,family,over_inches,to_inches,part,material,list,materials_percent,takes_further_repair,repairs_damage',
  'PT-S,Pillar trim scratch,Pillar trim scratch,0,2,,,95.00,10,yes,yes',
].join('\n');
const head = { name: 'Another name', counts_from: draftDay };
const ofDraft = ({ priceDraft }: Named) => ({ params: { id: priceDraft } });
const tried = ({ priceDraft, account }: Named) => ({ params: { id: priceDraft, account } });

/** Price lists in the making, in the order of what becomes of one. */
export const draftApiRequests: Readonly<Record<string, SampleRequests>> = {
  'GET /api/v1/price-book/rates.csv': () => ({ query: { on: draftDay } }),
  'POST /api/v1/price-book/drafts': (_named, { priceDraft }) => ({
    json: { id: priceDraft, name: 'Spring list', counts_from: '2027-03-01' },
  }),
  'GET /api/v1/price-book/drafts/:id': ofDraft,
  'PUT /api/v1/price-book/drafts/:id': (named) => ({
    ...ofDraft(named),
    json: { revision: 1, ...head, rates: [rate] },
  }),
  'GET /api/v1/price-book/drafts/:id/list.csv': ofDraft,
  'POST /api/v1/price-book/drafts/:id/import': (named) => ({ ...ofDraft(named), json: { revision: 2, csv } }),
  'GET /api/v1/price-book/drafts/:id/trial': ofDraft,
  'GET /api/v1/price-book/drafts/:id/trial/:account': tried,
  'POST /api/v1/price-book/drafts/:id/price-book-changes': ({ readyDraft }) => ({
    params: { id: readyDraft },
    json: { revision: 1, book: '' },
  }),
  'POST /api/v1/price-book/drafts/:id/publish': ({ readyDraft }) => ({
    params: { id: readyDraft },
    json: { revision: 1 },
  }),
  'POST /api/v1/price-book/drafts/:id/discard': ({ idleDraft }) => ({
    params: { id: idleDraft },
    json: { revision: 1 },
  }),
};

export const draftPageRequests: Readonly<Record<string, SampleRequests>> = {
  'GET /office/price-book/rates.csv': () => ({ query: { on: draftDay } }),
  'POST /office/price-book/drafts': (_named, { priceDraft }) => ({
    form: { id: priceDraft, name: 'Spring list', counts_from: '2027-03-01' },
  }),
  'GET /office/price-book/drafts/:id': ofDraft,
  'POST /office/price-book/drafts/:id': (named) => ({
    ...ofDraft(named),
    form: {
      revision: '1',
      ...head,
      code: 'PT-S',
      repair: 'Pillar trim scratch',
      family: 'Pillar trim scratch',
      list: '90.00',
      share: '10',
      damage: '0',
    },
  }),
  'GET /office/price-book/drafts/:id/list.csv': ofDraft,
  'GET /office/price-book/drafts/:id/csv': ofDraft,
  'POST /office/price-book/drafts/:id/csv': (named) => ({
    ...ofDraft(named),
    file: { fields: { revision: '2' }, text: csv },
  }),
  'GET /office/price-book/drafts/:id/trial': ofDraft,
  'GET /office/price-book/drafts/:id/trial/:account': tried,
  'GET /office/price-book/drafts/:id/publish': ofDraft,
  'POST /office/price-book/drafts/:id/go-on': ({ readyDraft }) => ({
    params: { id: readyDraft },
    form: { revision: '1' },
  }),
  'POST /office/price-book/drafts/:id/publish': ({ readyDraft }) => ({
    params: { id: readyDraft },
    form: { revision: '1' },
  }),
  'POST /office/price-book/drafts/:id/discard': ({ idleDraft }) => ({
    params: { id: idleDraft },
    form: { revision: '1' },
  }),
};
