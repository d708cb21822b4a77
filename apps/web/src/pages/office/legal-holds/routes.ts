import {
  type AccountId,
  isUuid,
  type LegalHoldId,
  type Problem,
  toId,
  type WorkOrderId,
} from '@grainwright/domain';
import {
  liftLegalHold,
  placeLegalHold,
  readAccount,
  readHoldsOver,
  readWorkOrder,
} from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { formOf } from '../../../plugins/forms.ts';
import { ProblemError, unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pathId } from '../../path-id.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { workOrderNumber } from '../../work-order/state-words.ts';
import { legalHoldsView } from './view.ts';

type Face = 'work-orders' | 'accounts';

/** Holds over one work order, or over all of an account. */
export const legalHoldPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  for (const face of ['work-orders', 'accounts'] as const) {
    const base = `/office/${face}/:id/legal-holds`;
    app.get<{ Params: { id: string } }>(base, async (request, reply) =>
      show(request, reply, options, { face }),
    );

    app.post<{ Params: { id: string } }>(base, async (request, reply) => {
      const form = formOf(request);
      const typed = { id: form.text('id').toLowerCase(), reason: form.text('reason') };
      if (!isUuid(typed.id)) throw new ProblemError(notWhole);
      const id = pathId(request.params.id);
      const placed = await placeLegalHold(options.services, actorOf(request), {
        id: toId<LegalHoldId>(typed.id),
        workOrderId: face === 'work-orders' ? toId<WorkOrderId>(id) : null,
        accountId: face === 'accounts' ? toId<AccountId>(id) : null,
        reason: typed.reason,
      });
      if (placed.ok) return reply.redirect(`/office/${face}/${id}/legal-holds`, 303);
      return show(request, reply, options, { face, placing: { ...typed, problem: placed.problem } });
    });

    app.post<{ Params: { id: string; holdId: string } }>(`${base}/:holdId/end`, async (request, reply) => {
      const reason = formOf(request).text('reason');
      const id = pathId<LegalHoldId>(request.params.holdId);
      await subjectOf(request, options, face);
      const lifted = await liftLegalHold(options.services, actorOf(request), { id, reason });
      if (lifted.ok) return reply.redirect(`/office/${face}/${pathId(request.params.id)}/legal-holds`, 303);
      const field = lifted.problem.field === 'reason' ? { field: `lift-${id}` } : {};
      return show(request, reply, options, {
        face,
        lifting: { id, reason, problem: { ...lifted.problem, ...field } },
      });
    });
  }
};

const notWhole: Problem = { code: 'invalid_input', detail: 'This form is not whole. Reload the page.' };

interface ToShow {
  readonly face: Face;
  readonly placing?: { readonly id: string; readonly reason: string; readonly problem: Problem };
  readonly lifting?: { readonly id: string; readonly reason: string; readonly problem: Problem };
}

async function show(
  request: FastifyRequest<{ Params: { id: string } }>,
  reply: FastifyReply,
  options: PageOptions,
  { face, placing, lifting }: ToShow,
): Promise<FastifyReply> {
  const problem = placing?.problem ?? lifting?.problem;
  if (problem?.code === 'not_allowed' || problem?.code === 'not_found') throw new ProblemError(problem);
  const frame = await frameOf(request, reply, options);
  const { words, of } = await subjectOf(request, options, face);
  const page = {
    frame,
    of: { words, base: `/office/${face}/${request.params.id}`, section: face },
    holds: unwrap(await readHoldsOver(options.services, actorOf(request), of)),
    placing: placing ?? { id: options.services.newId(), reason: '', problem: null },
    lifting: lifting ?? null,
  };
  return sendPage(reply, legalHoldsView(page), problem?.code);
}

async function subjectOf(
  request: FastifyRequest<{ Params: { id: string } }>,
  options: PageOptions,
  face: Face,
) {
  const actor = actorOf(request);
  const id = pathId(request.params.id);
  if (face === 'accounts') {
    const { account } = unwrap(await readAccount(options.services, actor, toId<AccountId>(id)));
    return { words: account.name, of: { workOrderId: null, accountId: account.id } };
  }
  const view = unwrap(await readWorkOrder(options.services, actor, toId<WorkOrderId>(id)));
  return { words: workOrderNumber(view.number), of: { workOrderId: view.id, accountId: view.account.id } };
}
