import { findShownDeletion, type TenantTransaction } from '@grainwright/db';
import { type Result, type RetentionKind, refuse } from '@grainwright/domain';
import { deletionWords } from './deleted-words.ts';

export { deletionWords };

/** A refusal with `deleted_by_rule` where a rule let go of it; null while it is kept. `what` begins the sentence. */
export async function refuseDeleted(
  tx: TenantTransaction,
  kind: RetentionKind,
  { id, what, sha256 }: { readonly id: string; readonly what: string; readonly sha256: string | null },
): Promise<Extract<Result<never>, { ok: false }> | null> {
  const deletion = await findShownDeletion(tx, kind, id);
  if (deletion === null) return null;
  const digest = sha256 === null ? '' : ` Its SHA-256 digest was ${sha256}.`;
  return refuse('deleted_by_rule', `${what} was ${deletionWords(kind, deletion)}.${digest}`);
}
