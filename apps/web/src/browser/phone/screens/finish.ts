import {
  adviseMethods,
  type Contradiction,
  isUuid,
  type LineId,
  lampContradictions,
  missingPhotos,
  openContradictions,
  overrideContradiction,
  type PhotoId,
  type PhotoOverrideId,
  type Problem,
  readLamp,
  readyToFinish,
  toId,
} from '@grainwright/domain';
import type { KeepInSpiteInput, OpenPhotoWarning, OverrideInput } from '@grainwright/operations';
import { cautionsAtHandOver } from '@grainwright/operations/phone';
import { photoReasonsOf } from '../../../pages/field/finish/photo-reasons.ts';
import { contradictionKey, finishView } from '../../../pages/field/finish/view.ts';
import type { FormValues } from '../../../plugins/form-values.ts';
import type { KeptAction } from '../action.ts';
import { newId } from '../new-id.ts';
import type { PhoneWork } from '../projection.ts';
import { contradictionsIn, type SaidOfLine, workedLines } from './finish-facts.ts';
import { listIn, problemOf, recordsIn, typedIn } from './mending.ts';
import {
  actionIdIn,
  type Here,
  keep,
  madeThen,
  notKept,
  orderPath,
  type Screen,
  type Shown,
  workOf,
} from './screen.ts';
import { stillOpen, warnedPhotos } from './warned-photos.ts';
import { notHere } from './work-order.ts';
import { headingOf, picturedBy } from './work-words.ts';

/** Finishing: the photos are there and good enough, and what does not fit together is mended or has its reason. */
export const finishScreen: Screen = {
  path: /^\/field\/work-orders\/([0-9a-f-]{36})\/finish\/?$/,
  get: async (here, [id]) => {
    const work = workOf(here, id);
    return work === null ? notHere(here) : shown(here, await factsOf(here, work), nothingSaid);
  },
  post: async (here, form, [id]) => {
    const work = workOf(here, id);
    if (work === null) return notHere(here);
    const facts = await factsOf(here, work);
    const said = saidIn(form, facts);
    const again = (problem: Problem | null) => shown(here, facts, { ...said, tried: true, problem });
    const lamp = readLamp(said.costs.airbagLamp, 'airbag_lamp');
    if (!lamp.ok) return again(lamp.problem);
    const found = foundIn(facts, said);
    if (found.some(({ weight }) => weight === 'ask') && !form.checked('asked')) return again(null);
    const unanswered = facts.warned.filter(
      ({ photoId }) => !said.photoReasons.some((each) => each.photoId === photoId),
    );
    const ready = readyToFinish({
      photoRule: work.rules.photoRule,
      workOrderPhotos: picturedBy(work),
      approvedLines: workedLines(work, said.work),
      openContradictions: openContradictions(found, overridesOf(found, said)).map(({ sentence }) => sentence),
      openPhotoWarnings: unanswered.map(({ shows, sentences }) => `${sentences.join(' ')} (${shows})`),
    });
    if (!ready.ok) return again(ready.problem);
    const made = madeThen(here, work.id, actionIdIn(here, form));
    const trouble = await keep(here, { ...made, kind: 'finish', body: bodyOf(said) });
    if (trouble !== null) return again(notKept(trouble));
    return { goTo: `${orderPath(work)}${work.rules.acceptanceRule === 'none' ? '' : '/acceptance'}` };
  },
};

/** The form of an end of work that the server refused, as it was filled in. */
export async function mendFinish(here: Here, work: PhoneWork, refused: KeptAction): Promise<Shown> {
  const { body } = refused.action;
  const costs = {
    technicianMinutes: typedIn(body, 'technician_minutes'),
    materialsCost: typedIn(body, 'materials_cost'),
    airbagLamp: typedIn(body, 'airbag_lamp'),
  };
  return shown(here, await factsOf(here, work), {
    work: recordsIn(body, 'work').map((each) => ({
      lineId: toId<LineId>(typedIn(each, 'line_id')),
      methods: listIn(each, 'methods'),
      layers: typedIn(each, 'layers'),
    })),
    overrides: recordsIn(body, 'overrides').map((each) => ({
      code: typedIn(each, 'code'),
      lineId: typedIn(each, 'line_id') === '' ? null : toId<LineId>(typedIn(each, 'line_id')),
      reason: typedIn(each, 'reason'),
    })),
    photoReasons: recordsIn(body, 'photo_reasons').map((each) => ({
      overrideId: toId<PhotoOverrideId>(typedIn(each, 'override_id')),
      photoId: toId<PhotoId>(typedIn(each, 'photo_id')),
      reason: typedIn(each, 'reason'),
    })),
    costs,
    tried: true,
    problem: problemOf(refused),
  });
}

