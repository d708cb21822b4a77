import { sql } from 'drizzle-orm';
import type { RegistryTransaction } from '../database.ts';

/** Reads one row of the registry: the database answers, the role is right and the schema is there. */
export async function registryAnswers(tx: RegistryTransaction): Promise<boolean> {
  await tx.execute(sql`select 1 from registry.tenants limit 1`);
  return true;
}
