import type { Session } from '@grainwright/auth';
import { findMembership, listMemberships, type NamedMembership } from '@grainwright/db';
import { type MembershipId, ok, type Result, refuse } from '@grainwright/domain';
import type { SignedInActor } from '../perform.ts';
import type { Services } from '../services.ts';

export interface SignedInPerson {
  readonly session: Session;
  /** Null until one of several memberships is chosen. */
  readonly actor: SignedInActor | null;
}

/** Who holds this session id; null when it is unknown or over. */
export async function readSession(
  services: Services,
  sessionId: string,
  fromAddress: string,
): Promise<Result<SignedInPerson | null>> {
  const session = await services.sessions.find(sessionId, services.now());
  if (session === null) return ok(null);
  if (session.membershipId === null) return ok({ session, actor: null });
  const { membershipId } = session;
  const membership = await services.database.withRegistry(async (tx) =>
    ok(await findMembership(tx, membershipId)),
  );
  if (!membership.ok) return membership;
  return ok(membership.value === null ? null : { session, actor: { ...membership.value, fromAddress } });
}

/** The memberships somebody signed in can choose from. */
export async function listOwnMemberships(
  services: Services,
  session: Session,
): Promise<Result<readonly NamedMembership[]>> {
  return services.database.withRegistry(async (tx) => ok(await listMemberships(tx, session.userId)));
}

/** Takes one of several memberships. The session goes on under a new id. */
export async function chooseMembership(
  services: Services,
  session: Session,
  membershipId: MembershipId,
): Promise<Result<Session>> {
  const memberships = await listOwnMemberships(services, session);
  if (!memberships.ok) return memberships;
  if (!memberships.value.some((membership) => membership.id === membershipId))
    return refuse('not_found', 'You have no such membership. Choose one from the list.', 'membership_id');
  const chosen = await services.sessions.replace(session, membershipId);
  return chosen === null ? refuse('not_signed_in', 'This session has ended. Sign in again.') : ok(chosen);
}

export async function signOut(services: Services, sessionId: string): Promise<void> {
  await services.sessions.end(sessionId);
}
