import type { TenantId, WorkOrderId } from '@grainwright/domain';
import pg from 'pg';

/** Called with the work order that has something new; with null where something may have been missed. */
export type OnNews = (workOrderId: WorkOrderId | null) => void;

/** What is new on work orders, as the database tells it when a transaction commits. */
export interface NewsBoard {
  /** Until the function that it answers is called. The first one opens the connection, which then stays. */
  subscribe(tenantId: TenantId, onNews: OnNews): () => void;
}

const channel = 'grainwright_news';
const pausesInMilliseconds = [200, 500, 1000, 2000, 5000] as const;

/**
 * Listens on one connection of its own, which is nobody and reads nothing: a message says only which business and which
 * work order. A lost connection is opened again, and whoever listens is told that something may have been missed.
 */
export function openNewsBoard(loginUrl: string): NewsBoard & { close(): Promise<void> } {
  const listeners = new Map<TenantId, Set<OnNews>>();
  let client: pg.Client | null = null;
  let pause: NodeJS.Timeout | null = null;
  let failures = 0;
  let closed = false;

  const tellAll = (): void => {
    for (const ofTenant of listeners.values()) for (const onNews of ofTenant) onNews(null);
  };

  const tryAgainLater = (): void => {
    client = null;
    if (closed || pause !== null) return;
    const milliseconds = pausesInMilliseconds[Math.min(failures, pausesInMilliseconds.length - 1)];
    failures += 1;
    pause = setTimeout(() => {
      pause = null;
      void connect();
    }, milliseconds);
    pause.unref();
  };

  const connect = async (): Promise<void> => {
    const opened = new pg.Client({
      connectionString: loginUrl,
      application_name: 'grainwright news',
      connectionTimeoutMillis: 10_000,
      keepAlive: true,
    });
    client = opened;
    opened.on('notification', ({ payload }) => tell(listeners, payload ?? ''));
    // A connection that breaks off says both.
    opened.on('error', () => undefined);
    opened.on('end', () => {
      if (client === opened) tryAgainLater();
    });
    try {
      await opened.connect();
      await opened.query(`listen ${channel}`);
      failures = 0;
      tellAll();
    } catch {
      if (client === opened) tryAgainLater();
      await opened.end().catch(() => undefined);
    }
  };

  return {
    subscribe(tenantId, onNews) {
      const ofTenant = listeners.get(tenantId) ?? new Set();
      listeners.set(tenantId, ofTenant.add(onNews));
      if (client === null && pause === null && !closed) void connect();
      return () => {
        ofTenant.delete(onNews);
        if (ofTenant.size === 0 && listeners.get(tenantId) === ofTenant) listeners.delete(tenantId);
      };
    },
    async close() {
      closed = true;
      if (pause !== null) clearTimeout(pause);
      const last = client;
      client = null;
      await last?.end().catch(() => undefined);
    },
  };
}

function tell(listeners: ReadonlyMap<TenantId, ReadonlySet<OnNews>>, payload: string): void {
  const [tenantId, workOrderId] = payload.split(' ');
  // The database's own trigger wrote both.
  for (const onNews of listeners.get(tenantId as TenantId) ?? []) onNews(workOrderId as WorkOrderId);
}
