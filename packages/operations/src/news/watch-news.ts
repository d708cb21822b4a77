import type { Problem, Result, TenantId } from '@grainwright/domain';
import type { Actor } from '../perform.ts';
import type { Services } from '../services.ts';
import { listNews, type NewsView } from './list-news.ts';

export interface NewsToWatch {
  readonly tenantId: TenantId;
  /** Who watches, asked anew each time: somebody who has signed out or left hears nothing more. */
  readonly actor: () => Promise<Result<Actor>>;
  /** What was seen last: a moment as text. Left out: from now on. */
  readonly since?: string | undefined;
  /** Each piece of news once. */
  readonly tell: (news: NewsView) => void;
  /** The actor has no right to more; nothing is told any more. */
  readonly over: (problem: Problem) => void;
  /** Something broke; nothing is told any more. */
  readonly failed: (error: unknown) => void;
}

export interface NewsWatch {
  /** Looks whether anything is new, and whether the actor may still know. */
  look(): void;
  stop(): void;
}

/**
 * Tells somebody what is new as it happens, until it is stopped. That something happened is heard from the database;
 * what it was is read as the actor.
 */
export function watchNews(services: Services, watch: NewsToWatch): NewsWatch {
  const told = new Set<string>();
  let since = watch.since ?? services.now();
  let reading = false;
  let again = false;
  let stopped = false;

  const read = async (): Promise<Problem | null> => {
    const actor = await watch.actor();
    if (!actor.ok) return actor.problem;
    const listed = await listNews(services, actor.value, { since });
    if (!listed.ok) return listed.problem;
    if (stopped) return null;
    for (const news of listed.value.news) {
      if (told.has(news.id)) continue;
      told.add(news.id);
      watch.tell(news);
    }
    since = listed.value.until;
    return null;
  };
  const readAll = async (): Promise<void> => {
    again = true;
    if (reading) return;
    reading = true;
    while (again && !stopped) {
      again = false;
      const problem = await read();
      // Of a database that is away for a moment one hears when it is back.
      if (problem === null || problem.code === 'unavailable' || stopped) continue;
      stop();
      watch.over(problem);
    }
    reading = false;
  };
  const look = (): void => {
    readAll().catch((error: unknown) => {
      stop();
      watch.failed(error);
    });
  };
  const unsubscribe = services.database.news.subscribe(watch.tenantId, look);
  const stop = (): void => {
    stopped = true;
    unsubscribe();
  };
  // Whatever came before the connection listened.
  look();
  return { look, stop };
}
