import { loadPriceBook } from '@grainwright/db';
import {
  type Contradiction,
  type ContradictionOverride,
  type Day,
  type LineId,
  lineContradictions,
  type Method,
  methods as methodTraits,
  ok,
  overrideContradiction,
  type Rate,
  type Result,
  rateInForce,
  refuse,
} from '@grainwright/domain';
import type { Scope } from '../perform.ts';
import { readChoice } from './read-choice.ts';
import { approvedLines, type OpenedWork, type WorkLine } from './work-lines.ts';

/** How a line was really worked, as the technician says when finishing. */
export interface LineWorkInput {
  readonly lineId: LineId;
  readonly methods: readonly string[];
  /** Layers put on, as text; empty where none are written down. */
  readonly layers: string;
}

export interface OverrideInput {
  readonly code: string;
  readonly lineId: LineId | null;
  readonly reason: string;
}

/** The approved lines as they were worked: what was said now stands over what was planned. */
export function workedLines(work: OpenedWork, said: readonly LineWorkInput[]): Result<readonly WorkLine[]> {
  const lines = approvedLines(work);
  if (said.some(({ lineId }) => !lines.some((line) => line.id === lineId)))
    return refuse('invalid_input', 'This is no approved line of the work order. Open it again.', 'work');
  const worked: WorkLine[] = [];
  for (const line of lines) {
    const own = said.find(({ lineId }) => lineId === line.id);
    const read = own === undefined ? ok({}) : readLineWork(own);
    if (!read.ok) return read;
    worked.push({ ...line, ...read.value });
  }
  return ok(worked);
}

function readLineWork({
  methods,
  layers,
}: LineWorkInput): Result<{ methods: readonly Method[]; layers: number | null }> {
  const known: Method[] = [];
  for (const each of new Set(methods)) {
    const method = readChoice(methodTraits, each, 'methods', 'Choose the methods from the list.');
    if (!method.ok) return method;
    known.push(method.value);
  }
  const text = layers.trim();
  if (text !== '' && !/^([0-9]|[1-4][0-9]|50)$/.test(text))
    return refuse('invalid_input', 'Write the number of layers, 0 to 50.', 'layers');
  return ok({ methods: known, layers: text === '' ? null : Number(text) });
}

/** What on the worked lines does not fit together. */
export async function contradictionsOn(
  scope: Scope,
  work: OpenedWork,
  lines: readonly WorkLine[],
): Promise<readonly Contradiction[]> {
  const { rates } = await loadPriceBook(scope.tx);
  const rateDay = work.approved?.rateDay ?? null;
  return lines.flatMap((line) =>
    lineContradictions({
      lineId: line.id,
      label: line.label,
      damage: line.damage,
      repairsDamage: line.repairsDamage,
      material: line.material,
      alreadyBurnt: line.finding?.observed.kind === 'already_burnt',
      methods: line.methods,
      photos: line.photos,
      layers: line.layers,
      measuredInches: line.measuredInches,
      billedBand: billedBand(rates, line.code, rateDay),
      keyTest: line.keyTest,
    }),
  );
}

/** The sizes that a line is billed by, where it is priced by size. */
export function billedBand(rates: readonly Rate[], code: string | null, rateDay: Day | null): Rate['band'] {
  return code === null || rateDay === null ? null : (rateInForce(rates, code, rateDay)?.band ?? null);
}

/** The overrides that answer something found; each needs its reason. */
export function readOverrides(
  found: readonly Contradiction[],
  said: readonly OverrideInput[],
): Result<readonly ContradictionOverride[]> {
  const overrides: ContradictionOverride[] = [];
  for (const contradiction of found) {
    const own = said.find(
      ({ code, lineId }) => code === contradiction.code && lineId === contradiction.lineId,
    );
    if (own === undefined || own.reason.trim() === '') continue;
    if (own.reason.trim().length > 500)
      return refuse('invalid_input', 'A reason has at most 500 letters.', 'reason');
    const override = overrideContradiction(contradiction, own.reason);
    if (!override.ok) return override;
    overrides.push(override.value);
  }
  return ok(overrides);
}

/** The overridden ones in words, for the record: what was found, and why it stays. */
export function overrideWords(
  found: readonly Contradiction[],
  overrides: readonly ContradictionOverride[],
): string {
  return overrides
    .map(({ code, lineId, reason }) => {
      const overridden = found.find((each) => each.code === code && each.lineId === lineId);
      return `Overridden: ${overridden?.sentence ?? code} Reason: ${reason}`;
    })
    .join('\n');
}
