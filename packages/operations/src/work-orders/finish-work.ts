import { setLamp, setLineWork } from '@grainwright/db';
import {
  allows,
  type Contradiction,
  type ContradictionOverride,
  lampContradictions,
  ok,
  openContradictions,
  type Result,
  readLamp,
  readyToFinish,
  refuse,
  transition,
  type WorkOrderId,
  type WorkOrderState,
} from '@grainwright/domain';
import { acceptedThenInvoiced } from '../billing/issue-at-once.ts';
import { everyResult } from '../every-result.ts';
import { type Actor, performAsStaff, record, type Scope } from '../perform.ts';
import { type KeepInSpiteInput, writeOverride } from '../photo-checks/keep-in-spite.ts';
import { type OpenPhotoWarning, openWarnings } from '../photo-checks/open-warnings.ts';
import type { Services } from '../services.ts';
import { advance, openWorkOrder } from '../work-order-path.ts';
import { blockedSeam, refuseBlockedSeam } from './cautions.ts';
import { checkDayOfWork } from './day-of-work.ts';
import { markAccepted } from './mark-accepted.ts';
import { keepCosts, readCosts } from './work-costs.ts';
import { type OpenedWork, picturedPurposes, readWork, type WorkLine } from './work-lines.ts';
import {
  contradictionsOn,
  type LineWorkInput,
  type OverrideInput,
  overrideWords,
  readOverrides,
  workedLines,
} from './worked-lines.ts';

export interface FinishWorkInput {
  readonly workOrderId: WorkOrderId;
  /** How lines were worked; a line left out stays as written up. */
  readonly work: readonly LineWorkInput[];
  readonly overrides: readonly OverrideInput[];
  /** Why photos are kept in spite of what was said against them. */
  readonly photoReasons?: readonly KeepInSpiteInput[] | undefined;
  /** Whole minutes of the technician, and what the materials cost, as text; empty or left out where nobody wrote it down. */
  readonly technicianMinutes?: string | undefined;
  readonly materialsCost?: string | undefined;
  /** `on` or `off` as the vehicle leaves; empty or left out where nobody looked. */
  readonly airbagLamp?: string | undefined;
}

/**
 * Finishes work: the photos that the account's kind asks for are there, and every contradiction is mended or
 * overridden with a reason, which is kept with the step; so is every warning about a photo, unless it was taken again. Where the account asks for no acceptance, it is accepted
 * with that. Work that is finished already answers with where it stands. Refuses with `wrong_state`,
 * `photo_missing`, `contradiction`, `id_reused` or `invalid_input`.
 */
export async function finishWork(
  services: Services,
  actor: Actor,
  input: FinishWorkInput,
): Promise<Result<{ readonly state: WorkOrderState }>> {
  const finished = await finish(services, actor, input);
  return acceptedThenInvoiced(services, actor, input.workOrderId, finished);
}

function finish(
  services: Services,
  actor: Actor,
  input: FinishWorkInput,
): Promise<Result<{ readonly state: WorkOrderState }>> {
  return performAsStaff(services, actor, 'start_work', async (scope) => {
    const said = readFinished(input, scope.business.currency);
    if (!said.ok) return said;
    const opened = await openWorkOrder(scope, input.workOrderId);
    if (!opened.ok) return opened;
    if (finished.includes(opened.value.state)) return ok({ state: opened.value.state });
    const next = transition(opened.value.state, { type: 'finished' });
    if (!next.ok) return next;
    const day = await checkDayOfWork(scope, opened.value.visitId, 'finish');
    if (!day.ok) return day;
    const work = await readWork(scope, opened.value.id);
    if (!work.ok) return work;
    const lines = workedLines(work.value, input.work);
    if (!lines.ok) return lines;
    const seam = await blockedSeam(scope, input.workOrderId, lines.value);
    if (seam !== null) return refuseBlockedSeam(seam);
    const found = [
      ...(await contradictionsOn(scope, work.value, lines.value)),
      ...lampContradictions(opened.value.airbagLampBefore, said.value.lamp),
    ];
    const overrides = readOverrides(found, input.overrides);
    if (!overrides.ok) return overrides;
    if (overrides.value.length > 0 && !allows(scope.member.role, 'override_warning'))
      return refuse(
        'not_allowed',
        'Your role does not include overriding a contradiction. Mend it, or ask the owner of the business.',
      );
    const warned = await giveReasons(scope, input, lines.value);
    if (!warned.ok) return warned;
    const ready = readyToFinish({
      photoRule: work.value.account.photoRule,
      workOrderPhotos: picturedPurposes(work.value),
      approvedLines: lines.value,
      openContradictions: openContradictions(found, overrides.value).map(({ sentence }) => sentence),
      openPhotoWarnings: warned.value.map(({ shows, sentences }) => `${sentences.join(' ')} (${shows})`),
    });
    if (!ready.ok) return ready;
    const written = await writeFinished(scope, work.value, lines.value, {
      found,
      overrides: overrides.value,
    });
    if (!written.ok) return written;
    await keepCosts(scope, input.workOrderId, said.value.costs);
    if (said.value.lamp !== null)
      await setLamp(scope.tx, input.workOrderId, { airbagLampAfter: said.value.lamp });
    return written;
  });
}

/** Keeps the reasons given for photos of this work, and answers with what is then still open. */
async function giveReasons(
  scope: Scope,
  { workOrderId, photoReasons = [] }: FinishWorkInput,
  lines: readonly WorkLine[],
): Promise<Result<readonly OpenPhotoWarning[]>> {
  const open = await openWarnings(scope, workOrderId, lines);
  const settled = photoReasons.filter(({ photoId }) => open.some((each) => each.photoId === photoId));
  for (const each of settled) {
    const written = await writeOverride(scope, each);
    if (!written.ok) return written;
  }
  return ok(open.filter(({ photoId }) => !settled.some((each) => each.photoId === photoId)));
}

function readFinished(input: FinishWorkInput, currency: string) {
  const { technicianMinutes = '', materialsCost = '', airbagLamp = '' } = input;
  return everyResult({
    costs: readCosts({ technicianMinutes, materialsCost }, currency),
    lamp: readLamp(airbagLamp, 'airbag_lamp'),
  });
}

const finished: readonly WorkOrderState[] = ['done', 'accepted', 'invoiced', 'paid'];

interface Settled {
  readonly found: readonly Contradiction[];
  readonly overrides: readonly ContradictionOverride[];
}

async function writeFinished(
  scope: Scope,
  work: OpenedWork,
  lines: readonly WorkLine[],
  { found, overrides }: Settled,
): Promise<Result<{ readonly state: WorkOrderState }>> {
  const done = await advance(
    scope,
    work.workOrder,
    { type: 'finished' },
    {},
    overrideWords(found, overrides),
  );
  if (!done.ok) return done;
  for (const line of lines) await setLineWork(scope.tx, line.id, line);
  const subject = { kind: 'work_order', id: work.workOrder.id };
  await record(scope, 'work_written_down', subject, {
    lines: lines.map(({ id, methods, layers }) => ({ line_id: id, methods, layers })),
    overrides: overrides.map(({ code, lineId, reason }) => ({ code, line_id: lineId, reason })),
  });
  if (work.account.acceptanceRule !== 'none') return ok({ state: done.value });
  const note = 'The account’s terms ask for no acceptance.';
  const accepted = await markAccepted(scope, { ...work.workOrder, state: done.value }, 'accepted', note);
  return accepted.ok ? ok({ state: accepted.value }) : accepted;
}
