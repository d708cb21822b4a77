import { sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';

/**
 * Every column that names an object of the store. A test compares it with the catalog: bytes under a key that nothing
 * here names are swept away.
 */
export const objectNames: readonly (readonly [table: string, column: string])[] = [
  ['photos', 'storage_key'],
  ['photo_derivatives', 'storage_key'],
  ['covered_copies', 'storage_key'],
  ['recording_files', 'storage_key'],
  ['acceptances', 'signature_key'],
  ['statement_files', 'storage_key'],
  ['outgoing_mail_attachments', 'storage_key'],
  ['upload_parts', 'storage_key'],
  ['businesses', 'logo_key'],
];

/** Which of these keys some row of the tenant names. */
export async function findNamedObjects(
  tx: TenantTransaction,
  keys: readonly string[],
): Promise<ReadonlySet<string>> {
  const asked = sql`array[${sql.join(
    keys.map((key) => sql`${key}`),
    sql`, `,
  )}]::text[]`;
  const named = objectNames.map(
    ([table, column]) =>
      sql`select ${sql.identifier(column)} as key from ${sql.identifier(table)}
        where tenant_id = ${tx.tenantId} and ${sql.identifier(column)} = any(${asked})`,
  );
  const rows =
    keys.length === 0 ? [] : await tx.execute<{ key: string }>(sql`${sql.join(named, sql` union `)}`);
  return new Set([...rows].map(({ key }) => key));
}
