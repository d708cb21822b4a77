import {
  adviseMethods,
  decimal,
  type Material,
  materials,
  type Problem,
  settledMaterial,
  usualRepair,
  type VehiclePart,
  vehicleParts,
} from '@grainwright/domain';
import type { RepairChoicesView } from '@grainwright/operations';
import {
  type LineInput,
  type PhoneSnapshot,
  readDamage,
  readFinding,
  readLineAtVehicle,
  vehicleWords,
} from '@grainwright/operations/phone';
import { damagePage, type LinePage } from '../../../pages/field/line/damage-view.ts';
import {
  damageFields,
  materialFields,
  repairFields,
  toldByPart,
  typedLine,
} from '../../../pages/field/line/line-form.ts';
import { materialPage } from '../../../pages/field/line/material-view.ts';
import { repairPage } from '../../../pages/field/line/repair-view.ts';
import { FormValues } from '../../../plugins/form-values.ts';
import type { KeptAction } from '../action.ts';
import { newId } from '../new-id.ts';
import type { PhoneWork } from '../projection.ts';
import { listIn, problemOf, typedIn } from './mending.ts';
import { type Here, keep, madeThen, notKept, orderPath, type Screen, type Shown, workOf } from './screen.ts';

/** A line in three screens, as with signal; its price comes when it is sent. */
export const newLineScreen: Screen = {
  path: /^\/field\/work-orders\/([0-9a-f-]{36})\/lines\/new\/?$/,
  get: (here, [id]) => {
    const work = workOf(here, id);
    if (work === null || work.state !== 'written_up') return { goTo: `/field/work-orders/${id}` };
    return damage(here, work, { lineId: newId(), typed: typedLine(new FormValues({})), problem: null });
  },
  post: (here, values, [id]) => {
    const work = workOf(here, id);
    if (work === null || work.state !== 'written_up') return { goTo: `/field/work-orders/${id}` };
    const typed = typedLine(values);
    const form = { lineId: values.text('line_id'), typed, problem: null };
    switch (values.text('step')) {
      case 'damage':
        return damage(here, work, form);
      case 'material':
        return materialScreen(here, work, form, false);
      case 'material_again':
        return materialScreen(here, work, form, true);
      case 'save':
        return save(here, work, { ...form, anotherDamage: values.checked('another_damage') });
      default:
        return repair(here, work, { ...form, typed: proposed(typed) });
    }
  },
};

/** The last screen of a line that the server refused, as it was filled in; the ones before it where it belongs there. */
export function mendLine(here: Here, work: PhoneWork, refused: KeptAction): Shown {
  const { body } = refused.action;
  const names = [...damageFields, ...materialFields, ...repairFields, 'rate_code'];
  const values = new FormValues({
    ...Object.fromEntries(names.map((name) => [name, typedIn(body, name)])),
    methods: [...listIn(body, 'methods')],
  });
  const form = { lineId: refused.action.id, typed: typedLine(values), problem: problemOf(refused) };
  return repair(here, work, form);
}

interface Form {
  readonly lineId: string;
  readonly typed: LineInput;
  readonly problem: Problem | null;
}

async function save(
  here: Here,
  work: PhoneWork,
  form: Form & { readonly anotherDamage: boolean },
): Promise<Shown> {
  const { typed, lineId } = form;
  const read = readLineAtVehicle(typed);
  if (!read.ok) return repair(here, work, { ...form, problem: read.problem });
  const body = { id: lineId, ...bodyOf(typed), another_damage: form.anotherDamage };
  const trouble = await keep(here, { ...madeThen(here, work.id, lineId), kind: 'line', body });
  if (trouble !== null) return repair(here, work, { ...form, problem: notKept(trouble) });
  return { goTo: `${orderPath(work)}/photos?line_id=${lineId}&purpose=before` };
}

function bodyOf(typed: LineInput) {
  return {
    part: typed.part,
    side: typed.side,
    damage: typed.damage,
    visible_when: typed.visibleWhen,
    observation: typed.observation,
    looks_like: typed.looksLike,
    overruled_material: typed.overruledMaterial,
    overrule_reason: typed.overruleReason,
    methods: typed.methods,
    measured_inches: typed.measuredInches,
    family: typed.family,
    rate_code: typed.rateCode,
    factor_code: typed.factorCode,
    by_hand_price: typed.byHandPrice,
    by_hand_reason: typed.byHandReason,
    by_hand_materials_percent: typed.byHandMaterialsPercent,
    note: typed.note,
  };
}

