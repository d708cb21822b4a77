import { hashPassword, passwordFits, type Session } from '@grainwright/auth';
import { findPasswordHash } from '@grainwright/db';
import { ok, type Result, refuse } from '@grainwright/domain';
import type { Services } from '../services.ts';
import { checkNewPassword, endedSession, replacePasswordIn } from './new-password.ts';
import { attemptWasRight, attemptWasWrong, takeAttempt } from './password-attempts.ts';

export interface ChangePasswordInput {
  readonly old: string;
  readonly new: string;
  readonly fromAddress: string;
}

/**
 * Replaces somebody's own password. Every other session of theirs ends; this one goes on under a new id. Wrong old
 * passwords are counted as wrong sign-ins are.
 */
export async function changePassword(
  services: Services,
  session: Session,
  input: ChangePasswordInput,
): Promise<Result<Session>> {
  const attempt = { who: session.userId, fromAddress: input.fromAddress };
  const allowed = await takeAttempt(services, attempt);
  if (!allowed.ok) return allowed;
  const found = await services.database.withRegistry(async (tx) =>
    ok(await findPasswordHash(tx, session.userId)),
  );
  if (!found.ok) return found;
  const before = found.value;
  if (before === null) return endedSession;
  const fits = await passwordFits(input.old, before);
  const noted = await (fits ? attemptWasRight(services, attempt) : attemptWasWrong(services));
  if (!noted.ok) return noted;
  if (!fits) return refuse('invalid_input', 'This is not the password you have. Check it.', 'old_password');
  const fine = await checkNewPassword(input.new, before);
  if (!fine.ok) return fine;
  const after = await hashPassword(input.new);
  const replaced = await services.database.withRegistry((tx) =>
    replacePasswordIn(tx, session.userId, { before, after }),
  );
  return replaced.ok
    ? ok(await services.sessions.open(session.userId, session.membershipId, services.now()))
    : replaced;
}
