import {
  findDecisionOfVersion,
  findEstimate,
  findVisit,
  type ShownEstimateLine,
  type StoredEstimate,
  type WorkOrderRow,
} from '@grainwright/db';
import {
  dayWords,
  type EstimatePrice,
  type EstimateSubject,
  type LineId,
  ok,
  type PricedLine,
  priceEstimate,
  type Result,
  refuse,
  type VersionId,
  workOrderStates,
} from '@grainwright/domain';
import type { Scope } from '../perform.ts';
import { storedRules } from '../stored-prices.ts';
import { momentWords } from './moment-words.ts';
import { type ComparedVersion, versionChange } from './version-change.ts';

export interface LineAnswer {
  readonly lineId: LineId;
  readonly answer: 'approved' | 'declined';
  /** Why; empty when not said. */
  readonly reason: string;
}

/** What somebody answers to: the version they saw, and the digest it was shown with. */
export interface SeenVersion {
  readonly versionId: VersionId;
  readonly digest: string;
}

/** An estimate that can be answered, with what it is priced for. Nothing of it comes from the price book. */
export interface Answerable extends StoredEstimate {
  readonly subject: EstimateSubject;
}

/**
 * The version that somebody answers, if it can still be answered as they saw it. Refuses with
 * `version_superseded` (saying what changed), `already_decided` (by whom and when), `wrong_state` or `shown_changed`.
 */
export async function openAnswerable(
  scope: Scope,
  workOrder: WorkOrderRow,
  seen: SeenVersion,
): Promise<Result<Answerable>> {
  const estimate = await findEstimate(scope.tx, seen.versionId);
  if (estimate === null || estimate.version.workOrderId !== workOrder.id)
    return refuse('not_found', 'This work order has no such estimate. Open it again.', 'version_id');
  if (workOrder.currentVersionId !== estimate.version.id) return superseded(scope, workOrder, estimate);
  const answered = await findDecisionOfVersion(scope.tx, estimate.version.id);
  if (answered !== null) {
    const when = momentWords(answered.decision.decidedAt, scope.business.timeZone);
    return refuse(
      'already_decided',
      `${answered.decidedByName ?? 'A standing approval'} answered this estimate on ${when}. That answer stands.`,
    );
  }
  if (workOrder.state !== 'awaiting_approval')
    return refuse(
      'wrong_state',
      `This work order is “${workOrderStates[workOrder.state]}”, so there is nothing to answer.`,
    );
  if (estimate.version.digest !== seen.digest)
    return refuse(
      'shown_changed',
      'What you were shown is not this estimate. Open it again and look it over.',
      'digest',
    );
  return ok(await answerable(scope, workOrder, estimate));
}

/** A version with what it is priced for. */
export async function answerable(
  scope: Scope,
  workOrder: Pick<WorkOrderRow, 'id' | 'visitId' | 'ownNumber'>,
  estimate: StoredEstimate,
): Promise<Answerable> {
  return { ...estimate, subject: await subjectOf(scope, workOrder) };
}

async function subjectOf(
  scope: Scope,
  workOrder: Pick<WorkOrderRow, 'id' | 'visitId' | 'ownNumber'>,
): Promise<EstimateSubject> {
  const visit = await findVisit(scope.tx, workOrder.visitId);
  if (visit === null) throw new Error('a work order names a visit that is not there');
  return { workOrderId: workOrder.id, visitId: visit.id, dateOfWork: visit.day, label: workOrder.ownNumber };
}

async function superseded(
  scope: Scope,
  workOrder: WorkOrderRow,
  seen: StoredEstimate,
): Promise<Result<Answerable>> {
  const newer =
    workOrder.currentVersionId === null ? null : await findEstimate(scope.tx, workOrder.currentVersionId);
  if (newer === null && seen.version.expiresOn < scope.today)
    return refuse(
      'estimate_expired',
      `This estimate lapsed: it was good through ${dayWords(seen.version.expiresOn)}, and nobody answered it. Ask ${scope.business.name} for a new one.`,
      'version_id',
    );
  if (newer === null)
    return refuse(
      'version_superseded',
      'This estimate was taken back. Wait for the new one before you answer.',
      'version_id',
    );
  return refuse('version_superseded', versionChange(compared(seen), compared(newer)), 'version_id');
}

function compared({ version, lines }: StoredEstimate): ComparedVersion {
  return { version: version.version, currency: version.currency, totalMinor: version.totalMinor, lines };
}

/**
 * Prices a version again from itself alone, with the lines that were approved. Every line needs one answer;
 * refuses with `invalid_input`.
 */
export function priceAnswers(estimate: Answerable, answers: readonly LineAnswer[]): Result<EstimatePrice> {
  const complete = checkAnswers(estimate.lines, answers);
  if (!complete.ok) return complete;
  const approved = answers.filter(({ answer }) => answer === 'approved').map(({ lineId }) => lineId);
  const rules = storedRules(estimate.version.rules);
  return priceEstimate(estimate.lines.map(asPricedLine), rules, estimate.subject, approved);
}

function checkAnswers(lines: readonly ShownEstimateLine[], answers: readonly LineAnswer[]): Result<true> {
  const known = new Set<string>(lines.map((line) => line.lineId));
  const answered = new Set<string>(answers.map((each) => each.lineId));
  if (answers.some((each) => !known.has(each.lineId)) || answered.size !== answers.length)
    return refuse(
      'invalid_input',
      'An answer is for no line of this estimate, or twice for one. Open it again.',
      'answers',
    );
  const open = lines.find((line) => !answered.has(line.lineId));
  if (open !== undefined)
    return refuse(
      'invalid_input',
      `Say yes or no to every line; still open: ${open.description}.`,
      'answers',
    );
  if (answers.some((each) => each.reason.trim().length > 500))
    return refuse('invalid_input', 'A reason has at most 500 letters.', 'answers');
  return ok(true);
}

/**
 * A line as it was priced by itself, before the vehicle’s other lines had a say. Whoever may know that it was priced by
 * hand reads that beside it: it is not in what accounts read too.
 */
export function asPricedLine(line: ShownEstimateLine): PricedLine {
  const { lineId, code, repair, listMinor, afterFactorMinor, beforeFurtherMinor } = line;
  const { takesFurtherRepair, materialsPercent, beforeFurtherTrail } = line;
  return {
    lineId,
    code,
    repair,
    listMinor,
    afterFactorMinor,
    beforeFurtherMinor,
    takesFurtherRepair,
    materialsPercent,
    beforeFurtherTrail,
    byHand: null,
  };
}
