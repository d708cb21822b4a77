import type { WorkOrderId } from '@grainwright/domain';
import { checkNumbersAsked, giveNumbers, readMe, readNumbersByLink } from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { formOf } from '../../../plugins/forms.ts';
import { approvalLinkOf, type LinkParams, linkPath, linkRoute } from '../../../plugins/link.ts';
import { ProblemError, unwrap } from '../../../plugins/problem-error.ts';
import { pathId } from '../../path-id.ts';
import type { PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { numbersView, type RefusedNumbers } from './view.ts';

/** Where a contact gives the numbers that finished work lacks which they were asked about, by the link in the mail that asks. */
export const linkNumbersPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  app.get<{ Params: LinkParams }>('/link/:token/numbers', linkRoute, (request, reply) =>
    show(request, reply, options, null),
  );

  app.post<{ Params: LinkParams & { readonly id: string } }>(
    '/link/:token/numbers/:id',
    linkRoute,
    async (request, reply) => {
      const link = await approvalLinkOf(options.services, request);
      const { services } = options;
      const workOrderId = unwrap(
        await checkNumbersAsked(services, link, pathId<WorkOrderId>(request.params.id)),
      );
      const form = formOf(request);
      const typed = {
        ownNumber: form.text('own_number'),
        roNumber: form.text('ro_number'),
        poNumber: form.text('po_number'),
      };
      const given = await giveNumbers(services, link.actor, { workOrderId, ...typed });
      if (given.ok) return reply.redirect(`${linkPath(request)}/numbers`, 303);
      return show(request, reply, options, { workOrderId, typed, problem: given.problem });
    },
  );
};

async function show(
  request: FastifyRequest<{ Params: LinkParams }>,
  reply: FastifyReply,
  options: PageOptions,
  refused: RefusedNumbers | null,
): Promise<FastifyReply> {
  const { services, assets } = options;
  const { code } = refused?.problem ?? {};
  if (refused !== null && (code === 'not_allowed' || code === 'not_found'))
    throw new ProblemError(refused.problem);
  const link = await approvalLinkOf(services, request);
  const page = {
    me: unwrap(await readMe(services, link.actor)),
    assets: assets.urls,
    path: linkPath(request),
    asked: unwrap(await readNumbersByLink(services, link)),
    refused,
  };
  return sendPage(reply, numbersView(page), code);
}
