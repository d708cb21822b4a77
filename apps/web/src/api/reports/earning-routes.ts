import { formatDecimal, formatMinor } from '@grainwright/domain';
import {
  type CommissionsView,
  exportCommissions,
  type FiguresView,
  readCommissions,
  readFigures,
  type Services,
} from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import type { z } from 'zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { sendFile } from '../../plugins/send-file.ts';
import { actorOf } from '../../plugins/session.ts';
import { problemAnswer } from '../schemas.ts';
import { commissionsAnswer, csvAnswer, daysQuery, figuresAnswer } from './schemas.ts';

const tags = ['Reports'];

export const earningRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.get(
    '/reports/commissions',
    {
      schema: {
        summary: 'Technicians’ commissions, by vehicle and document',
        description: 'Earned with the invoice, rounded per vehicle, taken back by difference with a credit.',
        tags,
        querystring: daysQuery,
        response: { 200: commissionsAnswer, ...problemAnswer },
      },
    },
    async (request) =>
      answerCommissions(unwrap(await readCommissions(services, actorOf(request), request.query))),
  );
  app.get(
    '/reports/commissions.csv',
    {
      schema: {
        summary: 'Technicians’ commissions as CSV',
        tags,
        querystring: daysQuery,
        produces: ['text/csv'],
        response: { 200: csvAnswer, ...problemAnswer },
      },
    },
    async (request, reply) =>
      sendFile(reply, unwrap(await exportCommissions(services, actorOf(request), request.query))),
  );
  app.get(
    '/reports/figures',
    {
      schema: {
        summary: 'Comebacks, declined work, savings against new parts, turnaround',
        tags,
        querystring: daysQuery,
        response: { 200: figuresAnswer, ...problemAnswer },
      },
    },
    async (request) => answerFigures(unwrap(await readFigures(services, actorOf(request), request.query))),
  );
};

function answerCommissions(view: CommissionsView): z.input<typeof commissionsAnswer> {
  const amount = (minor: bigint) => formatMinor(minor, view.currency);
  return {
    from: view.from,
    to: view.to,
    currency: view.currency,
    technicians: view.technicians.map((each) => ({
      person_id: each.personId,
      name: each.name,
      labor: amount(each.laborMinor),
      before_credits: amount(each.beforeCreditsMinor),
      credits: amount(each.creditsMinor),
      after_credits: amount(each.afterCreditsMinor),
      vehicles_without_rate: each.withoutRate,
    })),
    entries: view.entries.map((entry) => ({
      person_id: entry.technicianId,
      technician: entry.technician,
      work_order_id: entry.workOrderId,
      work_order: `WO-${entry.workOrderNumber}`,
      vehicle: entry.vehicle,
      worked_on: entry.workedOn,
      event: entry.kind,
      document: entry.document,
      invoice_id: entry.invoiceId,
      date: entry.on,
      labor: amount(entry.laborMinor),
      percent: entry.percent && formatDecimal(entry.percent),
      commission: amount(entry.commissionMinor),
      lines: entry.lines.map((line) => ({ description: line.description, labor: amount(line.laborMinor) })),
    })),
  };
}

function answerFigures(view: FiguresView): z.input<typeof figuresAnswer> {
  const { comebacks, declined, savings, turnaround, currency } = view;
  return {
    from: view.from,
    to: view.to,
    currency,
    comebacks: {
      days: view.comebackDays,
      billed: comebacks.billed,
      came_back: comebacks.cameBack,
      technicians: comebacks.technicians.map((each) => ({
        person_id: each.technicianId,
        name: each.name,
        billed: each.billed,
        came_back: each.cameBack,
      })),
    },
    declined: {
      lines: declined.lines,
      whole_work_orders: declined.wholeOrders,
      amount: formatMinor(declined.declinedMinor, currency),
    },
    savings: {
      vehicles: savings.vehicles,
      cheaper_than_new: savings.cheaper,
      quoted: formatMinor(savings.quotedMinor, currency),
      repairs: formatMinor(savings.repairsMinor, currency),
      saved: formatMinor(savings.quotedMinor - savings.repairsMinor, currency),
    },
    turnaround: { work_orders: turnaround.workOrders, median_minutes: turnaround.medianMinutes },
  };
}
