import { isUuid, type Problem, type RetentionRuleId, toId } from '@grainwright/domain';
import { readRetention, setRetentionRule, switchRetention } from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { formOf } from '../../../plugins/forms.ts';
import { ProblemError, unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { confirmSwitchView, type TypedSwitch } from './switch-part.ts';
import { type RuleForm, retentionView } from './view.ts';

/** How long things are kept, for the owner of the business. */
export const retentionPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  app.get<{ Querystring: { on?: string } }>('/office/retention', async (request, reply) => {
    const { on } = request.query;
    return show(request, reply, options, { on: typeof on === 'string' ? on : null });
  });

  app.post('/office/retention/rules', async (request, reply) => {
    const values = formOf(request);
    const form: RuleForm = {
      id: idOf(values.text('id')),
      kind: values.text('kind'),
      period: values.text('period').trim(),
      unit: values.text('unit'),
      reason: values.text('reason'),
    };
    const { period, unit } = form;
    const set = await setRetentionRule(options.services, actorOf(request), {
      id: toId<RetentionRuleId>(form.id),
      kind: form.kind,
      keep: period === '' ? null : { period, unit },
      reason: form.reason,
    });
    if (set.ok) return reply.redirect('/office/retention', 303);
    return show(request, reply, options, { on: null, form, problem: set.problem });
  });

  app.post('/office/retention/switch', async (request, reply) => {
    const values = formOf(request);
    const typed = { id: idOf(values.text('id')), reason: values.text('reason').trim() };
    const on = values.text('on') === 'yes';
    if (on && typed.reason !== '' && values.text('confirmed') !== 'yes')
      return confirm(request, reply, options, { ...typed, problem: null });
    const turned = await switchRetention(options.services, actorOf(request), { ...typed, on });
    if (turned.ok) return reply.redirect('/office/retention', 303);
    return show(request, reply, options, { on: null, turn: { ...typed, problem: turned.problem } });
  });
};

function idOf(text: string): string {
  if (!isUuid(text.toLowerCase()))
    throw new ProblemError({ code: 'invalid_input', detail: 'This form is not whole. Reload the page.' });
  return text.toLowerCase();
}

async function confirm(
  request: FastifyRequest,
  reply: FastifyReply,
  options: PageOptions,
  turn: TypedSwitch,
): Promise<FastifyReply> {
  const frame = await frameOf(request, reply, options);
  const view = unwrap(await readRetention(options.services, actorOf(request), { on: null }));
  return sendPage(reply, confirmSwitchView({ frame, view, turn }));
}

interface Shown {
  readonly on: string | null;
  readonly form?: RuleForm;
  readonly problem?: Problem;
  readonly turn?: TypedSwitch;
}

async function show(
  request: FastifyRequest,
  reply: FastifyReply,
  options: PageOptions,
  { on, form, problem, turn }: Shown,
): Promise<FastifyReply> {
  const refused = problem ?? turn?.problem ?? null;
  if (refused?.code === 'not_allowed') throw new ProblemError(refused);
  const frame = await frameOf(request, reply, options);
  const view = unwrap(await readRetention(options.services, actorOf(request), { on }));
  const blank: RuleForm = {
    id: options.services.newId(),
    kind: 'photos',
    period: '',
    unit: 'years',
    reason: '',
  };
  const page = {
    frame,
    view,
    form: form ?? blank,
    turn: turn ?? { id: options.services.newId(), reason: '', problem: null },
    problem: problem ?? null,
  };
  return sendPage(reply, retentionView(page), refused?.code);
}
