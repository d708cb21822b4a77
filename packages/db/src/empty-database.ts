import postgres from 'postgres';

/**
 * Throws away everything in a database, so that it can be migrated anew. For one case only: a demo whose making was
 * broken off, on our own server, before anybody could use it.
 */
export async function emptyDatabase(adminUrl: string): Promise<void> {
  const sql = postgres(adminUrl, { max: 1, onnotice: () => undefined });
  try {
    await sql.unsafe(`
      drop schema if exists public, registry, migrations, graphile_worker cascade;
      create schema public;`);
  } finally {
    await sql.end({ timeout: 5 });
  }
}
