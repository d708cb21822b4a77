import {
  type AccountId,
  type InvoiceId,
  isUuid,
  type Problem,
  toId,
  type WorkOrderId,
} from '@grainwright/domain';
import {
  type IssuedRun,
  issueInvoice,
  issueReady,
  listReadyToInvoice,
  previewInvoice,
} from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { type FormValues, formOf } from '../../../plugins/forms.ts';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { queryId } from '../../query-id.ts';
import { sendPage } from '../../send-page.ts';
import { runView } from './run-view.ts';
import { type ChosenWork, readyView } from './view.ts';

interface Query {
  readonly account?: string;
  readonly after?: string;
}

const path = '/office/invoices/ready';

/** What waits for an invoice: issue one by hand, look at it before, or issue all that is ready. */
export const officeInvoicesToIssuePages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;

  app.get<{ Querystring: Query }>(path, async (request, reply) =>
    sendReady(request, reply, options, { query: request.query, chosen: null, problem: null }),
  );

  app.post('/office/invoices', async (request, reply) => {
    const chosen = chosenWork(formOf(request), services.newId);
    const issued = await issueInvoice(services, actorOf(request), {
      invoiceId: toId<InvoiceId>(chosen.invoiceId),
      workOrderIds: chosen.workOrderIds,
      issuedOn: chosen.issuedOn,
    });
    if (issued.ok) return reply.redirect(`/office/invoices/${issued.value.id}`, 303);
    return sendReady(request, reply, options, { query: {}, chosen, problem: issued.problem });
  });

  app.post('/office/invoices/preview', async (request, reply) => {
    const chosen = chosenWork(formOf(request), services.newId);
    const preview = await previewInvoice(services, actorOf(request), chosen);
    if (!preview.ok)
      return sendReady(request, reply, options, { query: {}, chosen, problem: preview.problem });
    const shown = { ...chosen, preview: preview.value };
    return sendReady(request, reply, options, { query: {}, chosen: shown, problem: null });
  });

  app.post(path, async (request, reply) => {
    const form = formOf(request);
    const accountId = queryId<AccountId>(form.text('account'));
    const run = await issueReady(services, actorOf(request), {
      through: form.text('through'),
      issuedOn: form.text('issued_on'),
      ...(accountId === null ? {} : { accountIds: [accountId] }),
    });
    const query = accountId === null ? {} : { account: accountId };
    if (!run.ok) return sendReady(request, reply, options, { query, chosen: null, problem: run.problem });
    return sendRun(request, reply, options, run.value);
  });
};

function chosenWork(form: FormValues, newId: () => string): ChosenWork {
  const sent = form.text('invoice_id').toLowerCase();
  return {
    invoiceId: isUuid(sent) ? sent : newId(),
    workOrderIds: form
      .all('work_order_ids')
      .filter(isUuid)
      .map((id) => toId<WorkOrderId>(id)),
    issuedOn: form.text('issued_on'),
    preview: null,
  };
}

interface Shown {
  readonly query: Query;
  readonly chosen: ChosenWork | null;
  readonly problem: Problem | null;
}

/** What waits for an invoice; with a problem, what stood in the way of one. */
async function sendReady(
  request: FastifyRequest,
  reply: FastifyReply,
  options: PageOptions,
  { query, chosen, problem }: Shown,
): Promise<FastifyReply> {
  const { services } = options;
  const accountId = queryId<AccountId>(query.account);
  const after = queryId<AccountId>(query.after);
  const list = unwrap(await listReadyToInvoice(services, actorOf(request), { accountId, after }));
  const frame = await frameOf(request, reply, options);
  const view = { frame, list, accountId, newId: services.newId, chosen, problem };
  return sendPage(reply, readyView(view), problem?.code);
}

async function sendRun(
  request: FastifyRequest,
  reply: FastifyReply,
  options: PageOptions,
  run: IssuedRun,
): Promise<FastifyReply> {
  const frame = await frameOf(request, reply, options);
  return sendPage(reply, runView({ frame, run }));
}
