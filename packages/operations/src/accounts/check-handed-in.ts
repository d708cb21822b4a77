import {
  type FoundHandedIn,
  findHandedIn,
  insertCertificate,
  insertCertificateCheck,
  lockAccount,
} from '@grainwright/db';
import { type CertificateId, type HandedInId, ok, type Result, refuse, toId } from '@grainwright/domain';
import { type Actor, performAsStaff, record, type Scope } from '../perform.ts';
import { readOptionalWords } from '../read-input.ts';
import type { Services } from '../services.ts';
import { type HandedInView, handedInView } from './handed-in-view.ts';

export interface CheckHandedInInput {
  readonly id: HandedInId;
  readonly answer: 'confirmed' | 'not_taken';
  /** Why it is not taken, and what to do; the account reads it. */
  readonly reason: string;
}

/**
 * The business says whether it takes a certificate that an account handed in. Confirmed, it is filed as handed in, and
 * counts by the date of work from then on. Said once: the same answer again changes nothing. Refuses with
 * `already_decided`, `invalid_input`.
 */
export function checkHandedIn(
  services: Services,
  actor: Actor,
  input: CheckHandedInInput,
): Promise<Result<HandedInView>> {
  return performAsStaff(services, actor, 'change_accounts', async (scope) => {
    const { tx } = scope;
    const { answer } = input;
    const named = await findHandedIn(tx, input.id);
    if (named === null) return refuse('not_found', 'There is no such certificate.');
    const reason = readOptionalWords(input.reason, 'reason', 'why not', 500);
    if (!reason.ok) return reason;
    if (answer === 'not_taken' && reason.value === '')
      return refuse('invalid_input', 'Write why it is not taken; the account reads it.', 'reason');
    await lockAccount(tx, named.accountId);
    const handedIn = await findHandedIn(tx, input.id);
    if (handedIn === null) throw new Error('what was handed in is gone');
    if (handedIn.check !== null)
      return handedIn.check.answer === answer ? ok(handedInView(handedIn)) : alreadyChecked(handedIn);
    await writeCheck(scope, handedIn, { answer, reason: answer === 'confirmed' ? '' : reason.value });
    const checked = await findHandedIn(tx, input.id);
    if (checked === null) throw new Error('what was checked is gone');
    return ok(handedInView(checked));
  });
}

async function writeCheck(
  scope: Scope,
  { id, accountId, kind, number, validFrom, validTo }: FoundHandedIn,
  said: { readonly answer: 'confirmed' | 'not_taken'; readonly reason: string },
): Promise<void> {
  const { tx, actor, now } = scope;
  const certificateId = said.answer === 'confirmed' ? toId<CertificateId>(scope.newId()) : null;
  if (
    certificateId !== null &&
    !(await insertCertificate(tx, { id: certificateId, accountId, kind, number, validFrom, validTo }))
  )
    throw new Error('a new id is taken');
  const check = {
    handedInId: id,
    accountId,
    ...said,
    certificateId,
    checkedBy: actor.personId,
    checkedAt: now,
  };
  if (!(await insertCertificateCheck(tx, check))) throw new Error('a locked account was checked twice');
  await record(
    scope,
    said.answer === 'confirmed' ? 'certificate_confirmed' : 'certificate_not_taken',
    { kind: 'account', id: accountId },
    { handed_in: id, certificate: certificateId, number, reason: said.reason },
  );
}

function alreadyChecked({ check }: FoundHandedIn) {
  const words = check?.answer === 'confirmed' ? 'confirmed' : 'did not take';
  return refuse(
    'already_decided',
    `${check?.checkedByName ?? 'Somebody'} ${words} it already. Open the account to see.`,
  );
}