/** What the phone knows of the work that is to end. */
interface Facts {
  readonly work: PhoneWork;
  /** Photos that still want an answer. */
  readonly warned: readonly OpenPhotoWarning[];
  readonly found: (said: readonly SaidOfLine[]) => readonly Contradiction[];
}

async function factsOf(here: Here, work: PhoneWork): Promise<Facts> {
  return {
    work,
    warned: stillOpen(await warnedPhotos(here, work), workedLines(work, [])),
    found: (said) => contradictionsIn(work, said),
  };
}

interface Said {
  readonly work: readonly SaidOfLine[];
  readonly overrides: readonly OverrideInput[];
  readonly photoReasons: readonly KeepInSpiteInput[];
  readonly costs: {
    readonly technicianMinutes: string;
    readonly materialsCost: string;
    readonly airbagLamp: string;
  };
  readonly tried: boolean;
  readonly problem: Problem | null;
}

const nothingSaid: Said = {
  work: [],
  overrides: [],
  photoReasons: [],
  costs: { technicianMinutes: '', materialsCost: '', airbagLamp: '' },
  tried: false,
  problem: null,
};

function saidIn(form: FormValues, facts: Facts): Said {
  const work = form
    .all('line')
    .filter(isUuid)
    .map((id) => ({
      lineId: toId<LineId>(id),
      methods: form.all(`methods-${id}`),
      layers: form.text(`layers-${id}`),
    }));
  const costs = {
    technicianMinutes: form.text('technician_minutes'),
    materialsCost: form.text('materials_cost'),
    airbagLamp: form.text('airbag_lamp'),
  };
  return {
    ...nothingSaid,
    work,
    overrides: foundIn(facts, { work, costs }).map(({ code, lineId }) => ({
      code,
      lineId,
      reason: form.text(`reason-${contradictionKey({ code, lineId })}`),
    })),
    photoReasons: photoReasonsOf(form, facts.warned),
    costs,
  };
}

/** What does not fit together on the lines, and in what the airbag lamp did. */
function foundIn({ work, found }: Facts, said: Pick<Said, 'work' | 'costs'>): readonly Contradiction[] {
  const lamp = readLamp(said.costs.airbagLamp, 'airbag_lamp');
  const came = lamp.ok ? lampContradictions(work.airbagLampBefore, lamp.value) : [];
  return [...found(said.work), ...came];
}

function bodyOf({ work, overrides, photoReasons, costs }: Said) {
  return {
    work: work.map(({ lineId, methods, layers }) => ({ line_id: lineId, methods, layers })),
    overrides: overrides
      .filter(({ reason }) => reason !== '')
      .map(({ code, lineId, reason }) => ({ code, line_id: lineId, reason })),
    photo_reasons: photoReasons.map(({ overrideId, photoId, reason }) => ({
      override_id: overrideId,
      photo_id: photoId,
      reason,
    })),
    technician_minutes: costs.technicianMinutes,
    materials_cost: costs.materialsCost,
    airbag_lamp: costs.airbagLamp,
  };
}

function overridesOf(found: readonly Contradiction[], { overrides }: Said) {
  return found.flatMap((each) => {
    const reason =
      overrides.find(({ code, lineId }) => code === each.code && lineId === each.lineId)?.reason ?? '';
    const override = overrideContradiction(each, reason);
    return override.ok ? [override.value] : [];
  });
}

function isSignedFor({ id }: PhoneWork, { action, state }: KeptAction): boolean {
  return action.kind === 'acceptance' && action.workOrderId === id && state === 'waiting';
}

function shown(here: Here, facts: Facts, said: Said): Shown {
  const { frame } = here;
  const { work, warned } = facts;
  const lines = workedLines(work, said.work);
  const cautioned = {
    account: { kind: work.accountKind },
    lines: lines.map((line) => ({ ...line, answer: line.row.answer })),
  };
  return {
    page: finishView({
      frame: { ...frame, sendingScript: frame.assets.sending },
      review: {
        workOrder: headingOf(work),
        lines: lines.map(({ lineId, label, methods, layers, finding }) => ({
          id: lineId,
          label,
          methods,
          fittingMethods: finding === null ? [] : adviseMethods(finding).works,
          layers,
        })),
        missingPhotos: missingPhotos(work.rules.photoRule, picturedBy(work), lines),
        photoWarnings: warned,
        contradictions: foundIn(facts, said),
        handOver: cautionsAtHandOver(cautioned),
      },
      layersTyped: new Map(said.work.map(({ lineId, layers }) => [lineId, layers])),
      overrides: said.overrides,
      photoReasons: said.photoReasons,
      newId,
      costs: said.costs,
      signed: here.actions.some((kept) => isSignedFor(work, kept)),
      tried: said.tried,
      problem: said.problem,
    }),
  };
}
