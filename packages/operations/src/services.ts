import type { Sessions } from '@grainwright/auth';
import type { Database } from '@grainwright/db';
import type { Instant } from '@grainwright/domain';
import type { ObjectStore } from '@grainwright/evidence';

/** What operations work with. The clock is passed in, so that a demo or a test can say what time it is. */
export interface Services {
  readonly database: Database;
  readonly sessions: Sessions;
  readonly objects: ObjectStore;
  readonly now: () => Instant;
  readonly newId: () => string;
}
