import { createHash } from 'node:crypto';
import { type Instant, instant, type MembershipId, toId, type UserId } from '@grainwright/domain';
import { type Adapter, type DatabaseSession, Lucia, TimeSpan } from 'lucia';

/** A session as it is stored: never its id, only the SHA-256 of it. */
export interface StoredSession {
  readonly idHash: string;
  readonly userId: UserId;
  readonly membershipId: MembershipId | null;
  /** Ends when unused until then; moved on while it is used. */
  readonly expiresAt: Instant;
  /** Ends at the latest then, used or not. */
  readonly endsAt: Instant;
}

/** The store that sessions need. The apps wire it to the database. */
export interface SessionStore {
  find(idHash: string): Promise<StoredSession | null>;
  listOfUser(userId: UserId): Promise<readonly StoredSession[]>;
  insert(session: StoredSession): Promise<void>;
  extend(idHash: string, expiresAt: Instant): Promise<void>;
  /** False when it was gone already. */
  remove(idHash: string): Promise<boolean>;
  removeOfUser(userId: UserId): Promise<void>;
  /** Some of those that expired by then. */
  removeExpired(by: Instant): Promise<void>;
}

export interface Session {
  /** The secret that the browser or API client holds. */
  readonly id: string;
  readonly userId: UserId;
  readonly membershipId: MembershipId | null;
  /** Ends at the latest then, used or not. */
  readonly endsAt: Instant;
}

export interface Sessions {
  /** Opens a session under a new id, after a password was given. */
  open(userId: UserId, membershipId: MembershipId | null, now: Instant): Promise<Session>;
  find(id: string, now: Instant): Promise<Session | null>;
  /** The session goes on under a new id, for that membership, until its old end; null when it has ended meanwhile. */
  replace(session: Session, membershipId: MembershipId | null): Promise<Session | null>;
  end(id: string): Promise<void>;
}

declare module 'lucia' {
  interface Register {
    Lucia: Lucia<SessionAttributes>;
    DatabaseSessionAttributes: SessionAttributes;
    UserId: string;
  }
}
interface SessionAttributes {
  membershipId: MembershipId | null;
  endsAt: Instant;
}

const unusedFor = new TimeSpan(14, 'd');
const longestDays = 60;

/** Sessions by the lucia library, over a store that holds hashes only. */
export function openSessions(store: SessionStore): Sessions {
  const lucia = new Lucia<SessionAttributes>(hashingAdapter(store), {
    sessionExpiresIn: unusedFor,
    getSessionAttributes: ({ membershipId, endsAt }) => ({ membershipId, endsAt }),
  });
  const open = async ({ userId, membershipId, endsAt }: Omit<Session, 'id'>): Promise<Session> => {
    const { id } = await lucia.createSession(userId, { membershipId, endsAt });
    // What nobody ended is cleared away bit by bit, by whoever comes.
    await lucia.deleteExpiredSessions();
    return { id, userId, membershipId, endsAt };
  };
  return {
    open: (userId, membershipId, now) =>
      open({
        userId,
        membershipId,
        endsAt: instant(new Date(Date.parse(now) + longestDays * 86_400_000)),
      }),
    async replace(session, membershipId) {
      const next = await open({ ...session, membershipId });
      // The new one first: whoever ends all sessions in between ends both, and then the old one is missed here.
      if (await store.remove(hashSessionId(session.id))) return next;
      await lucia.invalidateSession(next.id);
      return null;
    },
    async find(id, now) {
      if (!/^[a-z0-9]{40}$/.test(id)) return null;
      const { session } = await lucia.validateSession(id);
      if (session === null) return null;
      if (session.endsAt <= now) {
        await lucia.invalidateSession(id);
        return null;
      }
      const { userId, membershipId, endsAt } = session;
      return { id, userId: toId<UserId>(userId), membershipId, endsAt };
    },
    end: (id) => lucia.invalidateSession(id),
  };
}

export function hashSessionId(id: string): string {
  return createHash('sha256').update(id).digest('hex');
}

/** Lucia hands ids over in the clear and wants them back in the clear; only their hash goes further. */
function hashingAdapter(store: SessionStore): Adapter {
  return {
    async getSessionAndUser(id) {
      const found = await store.find(hashSessionId(id));
      return found === null ? [null, null] : [asLucia(found, id), { id: found.userId, attributes: {} }];
    },
    async getUserSessions(userId) {
      return (await store.listOfUser(toId<UserId>(userId))).map((session) =>
        asLucia(session, session.idHash),
      );
    },
    setSession: (session) =>
      store.insert({
        idHash: hashSessionId(session.id),
        userId: toId<UserId>(session.userId),
        membershipId: session.attributes.membershipId,
        expiresAt: instant(session.expiresAt),
        endsAt: session.attributes.endsAt,
      }),
    updateSessionExpiration: (id, expiresAt) => store.extend(hashSessionId(id), instant(expiresAt)),
    async deleteSession(id) {
      await store.remove(hashSessionId(id));
    },
    deleteUserSessions: (userId) => store.removeOfUser(toId<UserId>(userId)),
    // By the computer's clock, as lucia sets and reads the time of expiry.
    deleteExpiredSessions: () => store.removeExpired(instant(new Date())),
  };
}

function asLucia(session: StoredSession, id: string): DatabaseSession {
  return {
    id,
    userId: session.userId,
    expiresAt: new Date(session.expiresAt),
    attributes: { membershipId: session.membershipId, endsAt: session.endsAt },
  };
}
