import { createHash } from 'node:crypto';
import type { ShownPhotoRow, StoredDecision, StoredEstimate } from '@grainwright/db';
import { formatMinor } from '@grainwright/domain';
import type { FrozenEstimate, SeenRecord } from './frozen-record.ts';

/** An answer as it is stored, beside what was frozen with it. */
export interface AnswerToProve {
  readonly estimate: StoredEstimate;
  readonly answered: StoredDecision;
  /** Null where the content can't be read. */
  readonly frozen: FrozenEstimate | null;
  /** Null where it can't be read, and where nothing was kept. */
  readonly seen: SeenRecord | null;
  readonly photos: readonly Pick<ShownPhotoRow, 'id' | 'sha256'>[];
}

/** What on record is not as it was when the answer was given, in sentences; none where all of it matches. */
export function mismatchesOf(record: AnswerToProve): readonly string[] {
  return [...estimateMismatches(record), ...seenMismatches(record)];
}

function estimateMismatches({ estimate, answered, frozen }: AnswerToProve): readonly string[] {
  const { version } = estimate;
  return [
    ...when(
      sha256(version.content) !== version.digest,
      'The estimate’s content is not what its digest was made of.',
    ),
    ...when(
      answered.decision.digest !== version.digest,
      'The answer names another digest than the estimate has.',
    ),
    ...when(
      frozen === null || !isSameEstimate(estimate, frozen),
      'The lines and amounts on record are not those of the estimate’s content.',
    ),
  ];
}

function isSameEstimate({ version, lines }: StoredEstimate, frozen: FrozenEstimate): boolean {
  const rows = lines.map(({ lineId, code, netMinor, laborMinor, materialsMinor }) =>
    [lineId, code, netMinor, laborMinor, materialsMinor].join(),
  );
  const frozenRows = frozen.lines.map(({ lineId, code, netMinor, laborMinor, materialsMinor }) =>
    [lineId, code, netMinor, laborMinor, materialsMinor].join(),
  );
  return (
    rows.toSorted().join(';') === frozenRows.toSorted().join(';') &&
    version.totalMinor === frozen.totalMinor &&
    version.taxMinor === frozen.taxMinor &&
    version.tripMinor === frozen.tripMinor
  );
}

function seenMismatches({ estimate, answered, seen, photos }: AnswerToProve): readonly string[] {
  const { decision } = answered;
  if (decision.seen === null) return [];
  return [
    ...when(
      sha256(decision.seen) !== decision.seenDigest,
      'What was seen is not what its digest was made of.',
    ),
    ...when(
      seen === null || !isSameAnswer(answered, seen, estimate.version.currency),
      'The answer on record is not the one that was given to what was seen.',
    ),
    ...when(
      seen !== null && (seen.photos ?? []).some(({ id, sha256: digest }) => !isThere(photos, id, digest)),
      'A picture on record is not the one that was seen.',
    ),
  ];
}

function isSameAnswer({ decision, lines }: StoredDecision, seen: SeenRecord, currency: string): boolean {
  const given = lines.map(
    ({ lineId, answer, netMinor }) =>
      `${lineId} ${answer} ${answer === 'approved' ? formatMinor(netMinor, currency) : ''}`,
  );
  const answered = seen.lines.map(({ lineId, answer, price }) => `${lineId} ${answer} ${price ?? ''}`);
  return (
    given.toSorted().join(';') === answered.toSorted().join(';') &&
    formatMinor(decision.totalMinor, currency) === seen.total
  );
}

function isThere(photos: AnswerToProve['photos'], id: string, digest: string): boolean {
  return photos.some((photo) => photo.id === id && photo.sha256 === digest);
}

function when(isWrong: boolean, sentence: string): readonly string[] {
  return isWrong ? [sentence] : [];
}

function sha256(content: string): string {
  return createHash('sha256').update(content, 'utf8').digest('hex');
}
