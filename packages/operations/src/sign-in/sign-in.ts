import { createHash } from 'node:crypto';
import { passwordFits, type Session } from '@grainwright/auth';
import {
  addSignInFailure,
  countSignInFailures,
  findUserByEmail,
  forgetSignInFailures,
  listMemberships,
  type NamedMembership,
} from '@grainwright/db';
import { instant, type MembershipId, ok, type Result, refuse } from '@grainwright/domain';
import type { Services } from '../services.ts';

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

const failuresAllowed = 10;
const windowMinutes = 15;

/** Signs somebody in by e-mail and password. After ten failures in a quarter of an hour the address has to wait. */
export async function signIn(services: Services, input: SignInInput): Promise<Result<SignedIn>> {
  const now = services.now();
  const key = createHash('sha256')
    .update(`${input.fromAddress}\n${input.email.trim().toLowerCase()}`)
    .digest('hex');
  const found = await services.database.withRegistry(async (tx) =>
    ok({ failures: await countSignInFailures(tx, key, now), user: await findUserByEmail(tx, input.email) }),
  );
  if (!found.ok) return found;
  if (found.value.failures >= failuresAllowed)
    return refuse('too_many_attempts', `Too many attempts. Wait ${windowMinutes} minutes, then try again.`);
  const fits = await passwordFits(input.password, found.value.user?.passwordHash ?? null);
  const user = found.value.user;
  if (!fits || user === null) {
    const windowEndsAt = instant(new Date(Date.parse(now) + windowMinutes * 60_000));
    const noted = await services.database.withRegistry(async (tx) =>
      ok(await addSignInFailure(tx, key, now, windowEndsAt)),
    );
    return noted.ok
      ? refuse('sign_in_failed', 'E-mail address and password do not fit. Check both and try again.')
      : noted;
  }
  const memberships = await services.database.withRegistry(async (tx) => {
    await forgetSignInFailures(tx, key);
    return ok(await listMemberships(tx, user.id));
  });
  if (!memberships.ok) return memberships;
  const chosen =
    memberships.value.length === 1 && input.membershipId === undefined
      ? memberships.value[0]
      : memberships.value.find((membership) => membership.id === input.membershipId);
  if (input.membershipId !== undefined && chosen === undefined)
    return refuse('not_found', 'You have no such membership. Leave it out to see yours.', 'membership_id');
  const session = await services.sessions.open(user.id, chosen?.id ?? null, now);
  return ok({ session, memberships: memberships.value });
}
