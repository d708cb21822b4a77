import postgres, { type TransactionSql } from 'postgres';
import type { World } from './world.ts';

/**
 * Runs `work` while another connection holds what `hold` locks, and lets go as soon as `work` waits for it or is through;
 * until then `meanwhile` runs. Tells whether it waited.
 */
export async function whileHeld<T>(
  world: World,
  hold: (sql: TransactionSql) => Promise<unknown>,
  work: () => Promise<T>,
  meanwhile: (sql: TransactionSql) => Promise<unknown> = async () => undefined,
): Promise<{ readonly value: T; readonly waited: boolean }> {
  const sql = postgres(world.adminUrl, { max: 1, onnotice: () => undefined });
  try {
    const { working, waited } = await sql.begin(async (holder) => {
      await hold(holder);
      let through = false;
      const working = work().finally(() => {
        through = true;
      });
      let waits = false;
      while (!through && !waits) waits = await somebodyWaitsFor(holder);
      await meanwhile(holder);
      return { working: [working] as const, waited: waits };
    });
    return { value: await working[0], waited };
  } finally {
    await sql.end({ timeout: 5 });
  }
}

async function somebodyWaitsFor(holder: TransactionSql): Promise<boolean> {
  const [row] = await holder`select exists (
    select from pg_locks l where not l.granted and pg_backend_pid() = any(pg_blocking_pids(l.pid))) as waits`;
  return row?.waits === true;
}
