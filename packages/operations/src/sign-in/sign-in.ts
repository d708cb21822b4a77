import { passwordFits, type Session } from '@grainwright/auth';
import { findPasswordHash, findUserByEmail, listMemberships, type NamedMembership } from '@grainwright/db';
import { type MembershipId, ok, type Result, refuse } from '@grainwright/domain';
import type { Services } from '../services.ts';
import { attemptWasRight, attemptWasWrong, takeAttempt } from './password-attempts.ts';

export interface SignInInput {
  readonly email: string;
  readonly password: string;
  /** Which of several memberships; left out, the only one is taken. */
  readonly membershipId?: MembershipId | undefined;
  readonly fromAddress: string;
}

export interface SignedIn {
  readonly session: Session;
  /** All of the user's memberships; when there are several and none was chosen, the session has none yet. */
  readonly memberships: readonly NamedMembership[];
}

/**
 * Signs somebody in by e-mail and password. After ten failures in a quarter of an hour for one e-mail and address, or
 * a hundred from one address, they have to wait.
 */
export async function signIn(services: Services, input: SignInInput): Promise<Result<SignedIn>> {
  const attempt = { who: input.email, fromAddress: input.fromAddress };
  const allowed = await takeAttempt(services, attempt);
  if (!allowed.ok) return allowed;
  const found = await services.database.withRegistry(async (tx) =>
    ok(await findUserByEmail(tx, input.email)),
  );
  if (!found.ok) return found;
  const user = found.value;
  const fits = await passwordFits(input.password, user?.passwordHash ?? null);
  if (!fits || user === null) {
    const noted = await attemptWasWrong(services);
    return noted.ok ? wrong : noted;
  }
  const right = await attemptWasRight(services, attempt);
  if (!right.ok) return right;
  const memberships = await services.database.withRegistry(async (tx) =>
    ok(await listMemberships(tx, user.id)),
  );
  if (!memberships.ok) return memberships;
  const chosen =
    memberships.value.length === 1 && input.membershipId === undefined
      ? memberships.value[0]
      : memberships.value.find((membership) => membership.id === input.membershipId);
  if (input.membershipId !== undefined && chosen === undefined)
    return refuse('not_found', 'You have no such membership. Leave it out to see yours.', 'membership_id');
  const session = await services.sessions.open(user.id, chosen?.id ?? null, services.now());
  // Replaced while it was compared: who replaced it ended all sessions, and this one came after.
  const now = await services.database.withRegistry(async (tx) => ok(await findPasswordHash(tx, user.id)));
  if (now.ok && now.value === user.passwordHash) return ok({ session, memberships: memberships.value });
  await services.sessions.end(session.id);
  return now.ok ? wrong : now;
}

const wrong = refuse('sign_in_failed', 'E-mail address and password do not fit. Check both and try again.');
