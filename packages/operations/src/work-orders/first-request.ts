import { createHash } from 'node:crypto';
import { findAuditDetail } from '@grainwright/db';
import { canonicalJson, type JsonValue, ok, type Result, refuse } from '@grainwright/domain';
import type { Scope } from '../perform.ts';

/** What identifies a request's content; goes into the audit record's detail of whatever the request made. */
export function contentDigest(content: JsonValue): string {
  return createHash('sha256').update(canonicalJson(content)).digest('hex');
}

/**
 * What the audit record says of something made under a client-made id by this very request before; null when it is
 * new. Refuses with `id_reused` when the id was made with other content.
 */
export async function madeBefore(
  scope: Scope,
  id: string,
  action: string,
  digest: string,
): Promise<Result<Readonly<Record<string, JsonValue>> | null>> {
  const detail = await findAuditDetail(scope.tx, id, action);
  if (detail === null) return ok(null);
  if (!isRecord(detail) || detail.content !== digest) return idReused();
  return ok(detail);
}

export function idReused() {
  return refuse('id_reused', 'This id was already used for something else. Send it under a new id.', 'id');
}

function isRecord(detail: JsonValue): detail is Readonly<Record<string, JsonValue>> {
  return detail !== null && typeof detail === 'object' && !Array.isArray(detail);
}
