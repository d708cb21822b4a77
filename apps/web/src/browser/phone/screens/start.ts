import {
  type Caution,
  missingBeforeStart,
  type Problem,
  readLamp,
  readyToStart,
  seamIsBlocked,
} from '@grainwright/domain';
import { cautionsToShow, readCircumstances } from '@grainwright/operations/phone';
import { startView } from '../../../pages/field/start/view.ts';
import type { FormValues } from '../../../plugins/form-values.ts';
import type { KeptAction } from '../action.ts';
import { newId } from '../new-id.ts';
import type { PhoneWork } from '../projection.ts';
import { listIn, problemOf, typedIn } from './mending.ts';
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
import { notHere } from './work-order.ts';
import { headingOf, linesOf, picturedBy } from './work-words.ts';

/** The cautions, read and ticked before work starts, without signal as with it. */
export const startScreen: Screen = {
  path: /^\/field\/work-orders\/([0-9a-f-]{36})\/start\/?$/,
  get: (here, [id]) => {
    const work = workOf(here, id);
    if (work === null) return notHere(here);
    return shown(here, work, untouched);
  },
  post: async (here, form, [id]) => {
    const work = workOf(here, id);
    if (work === null) return notHere(here);
    const said = saidIn(form);
    if (form.text('look') !== '') return shown(here, work, said);
    const cautions = cautionsOf(work, said.noticed);
    const ready = readyToStart({
      photoRule: work.rules.photoRule,
      workOrderPhotos: picturedBy(work),
      approvedLineCount: work.state === 'approved' ? approved(work).length : 0,
      holdReason: work.holdReason,
      cautionsToShow: cautions.map(({ code }) => code),
      cautionsAcknowledged: cautions
        .map(({ code }) => code)
        .filter((code) => said.acknowledged.includes(code)),
    });
    if (!ready.ok) return shown(here, work, { ...said, problem: ready.problem });
    const lamp = readLamp(said.airbagLamp, 'airbag_lamp');
    if (!lamp.ok) return shown(here, work, { ...said, problem: lamp.problem });
    const actionId = actionIdIn(here, form);
    const body = {
      id: actionId,
      acknowledge: said.acknowledged,
      circumstances: said.noticed,
      airbag_lamp: said.airbagLamp,
    };
    const trouble = await keep(here, { ...madeThen(here, work.id, actionId), kind: 'start', body });
    if (trouble !== null) return shown(here, work, { ...said, problem: notKept(trouble) });
    return { goTo: orderPath(work) };
  },
};

/** The form of a start that the server refused, as it was filled in. */
export function mendStart(here: Here, work: PhoneWork, refused: KeptAction): Shown {
  const { body } = refused.action;
  return shown(here, work, {
    acknowledged: listIn(body, 'acknowledge'),
    noticed: listIn(body, 'circumstances'),
    airbagLamp: typedIn(body, 'airbag_lamp'),
    problem: problemOf(refused),
  });
}

interface Said {
  readonly acknowledged: readonly string[];
  readonly noticed: readonly string[];
  readonly airbagLamp: string;
  readonly problem: Problem | null;
}

const untouched: Said = { acknowledged: [], noticed: [], airbagLamp: '', problem: null };

/** A lit lamp asks for a caution of its own. */
function saidIn(form: FormValues): Said {
  const airbagLamp = form.text('airbag_lamp');
  const noticed = form.all('noticed');
  const lit = airbagLamp === 'on' && !noticed.includes('airbag_lamp_on');
  return {
    acknowledged: form.all('acknowledge'),
    noticed: lit ? [...noticed, 'airbag_lamp_on'] : noticed,
    airbagLamp,
    problem: null,
  };
}

function shown({ frame }: Here, work: PhoneWork, said: Said): Shown {
  const lines = approved(work);
  const blocked = lines.find(
    (line) =>
      seamIsBlocked({ parts: [line.part], methods: line.methods }) &&
      !work.releasedLines.includes(line.lineId),
  );
  return {
    page: startView({
      ...said,
      frame: { ...frame, sendingScript: frame.assets.sending },
      start: {
        workOrder: headingOf(work),
        holdReason: work.holdReason,
        lines: lines.map(({ label }) => label),
        cautions: cautionsOf(work, said.noticed),
        certificateWarning: null,
        missingPhotos: missingBeforeStart(work.rules.photoRule, picturedBy(work)),
        blockedSeam: blocked === undefined ? null : { id: blocked.lineId, label: blocked.label },
        // The owner of the business releases with signal.
        mayRelease: false,
      },
      acknowledgmentId: newId(),
      releaseReason: '',
    }),
  };
}

function cautionsOf(work: PhoneWork, noticed: readonly string[]): readonly Caution[] {
  const read = readCircumstances(noticed);
  const lines = linesOf(work).map((line) => ({ ...line, answer: line.row.answer }));
  return cautionsToShow({ account: { kind: work.accountKind }, lines }, read.ok ? read.value : []);
}

function approved(work: PhoneWork) {
  return linesOf(work).filter(({ row }) => row.answer === 'approved');
}
