import type { PhoneOwner } from '../phone/store.ts';

/** A recording whose parts are kept on the phone, while it is not yet an action to be sent: so that it outlives the app. */
export interface LeftOver {
  readonly id: string;
  readonly workOrderId: string;
  readonly startedAt: string;
  /** Null where nobody counted. */
  seconds: number | null;
  /** A picture of it as base64; null before there is one. */
  poster: string | null;
}

export function readLeftOver(owner: PhoneOwner): LeftOver | null {
  try {
    const read: unknown = JSON.parse(localStorage.getItem(nameFor(owner)) ?? 'null');
    return isLeftOver(read) ? read : null;
  } catch {
    return null;
  }
}

export function writeLeftOver(owner: PhoneOwner, left: LeftOver | null): void {
  try {
    if (left === null) localStorage.removeItem(nameFor(owner));
    else localStorage.setItem(nameFor(owner), JSON.stringify(left));
  } catch {
    // A browser that keeps nothing loses what was being recorded when it is ended, and nothing else.
  }
}

function nameFor({ tenantId, personId }: PhoneOwner): string {
  return `grainwright-recording-${tenantId}-${personId}`;
}

function isLeftOver(read: unknown): read is LeftOver {
  if (typeof read !== 'object' || read === null) return false;
  return (
    'id' in read && 'workOrderId' in read && 'startedAt' in read && 'seconds' in read && 'poster' in read
  );
}
