import type { DecisionId, WorkOrderId } from '@grainwright/domain';
import { readDecisionRecord } from '@grainwright/operations';
import type { FastifyPluginAsync } from 'fastify';
import { quietLink } from '../../look/buttons.ts';
import { html } from '../../look/html.ts';
import { accountPage, officePage } from '../../look/layout.ts';
import { ProblemError, unwrap } from '../../plugins/problem-error.ts';
import { notFoundDetail } from '../../plugins/problems.ts';
import { actorOf } from '../../plugins/session.ts';
import { pathId } from '../path-id.ts';
import { frameOf, type PageOptions } from '../person.ts';
import { sendPage } from '../send-page.ts';
import { decisionRecordShown } from './decision-record.ts';
import { workOrderNumber } from './state-words.ts';

/** What was approved or declined, for the desk or the account, to be shown and printed years later. */
export function decisionRecordPages(face: 'office' | 'account'): FastifyPluginAsync<PageOptions> {
  const base = `/${face}/work-orders`;
  return async (app, options) => {
    app.get<{ Params: { id: string; decisionId: string } }>(
      `${base}/:id/decisions/:decisionId`,
      async (request, reply) => {
        const id = pathId<WorkOrderId>(request.params.id);
        const decisionId = pathId<DecisionId>(request.params.decisionId);
        const record = unwrap(await readDecisionRecord(options.services, actorOf(request), decisionId));
        if (record.workOrderId !== id) throw new ProblemError({ code: 'not_found', detail: notFoundDetail });
        const frame = await frameOf(request, reply, options);
        const number = workOrderNumber(record.number);
        const page = {
          ...frame,
          title: `${number}, the answer`,
          heading: `${number}: the answer on record`,
          lead: record.vehicle,
          scripts: [frame.assets.pictures],
          body: html`
            ${decisionRecordShown(record, base, frame.me.business.timeZone)}
            <p class="unprinted">${quietLink({ label: 'The work order', href: `${base}/${id}` })}</p>`,
        };
        return sendPage(
          reply,
          face === 'office'
            ? officePage({ ...page, current: 'work-orders' })
            : accountPage({ ...page, current: 'vehicles' }),
        );
      },
    );
  };
}
