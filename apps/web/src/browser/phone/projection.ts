import {
  acceptanceOutcomes,
  isKeyRemote,
  type LineId,
  type NextTask,
  nextTask,
  type PhotoId,
  type PhotoPurpose,
  photoPurposes,
  toId,
  type VersionId,
  type VisitId,
  type WorkOrderId,
} from '@grainwright/domain';
import {
  factsOfLines,
  type LineInput,
  type PhoneLine,
  type PhonePlace,
  type PhoneSnapshot,
  type PhoneWorkOrder,
  readLineAtVehicle,
  readWriteUp,
  storedFinding,
} from '@grainwright/operations/phone';
import type { Body, KeptAction, PhoneAction } from './action.ts';
import { standsOn, workSteps } from './needs.ts';

/** A work order as the phone shows it: what the server had, and on top of it what was done here. */
export interface PhoneWork extends PhoneWorkOrder {
  /** What of it was done here and has not come through, oldest first. */
  readonly waiting: readonly KeptAction[];
  readonly nobodySigned: boolean;
  /** Photos that were taken again on this phone, by their ids. */
  readonly retakes: ReadonlyMap<string, PhotoId>;
  /** Why photos stay in spite of what is said against them, as told on this phone, by their ids. */
  readonly keptBecause: ReadonlyMap<string, KeptBecause>;
}

export interface KeptBecause {
  readonly reason: string;
  readonly madeAt: string;
}

/** What a work order has of this phone before anything was done on it. */
const nothingDoneHere = {
  waiting: [],
  nobodySigned: false,
  retakes: new Map<string, PhotoId>(),
  keptBecause: new Map<string, KeptBecause>(),
} as const;

/** A snapshot as it is kept on the phone. */
export interface KeptSnapshot {
  /** By the phone’s clock, before it was asked for: two clocks are never compared. */
  readonly askedAt: string;
  readonly snapshot: PhoneSnapshot;
}

/** A day as the phone shows it. */
export interface PhoneDay {
  readonly snapshot: PhoneSnapshot;
  readonly workOrders: readonly PhoneWork[];
}

/**
 * What the screens show: the snapshot with the actions of this phone applied, each once. What the snapshot has already is
 * not applied again, and what was dropped not at all. Changes neither.
 */
export function applyActions({ snapshot, askedAt }: KeptSnapshot, actions: readonly KeptAction[]): PhoneDay {
  const orders = new Map<string, PhoneWork>();
  for (const order of snapshot.workOrders) orders.set(order.id, { ...order, ...nothingDoneHere });
  for (const kept of asTaken(actions)) {
    const { action, state } = kept;
    if (state === 'dropped' || isInSnapshot(kept, askedAt)) continue;
    const before = orders.get(action.workOrderId) ?? writtenUp(snapshot, action);
    if (before === null) continue;
    const after = applied(before, kept, snapshot);
    const waiting = state === 'sent' ? before.waiting : [...before.waiting, kept];
    orders.set(action.workOrderId, { ...after, waiting });
  }
  return { snapshot, workOrders: [...orders.values()] };
}

/** As the server takes them: a step that was given up and done again counts before what stands on it and was there already. */
function asTaken(actions: readonly KeptAction[]): readonly KeptAction[] {
  const placed = actions.map((kept, index) => {
    const step = workSteps.indexOf(kept.action.kind);
    const isAfter = (other: KeptAction) =>
      other.state !== 'dropped' &&
      other.action.workOrderId === kept.action.workOrderId &&
      standsOn(kept.action, other.action);
    return { kept, step, place: step === -1 ? index : Math.max(index, actions.findLastIndex(isAfter)) };
  });
  return placed
    .toSorted((one, other) => one.place - other.place || one.step - other.step)
    .map(({ kept }) => kept);
}

/** What was sent before the snapshot was taken is in it. */
function isInSnapshot({ state, sentAt }: KeptAction, askedAt: string): boolean {
  return state === 'sent' && sentAt !== null && Date.parse(sentAt) < Date.parse(askedAt);
}

function applied(work: PhoneWork, { action, file, state }: KeptAction, snapshot: PhoneSnapshot): PhoneWork {
  // What the server did not take is no evidence: it is not shown to anybody who signs.
  if (state === 'conflict' && evidence.includes(action.kind)) return work;
  switch (action.kind) {
    case 'write_up':
    case 'quote':
      return work;
    case 'photo_reason':
      return withReasons(work, [action.body], action.madeAt);
    case 'line': {
      const line = lineOf(action.id, action.body, snapshot);
      if (line === null || work.lines.some(({ id }) => id === line.id)) return work;
      return { ...work, lines: [...work.lines, line] };
    }
    case 'photo':
      return withPhoto(work, action, file?.sha256 ?? '');
    case 'recording':
      return { ...work, recorded: [...work.recorded, 'walk_around'] };
    case 'estimate':
      return sent(work, toId<VersionId>(action.id));
    case 'start': {
      if (work.state !== 'approved') return work;
      const lamp = text(action.body, 'airbag_lamp');
      const airbagLampBefore = lamp === 'on' || lamp === 'off' ? lamp : work.airbagLampBefore;
      return { ...work, state: 'in_work', airbagLampBefore };
    }
    case 'finish':
      return finished(work, action);
    case 'acceptance': {
      if (work.state !== 'done') return work;
      const outcome = text(action.body, 'outcome');
      const isYes = Object.hasOwn(acceptanceOutcomes, outcome) && outcome !== 'not_accepted';
      return isYes ? { ...work, state: 'accepted', notAccepted: false } : { ...work, notAccepted: true };
    }
    case 'missing_signature':
      return { ...work, nobodySigned: true };
  }
}

