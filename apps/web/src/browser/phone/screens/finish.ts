import {
  adviseMethods,
  type Contradiction,
  isKeyRemote,
  isUuid,
  type LineId,
  lampContradictions,
  lineContradictions,
  type Method,
  methods as methodTraits,
  missingPhotos,
  openContradictions,
  overrideContradiction,
  type Problem,
  parseDecimal,
  readLamp,
  readyToFinish,
  toId,
} from '@grainwright/domain';
import type { OverrideInput } from '@grainwright/operations';
import { cautionsAtHandOver } from '@grainwright/operations/phone';
import { contradictionKey, finishView } from '../../../pages/field/finish/view.ts';
import type { FormValues } from '../../../plugins/form-values.ts';
import { newId } from '../new-id.ts';
import type { PhoneWork } from '../projection.ts';
import { purposesOf } from './photos.ts';
import { type Here, keep, madeNow, notKept, orderPath, type Screen, type Shown, workOf } from './screen.ts';
import { notHere } from './work-order.ts';
import { headingOf, linesOf, picturedBy } from './work-words.ts';

/** Finishing: the photos are there, and what does not fit together is mended or has its reason. */
export const finishScreen: Screen = {
  path: /^\/field\/work-orders\/([0-9a-f-]{36})\/finish\/?$/,
  get: (here, [id]) => {
    const work = workOf(here, id);
    return work === null ? notHere(here) : shown(here, work, nothingSaid);
  },
  post: async (here, form, [id]) => {
    const work = workOf(here, id);
    if (work === null) return notHere(here);
    const said = saidIn(form, work);
    const again = (problem: Problem | null) => shown(here, work, { ...said, tried: true, problem });
    const lamp = readLamp(said.costs.airbagLamp, 'airbag_lamp');
    if (!lamp.ok) return again(lamp.problem);
    const found = [...contradictionsIn(work, said), ...lampContradictions(work.airbagLampBefore, lamp.value)];
    if (found.some(({ weight }) => weight === 'ask') && !form.checked('asked')) return again(null);
    const ready = readyToFinish({
      photoRule: work.rules.photoRule,
      workOrderPhotos: picturedBy(work),
      approvedLines: worked(work, said),
      openContradictions: openContradictions(found, overridesOf(found, said)).map(({ sentence }) => sentence),
      openPhotoWarnings: [],
    });
    if (!ready.ok) return again(ready.problem);
    const made = madeNow(work.id);
    const body = {
      work: said.work.map(({ lineId, methods, layers }) => ({ line_id: lineId, methods, layers })),
      overrides: said.overrides
        .filter(({ reason }) => reason !== '')
        .map(({ code, lineId, reason }) => ({ code, line_id: lineId, reason })),
      technician_minutes: said.costs.technicianMinutes,
      materials_cost: said.costs.materialsCost,
      airbag_lamp: said.costs.airbagLamp,
    };
    const trouble = await keep(here, { ...made, kind: 'finish', body });
    if (trouble !== null) return again(notKept(trouble));
    return { goTo: `${orderPath(work)}${work.rules.acceptanceRule === 'none' ? '' : '/acceptance'}` };
  },
};

interface Said {
  readonly work: readonly {
    readonly lineId: LineId;
    readonly methods: readonly string[];
    readonly layers: string;
  }[];
  readonly overrides: readonly OverrideInput[];
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
  costs: { technicianMinutes: '', materialsCost: '', airbagLamp: '' },
  tried: false,
  problem: null,
};

function saidIn(form: FormValues, work: PhoneWork): Said {
  const said = {
    ...nothingSaid,
    work: form
      .all('line')
      .filter(isUuid)
      .map((id) => ({
        lineId: toId<LineId>(id),
        methods: form.all(`methods-${id}`),
        layers: form.text(`layers-${id}`),
      })),
    costs: {
      technicianMinutes: form.text('technician_minutes'),
      materialsCost: form.text('materials_cost'),
      airbagLamp: form.text('airbag_lamp'),
    },
  };
  const overrides = contradictionsIn(work, said).map(({ code, lineId }) => ({
    code,
    lineId,
    reason: form.text(`reason-${contradictionKey({ code, lineId })}`),
  }));
  return { ...said, overrides };
}

/** The approved lines as they were worked: what was said now stands over what was planned. */
function worked(work: PhoneWork, { work: said }: Pick<Said, 'work'>) {
  return linesOf(work)
    .filter(({ row }) => row.answer === 'approved')
    .map((line) => {
      const own = said.find(({ lineId }) => lineId === line.lineId);
      const layers = own === undefined ? line.row.layers : own.layers === '' ? null : Number(own.layers);
      const methods = own === undefined ? line.methods : own.methods.filter(isMethod);
      return { ...line, methods, layers, photos: purposesOf(work, line.lineId) };
    });
}

/** What the measured size is billed as is known only to the server; the rest is looked at here as there. */
function contradictionsIn(work: PhoneWork, said: Pick<Said, 'work'>): readonly Contradiction[] {
  return worked(work, said).flatMap((line) => {
    const inches = line.row.measuredInches === null ? null : parseDecimal(line.row.measuredInches);
    const isKey = isKeyRemote({ part: line.part, family: line.row.family });
    return lineContradictions({
      lineId: line.lineId,
      label: line.label,
      damage: line.damage,
      repairsDamage: line.repairsDamage,
      material: line.material,
      alreadyBurnt: line.finding?.observed.kind === 'already_burnt',
      methods: line.methods,
      photos: line.photos,
      layers: line.layers,
      measuredInches: inches?.ok ? inches.value : null,
      billedBand: null,
      keyTest: isKey ? (work.testedKeys.includes(line.lineId) ? null : 'unfinished') : null,
    });
  });
}

function overridesOf(found: readonly Contradiction[], { overrides }: Said) {
  return found.flatMap((each) => {
    const reason =
      overrides.find(({ code, lineId }) => code === each.code && lineId === each.lineId)?.reason ?? '';
    const override = overrideContradiction(each, reason);
    return override.ok ? [override.value] : [];
  });
}

function shown({ frame }: Here, work: PhoneWork, said: Said): Shown {
  const lines = worked(work, said);
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
        photoWarnings: [],
        contradictions: contradictionsIn(work, said),
        handOver: cautionsAtHandOver(cautioned),
      },
      layersTyped: new Map(said.work.map(({ lineId, layers }) => [lineId, layers])),
      overrides: said.overrides,
      photoReasons: [],
      newId,
      costs: said.costs,
      tried: said.tried,
      problem: said.problem,
    }),
  };
}

function isMethod(word: string): word is Method {
  return Object.hasOwn(methodTraits, word);
}
