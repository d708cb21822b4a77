import type { KeptAction } from './action.ts';
import { isOpen } from './needs.ts';

export interface Looked {
  /** Of the page that is looked at. */
  readonly path: string;
  /** What this phone had kept when the page was shown. */
  readonly before: readonly KeptAction[];
  readonly now: readonly KeptAction[];
  /** Of what waits now, that which somebody has to decide about first. */
  readonly held: readonly KeptAction[];
}

/**
 * Whether the service’s page now says more than the one that is looked at: today’s, or a work order’s, once all of it that
 * can go out has come through. Other pages are filled in, and stay as they are.
 */
export function isOutOfDate({ path, before, now, held }: Looked): boolean {
  const order = /^\/field\/work-orders\/([0-9a-f-]{36})\/?$/.exec(path)?.[1];
  if (order === undefined && !/^\/field\/?$/.test(path)) return false;
  const own = now.filter(({ action }) => order === undefined || action.workOrderId === order);
  const cameThrough = own.some(
    ({ action, state }) => state === 'sent' && !before.some((each) => isSent(each, action.id)),
  );
  const isLeft = own.some((kept) =>
    order === undefined ? kept.state === 'waiting' && !held.includes(kept) : isOpen(kept),
  );
  return cameThrough && !isLeft;
}

function isSent({ action, state }: KeptAction, id: string): boolean {
  return state === 'sent' && action.id === id;
}
