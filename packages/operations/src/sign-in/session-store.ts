import type { SessionStore } from '@grainwright/auth';
import {
  type Database,
  extendSession,
  findSession,
  insertSession,
  listSessions,
  type RegistryTransaction,
  removeExpiredSessions,
  removeSession,
  removeSessionsOf,
} from '@grainwright/db';
import { ok } from '@grainwright/domain';

/** The session store that `auth` asks for, over the registry. */
export function registrySessionStore(database: Database): SessionStore {
  const run = async <T>(work: (tx: RegistryTransaction) => Promise<T>): Promise<T> => {
    const answer = await database.withRegistry(async (tx) => ok(await work(tx)));
    if (!answer.ok) throw new Error(answer.problem.detail);
    return answer.value;
  };
  return {
    find: (idHash) => run((tx) => findSession(tx, idHash)),
    listOfUser: (userId) => run((tx) => listSessions(tx, userId)),
    insert: (session) => run((tx) => insertSession(tx, session)),
    extend: (idHash, expiresAt) => run((tx) => extendSession(tx, idHash, expiresAt)),
    remove: (idHash) => run((tx) => removeSession(tx, idHash)),
    removeOfUser: (userId) => run((tx) => removeSessionsOf(tx, userId)),
    removeExpired: (by) => run((tx) => removeExpiredSessions(tx, by)),
  };
}
