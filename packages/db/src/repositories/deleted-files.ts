import type { RetentionKind } from '@grainwright/domain';
import { type SQL, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import type { DeletedFile } from '../schema/retention.ts';

export interface SubjectFile extends DeletedFile {
  readonly subjectId: string;
}

type StoredFile = {
  readonly subject_id: string;
  readonly what: string;
  readonly sha256: string;
  readonly bytes: string;
  readonly storage_key: string | null;
};

/** Every file of these photos, recordings or statements, and of mails their words: what a deletion takes with it. */
export async function listSubjectFiles(
  tx: TenantTransaction,
  kind: RetentionKind,
  ids: readonly string[],
): Promise<readonly SubjectFile[]> {
  if (ids.length === 0) return [];
  const rows =
    await tx.execute<StoredFile>(sql`select f.subject_id, f.what, f.sha256, f.bytes::text as bytes, f.storage_key
    from (${filesOf[kind]}) f
    where f.tenant_id = ${tx.tenantId} and f.subject_id in ${[...ids]}
    order by f.subject_id, f.what`);
  return [...rows].map(({ subject_id, ...file }) => ({ subjectId: subject_id, ...file }));
}

const filesOf: Readonly<Record<RetentionKind, SQL>> = {
  photos: sql`
    select tenant_id, id as subject_id, 'original' as what, sha256, bytes, storage_key from photos
    union all
    select tenant_id, photo_id, kind, sha256, bytes, storage_key from photo_derivatives
    union all
    select g.tenant_id, g.photo_id, 'covered ' || c.kind || ' ' || g.number, c.sha256, c.bytes, c.storage_key
    from photo_coverings g
    join covered_copies c on c.tenant_id = g.tenant_id and c.covering_id = g.id`,
  recordings: sql`
    select tenant_id, recording_id as subject_id, part as what, sha256, bytes, storage_key from recording_files`,
  documents: sql`
    select tenant_id, statement_id as subject_id, kind as what, sha256, bytes, storage_key from statement_files`,
  mails: sql`
    select tenant_id, id as subject_id, 'words' as what, encode(sha256(convert_to(body, 'UTF8')), 'hex') as sha256,
      octet_length(body)::bigint as bytes, null::text as storage_key from outgoing_mails`,
};
