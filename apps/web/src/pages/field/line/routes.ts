import {
  isUuid,
  type LineId,
  type Problem,
  toId,
  type VersionId,
  type WorkOrderId,
} from '@grainwright/domain';
import {
  type LineInput,
  listEarlierWork,
  listRepairChoices,
  readDamage,
  readFinding,
  readLineToRepeat,
  readWorkOrder,
  repeatLine,
  type WorkOrderLineView,
  type WorkOrderView,
} from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { FormValues, formOf } from '../../../plugins/forms.ts';
import { ProblemError, unwrap } from '../../../plugins/problem-error.ts';
import { notFoundDetail } from '../../../plugins/problems.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pathId } from '../../path-id.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { afterKeeping } from './after-keeping.ts';
import { damagePage } from './damage-view.ts';
import { keepLine, lineChangeIn, takeLineAway } from './keep-line.ts';
import { damageFields, lineOnRecord, materialFields, toldByPart, typedLine } from './line-form.ts';
import { materialPage } from './material-view.ts';
import { withoutProposal, withProposal } from './proposal.ts';
import { repairPage } from './repair-view.ts';
import { linePage } from './view.ts';

interface LineAddress {
  Params: { id: string; lineId: string };
  Querystring: { change?: string };
}

/** A line in two screens, the damage and its repair, and then the line with its price. */
export const fieldLinePages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;

  app.get<LineAddress>('/field/work-orders/:id/lines/new', async (request, reply) => {
    const view = await readView(request, options);
    if (lineChangeIn(view.state) === 'closed') return reply.redirect(`/field/work-orders/${view.id}`, 303);
    const form = { view, lineId: services.newId(), isNew: true, typed: typedLine(new FormValues({})) };
    const versionId = versionFor(view, options);
    return showDamage(request, reply, options, { ...form, versionId, problem: null });
  });

  app.post<LineAddress>('/field/work-orders/:id/lines/new', async (request, reply) => {
    const typedId = formOf(request).text('line_id').toLowerCase();
    const lineId = isUuid(typedId) ? typedId : services.newId();
    return takeLine(request, reply, options, { lineId, isNew: true });
  });

  app.post<LineAddress>('/field/work-orders/:id/lines/repeat', async (request, reply) => {
    const workOrderId = pathId<WorkOrderId>(request.params.id);
    const typedId = formOf(request).text('line_id').toLowerCase();
    const lineId = isUuid(typedId) ? typedId : services.newId();
    const last = unwrap(await readLineToRepeat(services, actorOf(request), workOrderId));
    const view = await readView(request, options);
    if (last !== null && last.asks !== null && !view.lines.some(({ id }) => id === lineId)) {
      const form = { view, lineId, versionId: null, isNew: true, typed: last.line, problem: null };
      return last.asks === 'heat_test'
        ? showMaterial(request, reply, options, form, true)
        : showRepair(request, reply, options, { ...form, sizeOfAnother: true });
    }
    const input = { workOrderId, lineId: toId<LineId>(lineId) };
    const anotherDamage = formOf(request).checked('another_damage');
    const repeated = await repeatLine(services, actorOf(request), { ...input, anotherDamage });
    if (repeated.ok) return reply.redirect(afterKeeping(repeated.value, lineId), 303);
    const typed = last?.line ?? typedLine(new FormValues({}));
    const form = { view, lineId: services.newId(), versionId: null, isNew: true, typed };
    return showRepair(request, reply, options, { ...form, problem: repeated.problem });
  });

  app.get<LineAddress>('/field/work-orders/:id/lines/:lineId', async (request, reply) => {
    const view = await readView(request, options);
    const line = lineIn(view, request);
    const { change } = request.query;
    if (lineChangeIn(view.state) === 'closed' || (change !== 'damage' && change !== 'repair'))
      return showLine(request, reply, options, { view, line, problem: null });
    const typed = lineOnRecord(line, view.currency);
    const versionId = versionFor(view, options);
    const form = { view, lineId: line.id, versionId, isNew: false, typed, problem: null };
    return change === 'damage'
      ? showDamage(request, reply, options, form)
      : showRepair(request, reply, options, form);
  });

  app.post<LineAddress>('/field/work-orders/:id/lines/:lineId', async (request, reply) =>
    takeLine(request, reply, options, { lineId: pathId<LineId>(request.params.lineId), isNew: false }),
  );

  app.post<LineAddress>('/field/work-orders/:id/lines/:lineId/remove', async (request, reply) => {
    const workOrderId = pathId<WorkOrderId>(request.params.id);
    const lineId = pathId<LineId>(request.params.lineId);
    const versionId = postedVersion(formOf(request));
    const removed = await takeLineAway(services, actorOf(request), { workOrderId, lineId, versionId });
    if (removed.ok) return reply.redirect(`/field/work-orders/${workOrderId}`, 303);
    const view = await readView(request, options);
    return showLine(request, reply, options, { view, line: lineIn(view, request), problem: removed.problem });
  });
};

