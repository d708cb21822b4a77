import type { Sessions } from '@grainwright/auth';
import type { Database } from '@grainwright/db';
import type { Instant } from '@grainwright/domain';
import type { ObjectStore } from '@grainwright/evidence';

/** What mailed links are made with. */
export interface LinkSettings {
  /** 256 bits, kept outside the database. */
  readonly key: Uint8Array;
  /** Where browsers reach the service, like `https://repairs.example.com`; without a slash at its end. */
  readonly publicUrl: string;
}

/** What operations work with. The clock is passed in, so that a demo or a test can say what time it is. */
export interface Services {
  readonly database: Database;
  readonly sessions: Sessions;
  readonly objects: ObjectStore;
  readonly links: LinkSettings;
  readonly now: () => Instant;
  readonly newId: () => string;
}
