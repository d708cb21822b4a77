import { hashJoinCode, hashPassword, type Session } from '@grainwright/auth';
import { findPasswordHash, findPendingMembership, joinMembership } from '@grainwright/db';
import { ok, type Result, refuse } from '@grainwright/domain';
import type { Services } from '../services.ts';
import { checkNewPassword, endedSession, replacePasswordIn } from './new-password.ts';

export interface JoinBusinessInput {
  /** Handed over by the business that added this person. */
  readonly code: string;
  /** Not the one they have: whoever gave them that one may know it. */
  readonly newPassword: string;
}

/**
 * Takes up a pending membership with its one-time code. The password is replaced and every session of the user ends,
 * so that whoever else knew the old one is out; this session goes on under a new id, for the business joined.
 */
export async function joinBusiness(
  services: Services,
  session: Session,
  input: JoinBusinessInput,
): Promise<Result<Session>> {
  const codeHash = hashJoinCode(input.code);
  const found = await services.database.withRegistry(async (tx) => {
    const before = await findPasswordHash(tx, session.userId);
    if (before === null) return endedSession;
    return (await findPendingMembership(tx, session.userId, codeHash)) === null ? wrongCode : ok(before);
  });
  if (!found.ok) return found;
  const before = found.value;
  const fine = await checkNewPassword(input.newPassword, before);
  if (!fine.ok) return fine;
  const after = await hashPassword(input.newPassword);
  const joined = await services.database.withRegistry(async (tx) => {
    const replaced = await replacePasswordIn(tx, session.userId, { before, after });
    if (!replaced.ok) return replaced;
    const membershipId = await joinMembership(tx, session.userId, codeHash);
    return membershipId === null ? wrongCode : ok(membershipId);
  });
  return joined.ok ? ok(await services.sessions.open(session.userId, joined.value, services.now())) : joined;
}

const wrongCode = refuse(
  'invalid_input',
  'This code is not one for you, or it was used already. Check it, or ask the business for a new one.',
  'code',
);