interface Form {
  readonly view: WorkOrderView;
  readonly lineId: string;
  /** Of the changed estimate that keeping the line sends; null while it is being written up. */
  readonly versionId: string | null;
  readonly isNew: boolean;
  readonly typed: LineInput;
  readonly problem: Problem | null;
  /** The size in the form was measured on another vehicle. */
  readonly sizeOfAnother?: boolean;
}

/** What the form says by its button: look at damage or material again, see what was found, or keep the line. */
async function takeLine(
  request: FastifyRequest<LineAddress>,
  reply: FastifyReply,
  options: PageOptions,
  { lineId, isNew }: Pick<Form, 'lineId' | 'isNew'>,
): Promise<FastifyReply> {
  const posted = formOf(request);
  const typed = typedLine(posted);
  const versionId = postedVersion(posted);
  const { services } = options;
  if (posted.text('step') !== 'save') {
    const form = { view: await readView(request, options), lineId, versionId, isNew, problem: null };
    if (posted.text('step') === 'damage') {
      const looked = isNew ? await withoutProposal(services, actorOf(request), typed) : typed;
      return showDamage(request, reply, options, { ...form, typed: looked });
    }
    const asks = posted.text('step') === 'material_again' || posted.text('step') === 'material';
    if (asks) {
      const again = posted.text('step') === 'material_again';
      const looked = again && isNew ? await withoutProposal(services, actorOf(request), typed) : typed;
      return showMaterial(request, reply, options, { ...form, typed: looked }, again);
    }
    const found = isNew ? await withProposal(services, actorOf(request), typed) : typed;
    return showRepair(request, reply, options, { ...form, typed: found });
  }
  const workOrderId = pathId<WorkOrderId>(request.params.id);
  const anotherDamage = posted.checked('another_damage');
  const line = {
    workOrderId,
    lineId: toId<LineId>(lineId),
    isNew,
    line: typed,
    anotherDamage,
    floorReason: posted.text('floor_reason'),
    versionId,
  };
  const kept = await keepLine(services, actorOf(request), line);
  if (kept.ok) return reply.redirect(afterKeeping(kept.value, lineId), 303);
  // An id that is taken by something else would be refused again and again: the form goes on under new ones.
  const taken = kept.problem.code === 'id_reused';
  const ids = {
    lineId: taken && isNew ? services.newId() : lineId,
    versionId: taken && versionId !== null ? services.newId() : versionId,
  };
  const view = await readView(request, options);
  return showRepair(request, reply, options, { ...ids, view, isNew, typed, problem: kept.problem });
}

function versionFor({ state }: WorkOrderView, { services }: PageOptions): string | null {
  return lineChangeIn(state) === 'sends_estimate' ? services.newId() : null;
}

/** Only a form that said that it sends an estimate sends one. */
function postedVersion(form: FormValues): VersionId | null {
  const text = form.text('version_id').toLowerCase();
  return isUuid(text) ? toId<VersionId>(text) : null;
}

