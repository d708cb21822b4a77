import { sql } from 'drizzle-orm';
import type { RegistryTransaction } from '../database.ts';

/** The number of the last file in migrations/, which this version's queries are written for. */
export const newestMigration = 36;

/** Whether the database is at this version or, while a newer one is being brought out, past it. Throws without a schema. */
export async function isMigrated(tx: RegistryTransaction): Promise<boolean> {
  const [row] = await tx.execute<{ version: number | null }>(
    sql`select max(version) as version from migrations.grainwright_migrations`,
  );
  return (row?.version ?? 0) >= newestMigration;
}
