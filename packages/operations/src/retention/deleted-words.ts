import type { ShownDeletion } from '@grainwright/db';
import { dayWords, periodWords, type RetentionKind, retentionKinds } from '@grainwright/domain';

/** “deleted on Aug 5, 2033 under the rule that keeps photos for 7 years”. */
export function deletionWords(kind: RetentionKind, { on, period, unit }: ShownDeletion): string {
  return `deleted on ${dayWords(on)} under the rule that keeps ${retentionKinds[kind]} for ${periodWords({ period, unit })}`;
}
