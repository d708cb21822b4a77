import type { Sql } from 'postgres';
import { jobRole } from '../login-password.ts';

/**
 * Opens the job library's tables to the worker's login and to nobody else. The library guards them by row
 * security without policies, which leaves them to their owner; these policies let one more role in.
 */
export async function admitJobRole(sql: Sql, schema: string): Promise<void> {
  await sql.begin(async (transaction) => {
    // Two processes that start at once must not grant at once.
    await transaction`select pg_advisory_xact_lock(7221164)`;
    await transaction.unsafe(statements(schema));
  });
}

function statements(schema: string): string {
  return `
    revoke all on schema ${schema} from public;
    grant usage on schema ${schema} to ${jobRole};
    grant select, insert, update, delete on all tables in schema ${schema} to ${jobRole};
    grant usage, select on all sequences in schema ${schema} to ${jobRole};
    revoke all on all functions in schema ${schema} from public;
    grant execute on all functions in schema ${schema} to ${jobRole};
    do $$ declare guarded record; begin
      for guarded in
        select c.relname from pg_class c join pg_namespace n on n.oid = c.relnamespace
        where n.nspname = '${schema}' and c.relkind = 'r' and c.relrowsecurity
          and not exists (select from pg_policy p where p.polrelid = c.oid and p.polname = 'job_runner')
      loop
        execute format('create policy job_runner on ${schema}.%I to ${jobRole} using (true) with check (true)', guarded.relname);
      end loop;
    end $$;`;
}
