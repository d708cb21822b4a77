import type { MailId, Problem } from '@grainwright/domain';
import { listMails, openMailAttachment, readMail, resendMail } from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { unwrap } from '../../../plugins/problem-error.ts';
import { sendFile } from '../../../plugins/send-file.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pathId } from '../../path-id.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { queryId } from '../../query-id.ts';
import { sendPage } from '../../send-page.ts';
import { mailboxView, mailView } from './view.ts';

interface Params {
  readonly id: string;
}

export const mailboxPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;

  app.get<{ Querystring: { before?: string } }>('/office/mailbox', async (request, reply) => {
    const frame = await frameOf(request, reply, options);
    const before = queryId<MailId>(request.query.before);
    const list = unwrap(await listMails(services, actorOf(request), before));
    return sendPage(reply, mailboxView({ frame, list }));
  });

  app.get<{ Params: Params }>('/office/mailbox/:id', async (request, reply) =>
    sendMailPage(request, reply, options, null),
  );

  app.get<{ Params: Params & { position: string } }>(
    '/office/mailbox/:id/attachments/:position',
    async (request, reply) => {
      const asked = { mailId: pathId<MailId>(request.params.id), position: Number(request.params.position) };
      return sendFile(reply, unwrap(await openMailAttachment(services, actorOf(request), asked)));
    },
  );

  app.post<{ Params: Params }>('/office/mailbox/:id/resend', async (request, reply) => {
    const id = pathId<MailId>(request.params.id);
    const sent = await resendMail(services, actorOf(request), id);
    if (!sent.ok && sent.problem.code === 'wrong_state')
      return sendMailPage(request, reply, options, sent.problem);
    unwrap(sent);
    return reply.redirect(`/office/mailbox/${id}`, 303);
  });
};

async function sendMailPage(
  request: FastifyRequest<{ Params: Params }>,
  reply: FastifyReply,
  options: PageOptions,
  problem: Problem | null,
): Promise<FastifyReply> {
  const frame = await frameOf(request, reply, options);
  const id = pathId<MailId>(request.params.id);
  const mail = unwrap(await readMail(options.services, actorOf(request), id));
  return sendPage(reply, mailView({ frame, mail, problem }), problem?.code);
}
