import { listSeamReleases, type SeamRelease } from '@grainwright/db';
import {
  type Caution,
  type CautionCode,
  type Circumstance,
  cautionsFor,
  ok,
  type Result,
  refuse,
  seamIsBlocked,
  type WorkOrderId,
} from '@grainwright/domain';
import type { Scope } from '../perform.ts';
import { approvedLines, type OpenedWork, type WorkLine } from './work-lines.ts';

/** The cautions to read before the approved lines are started, the gravest first. */
export function cautionsToShow(work: OpenedWork, noticed: readonly Circumstance[]): readonly Caution[] {
  return cautionsOf(work, noticed).filter((caution) => caution.moment === 'start');
}

/** What to tell whoever takes the vehicle back. */
export function cautionsAtHandOver(work: OpenedWork): readonly Caution[] {
  return cautionsOf(work, []).filter((caution) => caution.moment === 'hand_over');
}

function cautionsOf(work: OpenedWork, noticed: readonly Circumstance[]): readonly Caution[] {
  const lines = approvedLines(work);
  const used: readonly Circumstance[] = usedVehicleKinds.includes(work.account.kind) ? ['used_vehicle'] : [];
  return cautionsFor({
    parts: lines.map((line) => line.part),
    materials: lines.flatMap((line) => line.material ?? []),
    methods: lines.flatMap((line) => line.methods),
    circumstances: [...used, ...noticed],
  });
}

/** Accounts whose vehicles had other people in them before. */
const usedVehicleKinds: readonly OpenedWork['account']['kind'][] = [
  'used_car_lot',
  'fleet',
  'rental',
  'wholesaler',
];

/** What a technician may have noticed at the vehicle, with its words on pages. */
export const noticeable = {
  airbag_lamp_on: 'the airbag lamp is on',
  high_voltage_cables: 'orange high-voltage cables near the work',
  hot_day: 'a hot day, the vehicle in the sun',
} as const satisfies Partial<Record<Circumstance, string>>;

export function readCircumstances(codes: readonly string[]): Result<readonly Circumstance[]> {
  const unknown = codes.find((code) => !Object.hasOwn(noticeable, code));
  if (unknown !== undefined)
    return refuse('invalid_input', `Choose from: ${Object.keys(noticeable).join(', ')}.`, 'circumstances');
  return ok(codes.filter(isNoticeable));
}

function isNoticeable(code: string): code is keyof typeof noticeable {
  return Object.hasOwn(noticeable, code);
}

/** The acknowledged ones of the cautions shown; whatever else was sent names no caution of this work. */
export function acknowledgedOf(shown: readonly Caution[], codes: readonly string[]): readonly CautionCode[] {
  return shown.map((caution) => caution.code).filter((code) => codes.includes(code));
}

/** A line that re-sews a seam which may cover a side airbag. */
export type BlockedSeam = Pick<WorkLine, 'id' | 'label'>;

/** The first line that re-sews a seam which may cover a side airbag and is not released itself; null without one. */
export async function blockedSeam(
  scope: Scope,
  workOrderId: WorkOrderId,
  lines: readonly WorkLine[],
): Promise<BlockedSeam | null> {
  const seams = lines.filter((line) => seamIsBlocked({ parts: [line.part], methods: line.methods }));
  if (seams.length === 0) return null;
  const releases = await listSeamReleases(scope.tx, workOrderId);
  const blocked = seams.find((line) => !releases.some((release) => isOf(release, line)));
  return blocked === undefined ? null : { id: blocked.id, label: blocked.label };
}

/** A release holds for the part that the line was on: a line moved to another seat is asked for again. */
export function isOf(release: SeamRelease, line: WorkLine): boolean {
  return release.lineId === line.id && release.part === line.part && release.side === (line.side ?? '');
}

export function refuseBlockedSeam({ label }: BlockedSeam) {
  return refuse(
    'wrong_state',
    `${label}: a side airbag may open through this seam, so the line is blocked. The owner of the business can release it with a reason.`,
  );
}
