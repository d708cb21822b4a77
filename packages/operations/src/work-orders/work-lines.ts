import {
  findWorkInHand,
  type KeyTestRow,
  type LineAnswerRow,
  listKeyTests,
  listLineAnswers,
  listRecordings,
  listShownPhotos,
  listWorkOrderLines,
  type ShownPhotoRow,
  type ShownRecordingRow,
  type WorkInHand,
  type WorkOrderLineRow,
} from '@grainwright/db';
import {
  type Decimal,
  isKeyRemote,
  type KeyVerdict,
  keyVerdict,
  type LineId,
  type Method,
  ok,
  type PhotoPurpose,
  type Result,
  refuse,
  type WorkOrderId,
} from '@grainwright/domain';
import type { Scope } from '../perform.ts';
import { factsOfLines, type LineFacts } from './line-facts.ts';
import { newestOfEachLine } from './load-work-story.ts';

/** A line as its work goes by it: how it was worked, what it was billed as, and which photos show it. */
export interface WorkLine extends LineFacts {
  readonly id: LineId;
  readonly methods: readonly Method[];
  /** Layers put on; null while not written down. */
  readonly layers: number | null;
  readonly measuredInches: Decimal | null;
  /** Null while nothing is decided. */
  readonly answer: 'approved' | 'declined' | null;
  /** How a key remote did in its newest tests; null where the line is none. */
  readonly keyTest: KeyVerdict | null;
  /** The code of the rate it was priced by; null while nothing is decided. */
  readonly code: string | null;
  readonly photos: readonly PhotoPurpose[];
}

/** A work order with its lines and photos, as photographing, starting and finishing it need them. */
export interface OpenedWork extends WorkInHand {
  readonly lines: readonly WorkLine[];
  readonly photos: readonly ShownPhotoRow[];
  readonly recordings: readonly ShownRecordingRow[];
}

/** Refuses with `not_found`. For staff; a change locks the work order first. */
export async function readWork(scope: Pick<Scope, 'tx'>, id: WorkOrderId): Promise<Result<OpenedWork>> {
  const found = await findWorkInHand(scope.tx, id);
  if (found === null) return refuse('not_found', 'There is no such work order.');
  const rows = await listWorkOrderLines(scope.tx, id);
  const answers = await listLineAnswers(scope.tx, id);
  const photos = await listShownPhotos(scope.tx, id);
  const recordings = await listRecordings(scope.tx, id);
  const keyTests = newestOfEachLine(await listKeyTests(scope.tx, id));
  const lines = factsOfLines(rows).map(({ row, ...facts }) =>
    workLine(
      row,
      facts,
      answers.find(({ lineId }) => lineId === row.id),
      photos,
      keyTests.find(({ lineId }) => lineId === row.id),
    ),
  );
  return ok({ ...found, lines, photos, recordings });
}

/** What the work order is pictured by; a recording of the walk around the vehicle does for a picture of it. */
export function picturedPurposes({
  photos,
  recordings,
}: Pick<OpenedWork, 'photos' | 'recordings'>): readonly PhotoPurpose[] {
  return [...photos.map(({ purpose }) => purpose), ...recordings.map(({ kind }) => kind)];
}

export function approvedLines(work: OpenedWork): readonly WorkLine[] {
  return work.lines.filter((line) => line.answer === 'approved');
}

function workLine(
  row: WorkOrderLineRow,
  facts: LineFacts,
  answer: LineAnswerRow | undefined,
  photos: readonly ShownPhotoRow[],
  keyTest: KeyTestRow | undefined,
): WorkLine {
  return {
    ...facts,
    id: row.id,
    layers: row.layers,
    measuredInches: row.measuredInches,
    keyTest: verdictOf(isKeyRemote({ part: facts.part, family: row.family }), keyTest),
    answer: answer?.answer ?? null,
    code: answer?.code ?? null,
    photos: photos.filter((photo) => photo.lineId === row.id).map((photo) => photo.purpose),
  };
}

function verdictOf(isKey: boolean, sheet: KeyTestRow | undefined): KeyVerdict | null {
  if (!isKey) return null;
  return sheet === undefined ? 'unfinished' : keyVerdict(sheet);
}