/** The screen between, passed by where the part says what it is made of; back to the first where that is wrong. */
async function showMaterial(
  request: FastifyRequest,
  reply: FastifyReply,
  options: PageOptions,
  form: Form,
  again: boolean,
): Promise<FastifyReply> {
  const damage = readDamage(form.typed);
  if (!damage.ok) return showDamage(request, reply, options, { ...form, problem: damage.problem });
  const known = toldByPart(damage.value.part);
  if (known !== null && !again && form.isNew) {
    const typed = await withProposal(options.services, actorOf(request), { ...form.typed, ...known });
    return showRepair(request, reply, options, { ...form, typed });
  }
  const frame = await frameOf(request, reply, options);
  const page = materialPage({ ...pageOf(form), frame, damage: damage.value, problem: form.problem });
  return sendPage(reply, page, form.problem?.code);
}

/** The last screen; back to the first where that is what has to be corrected. */
async function showRepair(
  request: FastifyRequest,
  reply: FastifyReply,
  options: PageOptions,
  form: Form,
): Promise<FastifyReply> {
  const { typed, view } = form;
  const damage = readDamage(typed);
  const finding = readFinding(typed);
  const asTested = readFinding({ ...typed, overruledMaterial: '', overruleReason: '' });
  const problem = form.problem ?? firstProblem([damage, finding]);
  if (!damage.ok || (problem !== null && isOf(damageFields, problem)))
    return showDamage(request, reply, options, { ...form, problem });
  if (!asTested.ok || (problem !== null && isOf(materialFields, problem)))
    return showMaterial(request, reply, options, { ...form, problem }, true);
  const frame = await frameOf(request, reply, options);
  // What is still to come is priced by today's rates.
  const day = view.visit.day < frame.me.today ? view.visit.day : undefined;
  const choices = unwrap(await listRepairChoices(options.services, actorOf(request), { day }));
  const page = repairPage({
    ...pageOf(form),
    frame,
    problem,
    sizeOfAnother: form.sizeOfAnother === true,
    damage: damage.value,
    finding: finding.ok ? finding.value : asTested.value,
    choices,
    earlier:
      problem?.code === 'duplicate'
        ? unwrap(await listEarlierWork(options.services, actorOf(request), view.id))
        : [],
  });
  return sendPage(reply, page, problem?.code);
}

async function showDamage(
  request: FastifyRequest,
  reply: FastifyReply,
  options: PageOptions,
  form: Form,
): Promise<FastifyReply> {
  const { services } = options;
  const frame = await frameOf(request, reply, options);
  const last = form.isNew ? unwrap(await readLineToRepeat(services, actorOf(request), form.view.id)) : null;
  const repeatId = services.newId();
  const page = damagePage({ ...pageOf(form), frame, last, repeatId, problem: form.problem });
  return sendPage(reply, page, form.problem?.code);
}

function pageOf({ view, lineId, versionId, isNew, typed }: Form) {
  const lines = `/field/work-orders/${view.id}/lines`;
  return { view, lineId, versionId, isNew, typed, address: isNew ? `${lines}/new` : `${lines}/${lineId}` };
}

async function showLine(
  request: FastifyRequest,
  reply: FastifyReply,
  options: PageOptions,
  shown: {
    readonly view: WorkOrderView;
    readonly line: WorkOrderLineView;
    readonly problem: Problem | null;
  },
): Promise<FastifyReply> {
  const frame = await frameOf(request, reply, options);
  const page = linePage({ ...shown, frame, versionId: options.services.newId() });
  return sendPage(reply, page, shown.problem?.code);
}

function firstProblem(
  results: readonly ({ readonly ok: true } | { readonly ok: false; readonly problem: Problem })[],
): Problem | null {
  for (const result of results) if (!result.ok) return result.problem;
  return null;
}

function isOf(fields: readonly string[], { field }: Problem): boolean {
  return fields.some((name) => name === field);
}

async function readView(
  request: FastifyRequest<LineAddress>,
  { services }: PageOptions,
): Promise<WorkOrderView> {
  return unwrap(await readWorkOrder(services, actorOf(request), pathId<WorkOrderId>(request.params.id)));
}

function lineIn(view: WorkOrderView, request: FastifyRequest<LineAddress>): WorkOrderLineView {
  const line = view.lines.find((each) => each.id === pathId<LineId>(request.params.lineId));
  if (line === undefined) throw new ProblemError({ code: 'not_found', detail: notFoundDetail });
  return line;
}
