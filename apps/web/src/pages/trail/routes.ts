import { type AccountId, type InvoiceId, parseMonth, type WorkOrderId } from '@grainwright/domain';
import {
  readInvoiceTrail,
  readStatementTrail,
  readWorkOrderTrail,
  type TrailView,
} from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { quietLink } from '../../look/buttons.ts';
import { monthText } from '../../look/figures.ts';
import { accountPage, officePage } from '../../look/layout.ts';
import { ProblemError, unwrap } from '../../plugins/problem-error.ts';
import { notFoundDetail } from '../../plugins/problems.ts';
import { actorOf } from '../../plugins/session.ts';
import { pathId } from '../path-id.ts';
import { frameOf, type PageOptions } from '../person.ts';
import { queryId } from '../query-id.ts';
import { sendPage } from '../send-page.ts';
import { trailParts } from './view.ts';

interface Paged {
  Querystring: { readonly before?: unknown; readonly after?: unknown };
}

interface ById extends Paged {
  Params: { id: string };
}

interface OfMonth extends Paged {
  Params: { id?: string; month: string };
}

/** Anything but a record’s id is the newest page. */
function placeOf({ before, after }: Paged['Querystring']) {
  return { before: queryId(before), after: queryId(after) };
}

/** Who did what on a work order, an invoice or a statement, below the pages of whoever looks at it. */
export function trailPages(area: 'office' | 'account'): FastifyPluginAsync<PageOptions> {
  return async (app, options) => {
    const { services } = options;
    const show = (request: FastifyRequest, reply: FastifyReply, trail: TrailView) =>
      showTrail(request, reply, { area, options, trail });

    app.get<ById>(`/${area}/work-orders/:id/trail`, async (request, reply) => {
      const id = pathId<WorkOrderId>(request.params.id);
      return show(
        request,
        reply,
        unwrap(await readWorkOrderTrail(services, actorOf(request), id, placeOf(request.query))),
      );
    });

    app.get<ById>(`/${area}/invoices/:id/trail`, async (request, reply) => {
      const id = pathId<InvoiceId>(request.params.id);
      return show(
        request,
        reply,
        unwrap(await readInvoiceTrail(services, actorOf(request), id, placeOf(request.query))),
      );
    });

    const statement =
      area === 'office' ? '/office/accounts/:id/statements/:month/trail' : '/account/statements/:month/trail';
    app.get<OfMonth>(statement, async (request, reply) => {
      const { id, month } = request.params;
      const accountId = id === undefined ? ownAccount(request) : pathId<AccountId>(id);
      const asked = { accountId, month };
      return show(
        request,
        reply,
        unwrap(await readStatementTrail(services, actorOf(request), asked, placeOf(request.query))),
      );
    });
  };
}

function ownAccount(request: FastifyRequest): AccountId {
  const { accountId } = actorOf(request);
  if (accountId === null) throw new ProblemError({ code: 'not_found', detail: notFoundDetail });
  return accountId;
}

interface TrailPage {
  readonly area: 'office' | 'account';
  readonly options: PageOptions;
  readonly trail: TrailView;
}

const whole = {
  work_order: 'The work order',
  invoice: 'The invoice',
  statement: 'The statement',
} as const;
const sections = { work_order: 'work-orders', invoice: 'invoices', statement: 'statements' } as const;

async function showTrail(
  request: FastifyRequest,
  reply: FastifyReply,
  { area, options, trail }: TrailPage,
): Promise<FastifyReply> {
  const frame = await frameOf(request, reply, options);
  const { business } = frame.me;
  const month = trail.kind === 'statement' ? parseMonth(trail.name) : null;
  const name = month?.ok ? `Statement of ${monthText(month.value)}` : trail.name;
  const page = {
    ...frame,
    title: `${name}: who did what`,
    heading: `${name}: who did what`,
    lead:
      area === 'office'
        ? 'Everything on record. Each record is a link of a chain, so that none can be changed, left out or put in later without it showing.'
        : `What ${business.name} and your people did, as it is on record. No record can be changed, left out or put in later without it showing.`,
    beside: quietLink({ label: whole[trail.kind], href: request.url.replace(/\/trail(?:\?.*)?$/, '') }),
    body: trailParts({
      trail,
      business: business.name,
      timeZone: business.timeZone,
      path: request.url.replace(/\?.*$/, ''),
    }),
  };
  if (area === 'office') return sendPage(reply, officePage({ ...page, current: sections[trail.kind] }));
  const current = trail.kind === 'work_order' ? 'vehicles' : sections[trail.kind];
  return sendPage(reply, accountPage({ ...page, current }));
}
