import { type AccountId, type Result, refuse, type TenantId, type WorkOrderId } from '@grainwright/domain';
import { sql } from 'drizzle-orm';
import { drizzle, type PostgresJsDatabase } from 'drizzle-orm/postgres-js';
import postgres from 'postgres';
import { type NewsBoard, openNewsBoard } from './news.ts';

/**
 * Whose rows a transaction may reach. The database role and these settings are the wall; code above it
 * only chooses the context, and every query below runs inside it.
 */
export type TenantContext =
  | { readonly role: 'staff'; readonly tenantId: TenantId }
  | { readonly role: 'worker'; readonly tenantId: TenantId }
  | { readonly role: 'account'; readonly tenantId: TenantId; readonly accountId: AccountId }
  | {
      readonly role: 'vehicle_owner';
      readonly tenantId: TenantId;
      readonly workOrderId: WorkOrderId;
      /** Of the link that the owner came by; without one they only read. */
      readonly secretHash?: string;
    }
  /** Somebody with a link, of which only the digest of its secret is known yet: reads that one row. */
  | { readonly role: 'link'; readonly tenantId: TenantId; readonly secretHash: string };

type Queries = Pick<
  PostgresJsDatabase<Record<string, never>>,
  'select' | 'selectDistinct' | 'selectDistinctOn' | 'insert' | 'update' | 'delete' | 'execute'
>;
declare const brand: unique symbol;
/** Queries inside one tenant's transaction. Only `withTenant` makes one. */
export interface TenantTransaction extends Queries {
  readonly [brand]: 'tenant';
  readonly tenantId: TenantId;
}
/** Queries inside a transaction on what is no tenant's: users, sessions, memberships. */
export interface RegistryTransaction extends Queries {
  readonly [brand]: 'registry';
}

export interface Database {
  /**
   * The only road to a tenant's rows. Runs `work` in one transaction under the context's role; a problem as
   * the answer rolls everything back, as a throw does. Never wait for network or disk inside.
   */
  withTenant<T>(
    context: TenantContext,
    work: (tx: TenantTransaction) => Promise<Result<T>>,
  ): Promise<Result<T>>;
  /** As `withTenant`, for the schema `registry` and its role. */
  withRegistry<T>(work: (tx: RegistryTransaction) => Promise<Result<T>>): Promise<Result<T>>;
  /** Tells when a work order has something new; what it is, is read through `withTenant`. */
  readonly news: NewsBoard;
  close(): Promise<void>;
}

/** Opens the pools of the service's login, which owns nothing and is nobody until a transaction says who. */
export function openDatabase(loginUrl: string, connections = 10): Database {
  // A pool that mixes plain queries with transactions can hand a transaction's connection out: one pool, one use.
  const tenants = pool(loginUrl, connections);
  const registry = pool(loginUrl, Math.max(2, Math.floor(connections / 3)));
  const tenantDb = drizzle(tenants);
  const registryDb = drizzle(registry);
  const news = openNewsBoard(loginUrl);
  return {
    news,
    withTenant: (context, work) =>
      settle((committing) =>
        tenantDb.transaction(async (tx) => {
          await enter(tx, `grainwright_${context.role}`, context);
          const scoped = Object.assign(tx, { tenantId: context.tenantId }) as unknown as TenantTransaction;
          return committing(rollBackUnlessOk(await work(scoped)));
        }),
      ),
    withRegistry: (work) =>
      settle((committing) =>
        registryDb.transaction(async (tx) => {
          await enter(tx, 'grainwright_registry', null);
          return committing(rollBackUnlessOk(await work(tx as unknown as RegistryTransaction)));
        }),
      ),
    async close() {
      await Promise.all([tenants.end({ timeout: 5 }), registry.end({ timeout: 5 }), news.close()]);
    },
  };
}

function pool(url: string, max: number) {
  const opened = postgres(url, {
    max,
    idle_timeout: 60,
    connect_timeout: 10,
    onnotice: () => {},
    connection: { TimeZone: 'UTC', application_name: 'grainwright', statement_timeout: 30_000 },
  });
  const begin: typeof opened.begin = opened.begin.bind(opened);
  return Object.assign(opened, {
    begin: <T>(work: (tx: postgres.TransactionSql) => Promise<T>) => begin((tx) => work(preparing(tx))),
  });
}

/**
 * The query builder sends every query as one never seen before: parsed, described and planned anew, over two round
 * trips. Named, it costs that once a connection; Postgres itself plans again for another role, by row-level security.
 */
function preparing(tx: postgres.TransactionSql): postgres.TransactionSql {
  const { unsafe } = tx;
  const prepared: typeof unsafe = (query, parameters, options) =>
    unsafe(query, parameters, { ...options, prepare: true });
  return Object.assign(tx, { unsafe: prepared });
}

async function enter(tx: Queries, role: string, context: TenantContext | null): Promise<void> {
  const accountId = context?.role === 'account' ? context.accountId : '';
  const workOrderId = context?.role === 'vehicle_owner' ? context.workOrderId : '';
  const linkHash = context !== null && 'secretHash' in context ? (context.secretHash ?? '') : '';
  const [found] = await tx.execute<{ role_before: string; tenant_before: string | null }>(sql`
    select current_setting('role') as role_before, current_setting('app.tenant_id', true) as tenant_before,
      set_config('role', ${role}, true), set_config('app.tenant_id', ${context?.tenantId ?? ''}, true),
      set_config('app.account_id', ${accountId}, true), set_config('app.work_order_id', ${workOrderId}, true),
      set_config('app.link_hash', ${linkHash}, true)`);
  if (found?.role_before !== 'none' || (found.tenant_before ?? '') !== '')
    throw new Error('a connection came from the pool with a context still set');
}

class RolledBack extends Error {
  readonly answer: { readonly ok: false; readonly problem: Extract<Result<never>, { ok: false }>['problem'] };
  constructor(answer: RolledBack['answer']) {
    super(answer.problem.code);
    this.answer = answer;
  }
}

function rollBackUnlessOk<T>(answer: Result<T>): Result<T> {
  if (!answer.ok) throw new RolledBack(answer);
  return answer;
}

/**
 * Turns a rolled-back answer into a value again; a database that can't be reached into a problem. Lost after COMMIT
 * was sent, the connection has taken the answer with it, and nobody knows whether the rows are there.
 */
async function settle<T>(
  run: (committing: (answer: Result<T>) => Result<T>) => Promise<Result<T>>,
): Promise<Result<T>> {
  let commitSent = false;
  try {
    return await run((answer) => {
      commitSent = true;
      return answer;
    });
  } catch (error) {
    if (error instanceof RolledBack) return error.answer;
    if (!isUnreachable(error)) throw error;
    return refuse('unavailable', commitSent ? brokenOff : unreachable);
  }
}

const brokenOff =
  'The connection to the database broke off. It is not known whether this was saved. Send the same form again: it will not be done twice.';
// An operation may have had a transaction before this one, so not even this says that nothing was saved.
const unreachable =
  'The database can’t be reached. Send the same again in a moment: it will not be done twice.';

function isUnreachable(error: unknown): boolean {
  const cause = error instanceof Error && error.cause !== undefined ? error.cause : error;
  const code = cause !== null && typeof cause === 'object' && 'code' in cause ? String(cause.code) : '';
  return [
    'ECONNREFUSED',
    'ECONNRESET',
    'CONNECTION_CLOSED',
    'CONNECTION_ENDED',
    'CONNECTION_DESTROYED',
    'CONNECT_TIMEOUT',
    '57P01',
    '57P03',
  ].includes(code);
}
