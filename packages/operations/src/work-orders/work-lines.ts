import {
  findWorkInHand,
  type LineAnswerRow,
  listLineAnswers,
  listShownPhotos,
  listWorkOrderLines,
  type ShownPhotoRow,
  type WorkInHand,
  type WorkOrderLineRow,
} from '@grainwright/db';
import {
  type Decimal,
  type LineId,
  type Method,
  ok,
  type PhotoPurpose,
  type Result,
  refuse,
  type WorkOrderId,
} from '@grainwright/domain';
import type { Scope } from '../perform.ts';
import { type LineFacts, lineFacts } from './line-facts.ts';

/** A line as its work goes by it: how it was worked, what it was billed as, and which photos show it. */
export interface WorkLine extends LineFacts {
  readonly id: LineId;
  readonly methods: readonly Method[];
  /** Layers put on; null while not written down. */
  readonly layers: number | null;
  readonly measuredInches: Decimal | null;
  /** Null while nothing is decided. */
  readonly answer: 'approved' | 'declined' | null;
  /** The code of the rate it was priced by; null while nothing is decided. */
  readonly code: string | null;
  readonly photos: readonly PhotoPurpose[];
}

/** A work order with its lines and photos, as photographing, starting and finishing it need them. */
export interface OpenedWork extends WorkInHand {
  readonly lines: readonly WorkLine[];
  readonly photos: readonly ShownPhotoRow[];
}

/** Refuses with `not_found`. For staff; a change locks the work order first. */
export async function readWork(scope: Scope, id: WorkOrderId): Promise<Result<OpenedWork>> {
  const found = await findWorkInHand(scope.tx, id);
  if (found === null) return refuse('not_found', 'There is no such work order.');
  const rows = await listWorkOrderLines(scope.tx, id);
  const answers = await listLineAnswers(scope.tx, id);
  const photos = await listShownPhotos(scope.tx, id);
  const lines = rows.map((row) =>
    workLine(
      row,
      answers.find(({ lineId }) => lineId === row.id),
      photos,
    ),
  );
  return ok({ ...found, lines, photos });
}

export function approvedLines(work: OpenedWork): readonly WorkLine[] {
  return work.lines.filter((line) => line.answer === 'approved');
}

function workLine(
  row: WorkOrderLineRow,
  answer: LineAnswerRow | undefined,
  photos: readonly ShownPhotoRow[],
): WorkLine {
  return {
    ...lineFacts(row),
    id: row.id,
    layers: row.layers,
    measuredInches: row.measuredInches,
    answer: answer?.answer ?? null,
    code: answer?.code ?? null,
    photos: photos.filter((photo) => photo.lineId === row.id).map((photo) => photo.purpose),
  };
}
