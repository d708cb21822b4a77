import { exportSalesTax, readSalesTax } from '@grainwright/operations';
import type { FastifyPluginAsync } from 'fastify';
import { unwrap } from '../../../plugins/problem-error.ts';
import { sendFile } from '../../../plugins/send-file.ts';
import { actorOf } from '../../../plugins/session.ts';
import { problemsOf } from '../../form-problems.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { askedDays } from '../report-days.ts';
import { salesTaxPage } from './view.ts';

interface Days {
  readonly from?: string;
  readonly to?: string;
}

export const officeSalesTaxPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;

  app.get<{ Querystring: Days }>('/office/sales-tax', async (request, reply) => {
    const frame = await frameOf(request, reply, options);
    const days = askedDays(request.query, frame.me.today);
    const read = await readSalesTax(services, actorOf(request), days);
    if (!read.ok && read.problem.field === undefined) return unwrap(read);
    const problem = read.ok ? null : read.problem;
    const problems = problemsOf(problem, ['from', 'to']);
    const page = salesTaxPage({ frame, days, problems, report: read.ok ? read.value : null });
    return sendPage(reply, page, problem?.code);
  });

  app.get<{ Querystring: Days }>('/office/sales-tax.csv', async (request, reply) => {
    const { me } = await frameOf(request, reply, options);
    const days = askedDays(request.query, me.today);
    return sendFile(reply, unwrap(await exportSalesTax(services, actorOf(request), days)));
  });
};
