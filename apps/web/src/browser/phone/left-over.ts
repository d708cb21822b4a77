/** A recording whose parts are kept on the phone, while it is not yet an action to be sent: so that it outlives the app. */
export interface LeftOver {
  readonly id: string;
  readonly workOrderId: string;
  readonly startedAt: string;
  /** Null where nobody counted: a file that was chosen. */
  readonly seconds: number | null;
  /** A picture of it as base64; null before there is one. */
  readonly poster: string | null;
}

export function isLeftOver(read: unknown): read is LeftOver {
  if (typeof read !== 'object' || read === null) return false;
  return (
    'id' in read && 'workOrderId' in read && 'startedAt' in read && 'seconds' in read && 'poster' in read
  );
}
