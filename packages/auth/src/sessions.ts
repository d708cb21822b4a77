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
  remove(idHash: string): Promise<void>;
  removeOfUser(userId: UserId): Promise<void>;
  removeExpired(): Promise<void>;
}

export interface Session {
  /** The secret that the browser or API client holds. */
  readonly id: string;
  readonly userId: UserId;
  readonly membershipId: MembershipId | null;
}

export interface Sessions {
  /** Opens a session under a new id; signing in and choosing a business never keep an old one. */
  open(userId: UserId, membershipId: MembershipId | null, now: Instant): Promise<Session>;
  find(id: string, now: Instant): Promise<Session | null>;
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
  return {
    async open(userId, membershipId, now) {
      const endsAt = instant(new Date(Date.parse(now) + longestDays * 86_400_000));
      const session = await lucia.createSession(userId, { membershipId, endsAt });
      return { id: session.id, userId, membershipId };
    },
    async find(id, now) {
      if (!/^[a-z0-9]{40}$/.test(id)) return null;
      const { session } = await lucia.validateSession(id);
      if (session === null) return null;
      if (session.endsAt <= now) {
        await lucia.invalidateSession(id);
        return null;
      }
      return { id, userId: toId<UserId>(session.userId), membershipId: session.membershipId };
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
    deleteSession: (id) => store.remove(hashSessionId(id)),
    deleteUserSessions: (userId) => store.removeOfUser(toId<UserId>(userId)),
    deleteExpiredSessions: () => store.removeExpired(),
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