const evidence: readonly PhoneAction['kind'][] = ['photo', 'photo_reason', 'recording'];

/** The first reason for a photo stays. */
function withReasons(
  work: PhoneWork,
  said: readonly { readonly photo_id: string; readonly reason: string }[],
  madeAt: string,
): PhoneWork {
  const keptBecause = new Map(work.keptBecause);
  for (const { photo_id, reason } of said)
    if (!keptBecause.has(photo_id)) keptBecause.set(photo_id, { reason, madeAt });
  return { ...work, keptBecause };
}

/**
 * Sent for approval: it waits for an answer, but where the account agreed to such work beforehand. Whether that covers it
 * is decided by its price, which only the server knows; a no comes back as something to decide.
 */
function sent(work: PhoneWork, versionId: VersionId): PhoneWork {
  if (work.state !== 'written_up') return work;
  if (!mayGoOnUnasked(work)) return { ...work, versionId, state: 'awaiting_approval' };
  const lines = work.lines.map((line) => ({ ...line, answer: 'approved' as const }));
  return { ...work, versionId, state: 'approved', lines };
}

/** Whether work may go on without asking a person: what the account agreed to beforehand, or a rework without charge. */
export function mayGoOnUnasked({ rules, isRework }: Pick<PhoneWorkOrder, 'rules' | 'isRework'>): boolean {
  return isRework || rules.standing !== null;
}

function withPhoto(
  work: PhoneWork,
  { id, body, madeAt }: Extract<PhoneAction, { kind: 'photo' }>,
  sha256: string,
): PhoneWork {
  const { purpose, line_id, retake_of, override_reason = '' } = body;
  if (!isPurpose(purpose) || work.photos.some((photo) => photo.id === id)) return work;
  const lineId = line_id === null ? null : toId<LineId>(line_id);
  const photos = [...work.photos, { id: toId<PhotoId>(id), lineId, purpose, sha256 }];
  const retakes = new Map(work.retakes);
  if (retake_of !== undefined) retakes.set(retake_of, toId<PhotoId>(id));
  const reasons = override_reason === '' ? [] : [{ photo_id: id, reason: override_reason }];
  return withReasons({ ...work, photos, retakes }, reasons, madeAt);
}

function finished(before: PhoneWork, { body, madeAt }: Extract<PhoneAction, { kind: 'finish' }>): PhoneWork {
  if (before.state !== 'in_work') return before;
  const reasons = Array.isArray(body.photo_reasons) ? body.photo_reasons.filter(isPhotoReason) : [];
  const work = withReasons(before, reasons, madeAt);
  const said = Array.isArray(body.work) ? body.work.filter(isRecord) : [];
  const lines = work.lines.map((line) => {
    const own = said.find(({ line_id }) => line_id === line.id);
    if (own === undefined) return line;
    const layers = text(own, 'layers');
    return { ...line, methods: texts(own, 'methods'), layers: layers === '' ? null : Number(layers) };
  });
  return { ...work, lines, state: work.rules.acceptanceRule === 'none' ? 'accepted' : 'done' };
}

