import { parseDay } from '@grainwright/domain';
import {
  acceptPriceBookChanges,
  discardPriceDraft,
  exportPriceDraft,
  exportPriceList,
  importPriceDraft,
  listDraftPriceLists,
  publishPriceDraft,
  readPriceDraft,
  type Services,
  savePriceDraft,
  startPriceDraft,
  tryPriceDraft,
} from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { sendFile } from '../../plugins/send-file.ts';
import { actorOf } from '../../plugins/session.ts';
import { csvAnswer } from '../reports/schemas.ts';
import { problemAnswer } from '../schemas.ts';
import { answerDraft, answerDrafts, answerTrial, answerTriedAccount, rowsOf } from './draft-answers.ts';
import {
  acceptChangesBody,
  acceptedChangesAnswer,
  draftAnswer,
  draftIdAnswer,
  draftParams,
  draftsAnswer,
  endDraftBody,
  importDraftBody,
  importedAnswer,
  onQuery,
  revisionAnswer,
  saveDraftBody,
  startDraftBody,
  trialAnswer,
  triedAccountAnswer,
  triedAccountParams,
} from './draft-schemas.ts';

const tags = ['Price book'];
const params = draftParams;
const csv = { tags, produces: ['text/csv'], response: { 200: csvAnswer, ...problemAnswer } };

/** A CSV of 1 MB as a JSON string, whatever has to be escaped in it. */
const importBytesMax = 3_000_000;

/** Price lists in the making: written, read in, tried on past work, put into force. */
export const draftRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.get(
    '/price-book/rates.csv',
    { schema: { summary: 'The price list of a day as CSV', querystring: onQuery, ...csv } },
    async (request, reply) => {
      const { on } = request.query;
      const day = on === undefined ? null : unwrap(parseDay(on, 'on'));
      return sendFile(reply, unwrap(await exportPriceList(services, actorOf(request), { on: day })));
    },
  );
  app.get(
    '/price-book/drafts',
    {
      schema: { summary: 'List draft price lists', tags, response: { 200: draftsAnswer, ...problemAnswer } },
    },
    async (request) => answerDrafts(unwrap(await listDraftPriceLists(services, actorOf(request))).drafts),
  );
  app.post(
    '/price-book/drafts',
    {
      schema: {
        summary: 'Start a price list from the one in force on a day',
        tags,
        body: startDraftBody,
        response: { 201: draftIdAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { id: draftId, name, counts_from: countsFrom, copied_from: copiedFrom } = request.body;
      const input = { draftId, name, countsFrom, copiedFrom };
      return reply.code(201).send(unwrap(await startPriceDraft(services, actorOf(request), input)));
    },
  );
  app.get(
    '/price-book/drafts/:id',
    {
      schema: {
        summary: 'A draft price list, and what it would change',
        tags,
        params,
        response: { 200: draftAnswer, ...problemAnswer },
      },
    },
    async (request) =>
      answerDraft(unwrap(await readPriceDraft(services, actorOf(request), { draftId: request.params.id }))),
  );
  await app.register(draftContentRoutes, { services });
  await app.register(draftTrialRoutes, { services });
  await app.register(draftEndRoutes, { services });
};

const draftContentRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.put(
    '/price-book/drafts/:id',
    {
      schema: {
        summary: 'Put name, day and rows in the place of what the draft had',
        description: 'All that is wrong with any row is in `errors`, by `rates.<index>.<column>`.',
        tags,
        params,
        body: saveDraftBody,
        response: { 200: revisionAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const { revision, name, counts_from: countsFrom } = request.body;
      const input = { draftId: request.params.id, revision, name, countsFrom, rates: rowsOf(request.body) };
      return unwrap(await savePriceDraft(services, actorOf(request), input));
    },
  );
  app.get(
    '/price-book/drafts/:id/list.csv',
    { schema: { summary: 'A draft price list as CSV', params, ...csv } },
    async (request, reply) =>
      sendFile(
        reply,
        unwrap(await exportPriceDraft(services, actorOf(request), { draftId: request.params.id })),
      ),
  );
  app.post(
    '/price-book/drafts/:id/import',
    {
      bodyLimit: importBytesMax,
      schema: {
        summary: 'Put the rows of a CSV file in the place of the draft’s',
        description:
          'Nothing is taken while anything is wrong: all of it is in `errors`, by `rows.<row>.<column>`, rows counted with the header as the first.',
        tags,
        params,
        body: importDraftBody,
        response: { 200: importedAnswer, ...problemAnswer },
      },
    },
    async (request) =>
      unwrap(
        await importPriceDraft(services, actorOf(request), { draftId: request.params.id, ...request.body }),
      ),
  );
};

const draftTrialRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.get(
    '/price-book/drafts/:id/trial',
    {
      schema: {
        summary: 'What the last three months would have come to under a draft, account by account',
        tags,
        params,
        response: { 200: trialAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const input = { draftId: request.params.id, accountId: null };
      return answerTrial(unwrap(await tryPriceDraft(services, actorOf(request), input)));
    },
  );
  app.get(
    '/price-book/drafts/:id/trial/:account',
    {
      schema: {
        summary: 'The work orders of an account whose price a draft would change',
        tags,
        params: triedAccountParams,
        response: { 200: triedAccountAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const { id: draftId, account: accountId } = request.params;
      const trial = unwrap(await tryPriceDraft(services, actorOf(request), { draftId, accountId }));
      const [account] = trial.accounts;
      if (account === undefined) throw new Error('a trial of an account without that account');
      return answerTriedAccount(trial, account);
    },
  );
};

const draftEndRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.post(
    '/price-book/drafts/:id/price-book-changes',
    {
      schema: {
        summary: 'Go on with a draft though the price book changed meanwhile',
        tags,
        params,
        body: acceptChangesBody,
        response: { 200: acceptedChangesAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const input = { draftId: request.params.id, ...request.body };
      return unwrap(await acceptPriceBookChanges(services, actorOf(request), input));
    },
  );
  const ends = [
    { path: 'publish', summary: 'Put a draft into force from its day on', send: publishPriceDraft },
    { path: 'discard', summary: 'Lay a draft aside for good', send: discardPriceDraft },
  ] as const;
  for (const { path, summary, send } of ends)
    app.post(
      `/price-book/drafts/:id/${path}`,
      {
        schema: {
          summary,
          tags,
          params,
          body: endDraftBody,
          response: { 200: draftIdAnswer, ...problemAnswer },
        },
      },
      async (request) => {
        const input = { draftId: request.params.id, revision: request.body.revision };
        return unwrap(await send(services, actorOf(request), input));
      },
    );
};
