import { readFigures } from '@grainwright/operations';
import type { FastifyPluginAsync } from 'fastify';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { problemsOf } from '../../form-problems.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { askedDays } from '../report-days.ts';
import { figuresPage } from './view.ts';

interface Days {
  readonly from?: string;
  readonly to?: string;
}

export const officeFiguresPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  app.get<{ Querystring: Days }>('/office/figures', async (request, reply) => {
    const frame = await frameOf(request, reply, options);
    const days = askedDays(request.query, frame.me.today);
    const read = await readFigures(options.services, actorOf(request), days);
    if (!read.ok && read.problem.field === undefined) return unwrap(read);
    const problem = read.ok ? null : read.problem;
    const problems = problemsOf(problem, ['from', 'to']);
    const page = figuresPage({ frame, days, problems, figures: read.ok ? read.value : null });
    return sendPage(reply, page, problem?.code);
  });
};