/** A work order that was written up on this phone; null for an action of one that is not known here. */
function writtenUp(snapshot: PhoneSnapshot, action: PhoneAction): PhoneWork | null {
  if (action.kind !== 'write_up') return null;
  const { body } = action;
  const place = placeOf(snapshot, text(body, 'account_id'), text(body, 'site_id'));
  if (place === null) return null;
  const read = readWriteUp(
    {
      vin: text(body, 'vin'),
      lastEight: text(body, 'last_eight'),
      modelYear: text(body, 'model_year'),
      make: text(body, 'make'),
      model: text(body, 'model'),
      color: text(body, 'color'),
      ownNumber: text(body, 'own_number'),
      roNumber: text(body, 'ro_number'),
      poNumber: text(body, 'po_number'),
      ownerName: text(body, 'owner_name'),
      ownerPhone: text(body, 'owner_phone'),
      odometerMiles: text(body, 'odometer_miles'),
      replacement: '',
      replacementNote: '',
      day: text(body, 'day'),
    },
    place,
    snapshot.today,
    snapshot.business.currency,
  );
  if (!read.ok) return null;
  const { day, vin, lastEight, modelYear, make, model, color } = read.value;
  const { ownNumber, roNumber, poNumber, ownerName } = read.value;
  return {
    id: toId<WorkOrderId>(action.workOrderId),
    number: null,
    state: 'written_up',
    holdReason: null,
    accountId: place.accountId,
    accountName: place.accountName,
    accountKind: place.accountKind,
    rules: place.rules,
    visitId: toId<VisitId>(text(body, 'visit_id')),
    day,
    vehicle: { vin, lastEight, modelYear, make, model, color },
    ownNumberKind: place.ownNumberKind,
    ownNumber,
    roNumber,
    poNumber,
    ownerName,
    isRework: false,
    versionId: null,
    lines: [],
    photos: [],
    recorded: [],
    stopPoints: [],
    releasedLines: [],
    testedKeys: [],
    notAccepted: false,
    airbagLampBefore: null,
    warned: [],
    ...nothingDoneHere,
  };
}

export function placeOf(snapshot: PhoneSnapshot, accountId: string, siteId: string): PhonePlace | null {
  return snapshot.places.find((place) => place.accountId === accountId && place.siteId === siteId) ?? null;
}

/** A line as the API takes it, read as the server reads it; null where it can’t be. */
function lineOf(id: string, body: Body, snapshot: PhoneSnapshot): PhoneLine | null {
  const input = lineInput(body);
  const read = readLineAtVehicle(input);
  if (!read.ok) return null;
  const { damage, finding, methods } = read.value;
  const repair = snapshot.repairs.find(
    ({ family, rates }) => family === input.family || rates.some(({ code }) => code === input.rateCode),
  );
  const { observation, material, overruleReason } = storedFinding(finding);
  return {
    id: toId<LineId>(id),
    part: damage.part,
    side: damage.position ?? '',
    damage: damage.kind,
    observation,
    material,
    overruleReason,
    methods: [...methods],
    family: repair?.family ?? input.family,
    repairsDamage: repair?.repairsDamage ?? true,
    layers: null,
    measuredInches: input.measuredInches === '' ? null : input.measuredInches,
    answer: null,
    keyTest: isKeyRemote({ part: damage.part, family: repair?.family ?? input.family }) ? 'unfinished' : null,
    billedBand: bandOf(repair, input.rateCode),
  };
}

/** Known here where somebody chose the rate; otherwise the size picks it when it is sent, and fits. */
function bandOf(repair: PhoneSnapshot['repairs'][number] | undefined, code: string): PhoneLine['billedBand'] {
  const rate = repair?.rates.find((each) => each.code === code);
  if (rate === undefined || rate.overInches === null || rate.toInches === null) return null;
  return { overInches: rate.overInches, toInches: rate.toInches };
}

function lineInput(body: Body): LineInput {
  return {
    part: text(body, 'part'),
    side: text(body, 'side'),
    damage: text(body, 'damage'),
    visibleWhen: text(body, 'visible_when'),
    observation: text(body, 'observation'),
    looksLike: text(body, 'looks_like'),
    overruledMaterial: text(body, 'overruled_material'),
    overruleReason: text(body, 'overrule_reason'),
    methods: texts(body, 'methods'),
    measuredInches: text(body, 'measured_inches'),
    family: text(body, 'family'),
    rateCode: text(body, 'rate_code'),
    factorCode: text(body, 'factor_code'),
    byHandPrice: text(body, 'by_hand_price'),
    byHandReason: text(body, 'by_hand_reason'),
    byHandMaterialsPercent: text(body, 'by_hand_materials_percent'),
    note: text(body, 'note'),
  };
}

/** What comes next on it. A line's price is asked for by nobody here: it is priced when it is sent. */
export function nextTaskOf(work: PhoneWork): NextTask {
  return nextTask({
    ...work,
    lines: factsOfLines(work.lines).map(({ part, row }) => ({
      id: row.id,
      repairsDamage: row.repairsDamage,
      unpriced: null,
      answer: row.answer,
      keyRemote: isKeyRemote({ part, family: row.family }),
    })),
  });
}

function text(body: Body, name: string): string {
  const value = body[name];
  return typeof value === 'string' ? value : typeof value === 'number' ? String(value) : '';
}

function texts(body: Body, name: string): string[] {
  const value = body[name];
  return Array.isArray(value) ? value.filter((each) => typeof each === 'string') : [];
}

function isPhotoReason(value: unknown): value is { readonly photo_id: string; readonly reason: string } {
  return isRecord(value) && typeof value.photo_id === 'string' && typeof value.reason === 'string';
}

function isRecord(value: unknown): value is Body {
  return typeof value === 'object' && value !== null;
}

function isPurpose(word: string): word is PhotoPurpose {
  return Object.hasOwn(photoPurposes, word);
}
