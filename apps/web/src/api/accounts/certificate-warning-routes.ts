import type { AccountId } from '@grainwright/domain';
import { readCertificateWarning, type Services } from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { answerCertificateWarning } from '../certificate-warning.ts';
import { certificateWarningAnswer, idOf, problemAnswer } from '../schemas.ts';

export const certificateWarningRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (
  app,
  { services },
) => {
  app.get(
    '/accounts/:id/certificate-warning',
    {
      schema: {
        summary: 'Whether an account’s certificate ends soon or has ended',
        tags: ['Accounts'],
        params: z.object({ id: idOf<AccountId>('account') }),
        response: { 200: z.object({ certificate_warning: certificateWarningAnswer }), ...problemAnswer },
      },
    },
    async (request) => {
      const warning = await readCertificateWarning(services, actorOf(request), request.params.id);
      return { certificate_warning: answerCertificateWarning(unwrap(warning)) };
    },
  );
};
