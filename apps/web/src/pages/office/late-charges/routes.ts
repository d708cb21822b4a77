import { type InvoiceId, isUuid, toId } from '@grainwright/domain';
import { chargeLate, listLateCharges } from '@grainwright/operations';
import type { FastifyPluginAsync } from 'fastify';
import { formOf } from '../../../plugins/forms.ts';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { lateChargesView } from './view.ts';

export const lateChargePages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;

  app.get<{ Querystring: { charged?: string } }>('/office/late-charges', async (request, reply) => {
    const frame = await frameOf(request, reply, options);
    const list = unwrap(await listLateCharges(services, actorOf(request)));
    const { charged: text } = request.query;
    const charged = typeof text === 'string' && /^\d{1,4}$/.test(text) ? Number(text) : null;
    return sendPage(reply, lateChargesView({ frame, list, charged }));
  });

  app.post('/office/late-charges', async (request, reply) => {
    const chosen = formOf(request).all('invoice_id').filter(isUuid);
    const invoiceIds = chosen.map((id) => toId<InvoiceId>(id));
    const { charges } = unwrap(await chargeLate(services, actorOf(request), { invoiceIds }));
    return reply.redirect(`/office/late-charges?charged=${charges.length}`, 303);
  });
};
