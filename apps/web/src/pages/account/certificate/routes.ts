import { type HandedInId, isUuid, type Problem, toId } from '@grainwright/domain';
import { handInCertificate } from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { formOf } from '../../../plugins/forms.ts';
import { actorOf } from '../../../plugins/session.ts';
import { certificateWords, chosen } from '../../office/account-words.ts';
import { requirePermission } from '../../permitted.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { type CertificateTyped, handInView } from './view.ts';

const empty: Omit<CertificateTyped, 'id'> = { kind: 'resale', number: '', validFrom: '', validTo: '' };

/** Somebody of the account hands in a certificate; the business checks it before it counts. */
export const handInPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;

  app.get('/account/certificates/new', async (request, reply) =>
    sendForm(request, reply, options, { id: services.newId(), ...empty }, null),
  );

  app.post('/account/certificates/new', async (request, reply) => {
    const form = formOf(request);
    const sentId = form.text('id').toLowerCase();
    const typed = {
      id: isUuid(sentId) ? sentId : services.newId(),
      kind: form.text('kind'),
      number: form.text('number'),
      validFrom: form.text('valid_from'),
      validTo: form.text('valid_to'),
    };
    const kind = chosen(certificateWords, typed.kind);
    if (kind === null) return sendForm(request, reply, options, typed, noKind);
    const handedIn = await handInCertificate(services, actorOf(request), {
      ...typed,
      id: toId<HandedInId>(typed.id),
      kind,
      validTo: typed.validTo === '' ? null : typed.validTo,
    });
    if (handedIn.ok) return reply.redirect('/account/details', 303);
    return sendForm(request, reply, options, typed, handedIn.problem);
  });
};

const noKind: Problem = {
  code: 'invalid_input',
  detail: 'Choose the kind of certificate.',
  field: 'kind',
};

async function sendForm(
  request: FastifyRequest,
  reply: FastifyReply,
  options: PageOptions,
  typed: CertificateTyped,
  problem: Problem | null,
): Promise<FastifyReply> {
  const frame = await frameOf(request, reply, options);
  requirePermission(frame, 'hand_in_certificate');
  return sendPage(reply, handInView({ frame, typed, problem }), problem?.code);
}
