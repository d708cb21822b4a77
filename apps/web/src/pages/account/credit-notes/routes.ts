import type { CreditNoteId } from '@grainwright/domain';
import { listCreditNotes, readCreditNote } from '@grainwright/operations';
import type { FastifyPluginAsync } from 'fastify';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pageCursor } from '../../page-cursor.ts';
import { pathId } from '../../path-id.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { accountCreditNotesView, accountCreditNoteView } from './view.ts';

export const accountCreditNotePages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;

  app.get<{ Querystring: { before?: string } }>('/account/credit-notes', async (request, reply) => {
    const frame = await frameOf(request, reply, options);
    const past = pageCursor(request.query.before) ?? null;
    const list = unwrap(await listCreditNotes(services, actorOf(request), { accountId: null, past }));
    return sendPage(reply, accountCreditNotesView({ frame, list }));
  });

  app.get<{ Params: { id: string } }>('/account/credit-notes/:id', async (request, reply) => {
    const frame = await frameOf(request, reply, options);
    const id = pathId<CreditNoteId>(request.params.id);
    const note = unwrap(await readCreditNote(services, actorOf(request), id));
    return sendPage(reply, accountCreditNoteView({ frame, note }));
  });
};
