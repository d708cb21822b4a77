import { type ClearingMovementId, isUuid, type Problem, toId } from '@grainwright/domain';
import { readClearing, recordPayout, recordProcessorFee } from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { formOf } from '../../../plugins/forms.ts';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { queryId } from '../../query-id.ts';
import { sendPage } from '../../send-page.ts';
import type { Typed } from '../payments/entry-form.ts';
import { clearingView } from './view.ts';

type ClearingRequest = FastifyRequest<{ Querystring: { past?: string } }>;

export const clearingPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;

  app.get<{ Querystring: { past?: string } }>('/office/clearing', async (request, reply) =>
    sendClearing(request, reply, options, null),
  );

  app.post<{ Querystring: { past?: string } }>('/office/clearing', async (request, reply) => {
    const form = formOf(request);
    const movementId = isUuid(form.text('movement_id')) ? form.text('movement_id') : services.newId();
    const kind = form.text('kind');
    const write = kind === 'fee' ? recordProcessorFee : kind === 'payout' ? recordPayout : null;
    const recorded =
      write === null
        ? noKind
        : await write(services, actorOf(request), {
            movementId: toId<ClearingMovementId>(movementId),
            amount: form.text('amount'),
            on: form.text('on'),
            reference: form.text('reference'),
          });
    if (recorded.ok) return reply.redirect('/office/clearing', 303);
    const typed: Typed = (name) => form.text(name);
    return sendClearing(request, reply, options, { movementId, typed, problem: recorded.problem });
  });
};

const noKind = {
  ok: false,
  problem: { code: 'invalid_input', detail: 'Say whether it was kept as a fee or paid out.', field: 'kind' },
} as const;

async function sendClearing(
  request: ClearingRequest,
  reply: FastifyReply,
  options: PageOptions,
  sent: { readonly movementId: string; readonly typed: Typed; readonly problem: Problem } | null,
): Promise<FastifyReply> {
  const { services } = options;
  const frame = await frameOf(request, reply, options);
  const past = queryId<ClearingMovementId>(request.query.past);
  const view = unwrap(await readClearing(services, actorOf(request), { past }));
  const page = clearingView({
    frame,
    view,
    movementId: sent?.movementId ?? services.newId(),
    typed: sent?.typed ?? ((name) => (name === 'on' ? frame.me.today : '')),
    problem: sent?.problem ?? null,
  });
  return sendPage(reply, page, sent?.problem.code);
}
