import { formatDecimal, formatMinor } from '@grainwright/domain';
import type {
  AcceptanceView,
  EstimateView,
  RepairChoicesView,
  WorkOrderLineView,
  WorkOrderListView,
  WorkOrderRowView,
  WorkOrderView,
} from '@grainwright/operations';
import type { z } from 'zod';
import { answerMessages } from '../messages/schemas.ts';
import { answerQuoted } from '../quotes/answers.ts';
import { answerConsent, answerDecision } from './consent-answers.ts';
import type { choicesAnswer, listAnswer, workOrderAnswer } from './schemas.ts';
import { answerStory } from './story-answers.ts';

type WorkOrderJson = z.infer<typeof workOrderAnswer>;

export function answerWorkOrder(view: WorkOrderView): WorkOrderJson {
  const { currency, numbers, visit, vehicle } = view;
  return {
    id: view.id,
    number: view.number.toString(),
    state: view.state,
    waits_for: view.waitsFor,
    hold_reason: view.holdReason,
    currency,
    account: { id: view.account.id, name: view.account.name, short_name: view.account.shortName },
    site: view.site,
    visit: {
      id: visit.id,
      day: visit.day,
      after_hours: visit.afterHours,
      rush: visit.rush,
      walk_in: visit.walkIn,
    },
    technician: view.technician,
    vehicle: {
      id: vehicle.id,
      vin: vehicle.vin,
      last_eight: vehicle.lastEight,
      description: vehicle.description,
      written_as: vehicle.writtenAs,
    },
    own_number_kind: numbers.ownKind,
    own_number: numbers.own,
    ro_number: numbers.ro,
    po_number: numbers.po,
    missing_numbers: [...view.missingNumbers],
    numbers_asked: view.numbersAsked.map((each) => ({ ...each })),
    owner: view.owner,
    odometer_miles: view.odometerMiles,
    ...answerQuoted(view, currency),
    lines: view.lines.map((line) => answerLine(line, currency)),
    estimate: view.estimate && answerEstimate(view.estimate, currency),
    deposit: view.deposit && {
      asked: formatMinor(view.deposit.askedMinor, currency),
      held: formatMinor(view.deposit.heldMinor, currency),
    },
    ...answerConsent(view),
    ...answerStory(view),
    ...evidenceOf(view),
    invoice: view.invoice,
    price_notes: answerPriceNotes(view),
    messages: answerMessages(view.messages),
    steps: view.steps.map((step) => ({
      event: step.event,
      to_state: step.toState,
      happened_at: step.happenedAt,
      person_name: step.personName,
      note: step.note,
    })),
  };
}

function answerLine({ entry, ...line }: WorkOrderLineView, currency: string): WorkOrderJson['lines'][number] {
  return {
    id: line.id,
    position: line.position,
    words: line.words,
    part: entry.part,
    side: entry.side,
    damage: entry.damage,
    visible_when: line.visibleWhen,
    observation: entry.observation,
    observed: line.observed,
    inferred: line.inferred,
    looks_like: entry.looksLike,
    overruled_material: entry.overruledMaterial,
    overrule_reason: line.overruleReason,
    methods: [...entry.methods],
    measured_inches: line.measuredInches && formatDecimal(line.measuredInches),
    family: entry.family,
    rate_code: line.rateCode,
    factor_code: entry.factorCode,
    by_hand: entry.byHand && {
      price: formatMinor(entry.byHand.minor, currency),
      reason: entry.byHand.reason,
      materials_percent: formatDecimal(entry.byHand.materialsPercent),
    },
    repair: line.repair,
    repairs_damage: line.repairsDamage,
    note: line.note,
    unpriced: line.unpriced,
    answer: line.answer,
    answer_reason: line.answerReason,
  };
}

function answerPriceNotes({ priceNotes, currency }: WorkOrderView): WorkOrderJson['price_notes'] {
  const { handPrices, floored, consents } = priceNotes;
  const amount = (minor: bigint) => formatMinor(minor, currency);
  return {
    priced_by_hand: handPrices.map(({ lineId, reason, by }) => ({ line_id: lineId, reason, by })),
    floored: floored.map(({ lineId, priceMinor, floorMinor, refused }) => ({
      line_id: lineId,
      price: amount(priceMinor),
      floor: amount(floorMinor),
      refused,
    })),
    consents: consents.map(({ lineId, priceMinor, floorMinor, reason, by, at }) => ({
      line_id: lineId,
      price: amount(priceMinor),
      floor: amount(floorMinor),
      reason,
      by,
      at,
    })),
  };
}

