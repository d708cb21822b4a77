import type { WorkOrderId } from '@grainwright/domain';
import { openEvidencePack, openEvidencePdf } from '@grainwright/operations';
import type { FastifyPluginAsync } from 'fastify';
import { unwrap } from '../../plugins/problem-error.ts';
import { sendArchive } from '../../plugins/send-archive.ts';
import { sendFile } from '../../plugins/send-file.ts';
import { actorOf } from '../../plugins/session.ts';
import { pathId } from '../path-id.ts';
import type { PageOptions } from '../person.ts';

interface Asked {
  readonly Params: { readonly id: string };
}

/** The evidence of a work order, below the pages of whoever looks at it. */
export function evidencePackPages(area: 'field' | 'office' | 'account'): FastifyPluginAsync<PageOptions> {
  return async (app, { services }) => {
    app.get<Asked>(`/${area}/work-orders/:id/evidence.pdf`, async (request, reply) => {
      const id = pathId<WorkOrderId>(request.params.id);
      return sendFile(reply, unwrap(await openEvidencePdf(services, actorOf(request), id)));
    });

    app.get<Asked>(`/${area}/work-orders/:id/evidence.zip`, async (request, reply) => {
      const id = pathId<WorkOrderId>(request.params.id);
      return sendArchive(reply, unwrap(await openEvidencePack(services, actorOf(request), id)));
    });
  };
}