function damage(here: Here, work: PhoneWork, form: Form): Shown {
  return { page: damagePage({ ...pageOf(here, work, form), last: null, repeatId: newId() }) };
}

/** Passed by where the part says what it is made of; back to the damage where that can’t be read. */
function materialScreen(here: Here, work: PhoneWork, form: Form, again: boolean): Shown {
  const read = readDamage(form.typed);
  if (!read.ok) return damage(here, work, { ...form, problem: read.problem });
  const told = toldByPart(read.value.part);
  if (told !== null && !again)
    return repair(here, work, { ...form, typed: proposed({ ...form.typed, ...told }) });
  return { page: materialPage({ ...pageOf(here, work, form), damage: read.value }) };
}

function repair(here: Here, work: PhoneWork, form: Form): Shown {
  const read = readDamage(form.typed);
  const finding = readFinding(form.typed);
  const asTested = readFinding({ ...form.typed, overruledMaterial: '', overruleReason: '' });
  const problem = form.problem ?? (read.ok ? (finding.ok ? null : finding.problem) : read.problem);
  const isOf = (fields: readonly string[]) => fields.some((name) => name === problem?.field);
  if (!read.ok || isOf(damageFields)) return damage(here, work, { ...form, problem });
  if (!asTested.ok || isOf(materialFields)) return materialScreen(here, work, { ...form, problem }, true);
  return {
    page: repairPage({
      ...pageOf(here, work, { ...form, problem }),
      damage: read.value,
      finding: finding.ok ? finding.value : asTested.value,
      choices: choicesOf(here.day.snapshot),
      sizeOfAnother: false,
      earlier: [],
    }),
  };
}

/** The methods that are known to work on it, ticked to be changed; which family is usual here only the server knows. */
function proposed(typed: LineInput): LineInput {
  if (typed.family !== '' || typed.methods.length > 0) return typed;
  const read = readDamage(typed);
  const finding = readFinding(typed);
  if (!read.ok || !finding.ok) return typed;
  const works = finding.value === null ? [] : adviseMethods(finding.value).works;
  const settled = finding.value === null ? null : settledMaterial(finding.value);
  const { part, kind } = read.value;
  const { family, methods } = usualRepair([], { kind, part, material: settled, works });
  return { ...typed, family, methods };
}

function pageOf({ frame, day }: Here, work: PhoneWork, { lineId, typed, problem }: Form): LinePage {
  return {
    frame,
    view: {
      id: work.id,
      number: work.number === null ? null : BigInt(work.number),
      currency: day.snapshot.business.currency,
      vehicle: { description: vehicleWords(work.vehicle, work.ownNumber) },
      account: { name: work.accountName },
      numbers: { own: work.ownNumber },
      visit: { day: work.day },
      technician: { name: frame.me.name },
    },
    address: `${orderPath(work)}/lines/new`,
    lineId,
    isNew: true,
    versionId: null,
    typed,
    problem,
  };
}

function choicesOf({ repairs, factors, business }: PhoneSnapshot): RepairChoicesView {
  const sized = (text: string | null) => (text === null ? null : decimal(text));
  return {
    currency: business.currency,
    families: repairs.map(({ family, measured, rates }) => ({
      family,
      measured,
      rates: rates.map(({ code, repair: words, overInches, toInches, part, material, listMinor }) => ({
        code,
        repair: words,
        overInches: sized(overInches),
        toInches: sized(toInches),
        part: part !== null && isPart(part) ? part : null,
        material: material !== null && isMaterial(material) ? material : null,
        listMinor: BigInt(listMinor),
      })),
    })),
    factors: factors.map(({ code, name, percent }) => ({ code, name, percent: decimal(percent) })),
    furtherPercents: [],
  };
}

function isMaterial(word: string): word is Material {
  return Object.hasOwn(materials, word);
}

function isPart(word: string): word is VehiclePart {
  return Object.hasOwn(vehicleParts, word);
}