function answerEstimate(
  { price, ...estimate }: EstimateView,
  currency: string,
): NonNullable<WorkOrderJson['estimate']> {
  const amount = (minor: bigint) => formatMinor(minor, currency);
  return {
    version_id: estimate.versionId,
    version: estimate.version,
    digest: estimate.digest,
    made_at: estimate.madeAt,
    expires_on: estimate.expiresOn,
    lines: estimate.lines.map((line) => ({
      line_id: line.lineId,
      code: line.code,
      repair: line.repair,
      list: amount(line.listMinor),
      before_further_repair: amount(line.beforeFurtherMinor),
      further_percent: formatDecimal(line.furtherPercent),
      net: amount(line.netMinor),
      labor: amount(line.laborMinor),
      materials: amount(line.materialsMinor),
      trail: line.trail,
    })),
    repairs: amount(price.vehicle.repairsMinor),
    minimum: amount(price.vehicle.minimum?.netMinor ?? 0n),
    after_hours: amount(price.visit.afterHours?.amountMinor ?? 0n),
    rush: amount(price.visit.rush?.amountMinor ?? 0n),
    visit_minimum: amount(price.visit.minimum?.amountMinor ?? 0n),
    trip: amount(price.visit.trip?.amountMinor ?? 0n),
    compared_with_limit: amount(price.limitMinor),
    net: amount(price.visit.netMinor),
    tax: amount(price.invoice.totals.taxMinor),
    total: amount(price.invoice.totals.withTaxMinor),
  };
}

function evidenceOf(
  view: WorkOrderView,
): Pick<WorkOrderJson, 'decision' | 'photos' | 'photo_warnings' | 'recordings' | 'acceptance' | 'answers'> {
  const { decision, acceptance } = view;
  return {
    decision: decision && answerDecision(decision, view.currency),
    photos: view.photos.map((photo) => ({
      id: photo.id,
      line_id: photo.lineId,
      purpose: photo.purpose,
      sha256: photo.sha256,
      width: photo.width,
      height: photo.height,
      taken_at_local: photo.takenAtLocal,
      received_at: photo.receivedAt,
      retake_of: photo.retakeOf,
      taken_again: photo.takenAgain && { by: photo.takenAgain.by, noticed: [...photo.takenAgain.noticed] },
      ready: photo.ready,
      covered_on: photo.coveredOn,
      deleted_on: photo.deletion?.on ?? null,
    })),
    photo_warnings: view.warnedPhotos.map(({ id, warnings, retakenBy, override }) => ({
      photo_id: id,
      warnings: warnings.map(({ code, sentence }) => ({ code, sentence })),
      retaken_by: retakenBy,
      kept_because: override && { reason: override.reason, by: override.madeBy, at: override.madeAt },
    })),
    recordings: view.recordings.map((recording) => ({
      id: recording.id,
      kind: recording.kind,
      media_type: recording.mediaType,
      sha256: recording.sha256,
      bytes: Number(recording.bytes),
      seconds: recording.seconds,
      names_place: recording.namesPlace,
      has_poster: recording.hasPoster,
      deleted_on: recording.deletion?.on ?? null,
      captured_at: recording.capturedAt,
      received_at: recording.receivedAt,
    })),
    acceptance: acceptance && answerAcceptance(acceptance),
    answers: view.answers.map(answerAcceptance),
  };
}

function answerAcceptance(acceptance: AcceptanceView): NonNullable<WorkOrderJson['acceptance']> {
  return {
    id: acceptance.id,
    outcome: acceptance.outcome,
    remark: acceptance.remark,
    signer_name: acceptance.signerName,
    signer_role: acceptance.signerRole,
    identified_by: acceptance.identifiedBy,
    method: acceptance.method,
    signature_sha256: acceptance.picture,
    shown_digest: acceptance.digest,
    accepted_at: acceptance.acceptedAt,
    answered_at: acceptance.answeredAt,
  };
}

export function answerList(list: WorkOrderListView): z.infer<typeof listAnswer> {
  return {
    work_orders: list.rows.map((row) => answerRow(row, list.currency)),
    next: list.next?.toString() ?? null,
  };
}

export function answerRow(row: WorkOrderRowView, currency: string) {
  return {
    id: row.id,
    number: row.number.toString(),
    state: row.state,
    waits_for: row.waitsFor,
    account_name: row.accountName,
    vehicle: row.vehicle,
    numbers: row.numbers,
    technician: row.technician,
    day: row.day,
    repairs: row.repairsMinor === null ? null : formatMinor(row.repairsMinor, currency),
    question_open: row.questionOpen,
  };
}

export function answerChoices(choices: RepairChoicesView): z.infer<typeof choicesAnswer> {
  return {
    currency: choices.currency,
    families: choices.families.map(({ family, measured, rates }) => ({
      family,
      measured,
      rates: rates.map((rate) => ({
        code: rate.code,
        repair: rate.repair,
        over_inches: rate.overInches && formatDecimal(rate.overInches),
        to_inches: rate.toInches && formatDecimal(rate.toInches),
        part: rate.part,
        material: rate.material,
        list: formatMinor(rate.listMinor, choices.currency),
      })),
    })),
    factors: choices.factors.map(({ code, name, percent }) => ({
      code,
      name,
      percent: formatDecimal(percent),
    })),
  };
}
