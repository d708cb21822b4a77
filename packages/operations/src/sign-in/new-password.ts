import { passwordFits, passwordWeakness } from '@grainwright/auth';
import { type RegistryTransaction, removeSessionsOf, replacePassword } from '@grainwright/db';
import { ok, type Result, refuse, type UserId } from '@grainwright/domain';

/** Whether somebody may have it for their new password, beside the hash of the one they have. */
export async function checkNewPassword(password: string, hashBefore: string): Promise<Result<void>> {
  const weakness = passwordWeakness(password);
  if (weakness !== null) return refuse('invalid_input', weakness, 'new_password');
  return (await passwordFits(password, hashBefore))
    ? refuse(
        'invalid_input',
        'This is the password you have. Choose another, which nobody else knows.',
        'new_password',
      )
    : ok(undefined);
}

/** Replaces the password and ends every session of the user. */
export async function replacePasswordIn(
  tx: RegistryTransaction,
  userId: UserId,
  password: { readonly before: string; readonly after: string },
): Promise<Result<void>> {
  if (!(await replacePassword(tx, userId, password))) return endedSession;
  await removeSessionsOf(tx, userId);
  return ok(undefined);
}

export const endedSession = refuse(
  'not_signed_in',
  'This session has ended, or the password was changed meanwhile. Sign in again.',
);
