import {
  type AcceptanceRow,
  enqueueJob,
  findAnswerByLink,
  findOwnLink,
  listShownPhotos,
  lockOwnersWorkOrder,
  type OwnersWorkOrder,
  type TenantTransaction,
} from '@grainwright/db';
import {
  checkAcceptanceAnswer,
  isBefore,
  ok,
  type Result,
  refuse,
  signatureContradictions,
} from '@grainwright/domain';
import { acceptedThenInvoiced } from '../billing/issue-at-once.ts';
import { isSameAnswer } from '../evidence/accept-work.ts';
import { readAcceptanceToShow } from '../evidence/acceptance-to-show.ts';
import { type KeptSignature, keepSignature } from '../evidence/keep-signature.ts';
import { readSignerContact } from '../evidence/signer-contact.ts';
import {
  type AcceptedWork,
  type AnswerToTake,
  acceptanceRow,
  accepted,
  type FittingAnswer,
  writeAnswer,
} from '../evidence/take-answer.ts';
import { linkExpired, linkRevoked } from '../links/open-link.ts';
import type { Services } from '../services.ts';
import { type OwnerFacts, type OwnersLinkOpened, ownerFacts } from './owner-facts.ts';
import { asOwner } from './show-to-owner.ts';

/** Whom the answer is of follows from the account's terms. */
export type AnswerByLinkInput = Omit<
  AnswerToTake,
  'workOrderId' | 'signerRole' | 'overrideReason' | 'signerPhone' | 'copy'
>;

/**
 * Writes down what the vehicle's owner answered by a link, under the same rules as beside the vehicle and with nobody of
 * the business there. One transaction in the owner's role keeps the answer and ends the work; what follows from it comes
 * after, and can't lose it. Sent again it is the same answer. Refuses with `already_decided` a second one,
 * `already_accepted`, `wrong_state`, `shown_changed`, `signature_missing`, `contradiction`, `invalid_input`,
 * `link_revoked` or `link_expired`.
 */
export async function answerByLink(
  services: Services,
  link: OwnersLinkOpened,
  input: AnswerByLinkInput,
): Promise<Result<AcceptedWork>> {
  const { tenantId, workOrderId } = link;
  const found = await ownerFacts(services, link);
  if (!found.ok) return found;
  const facts = found.value;
  // Without another address the copy goes where the link went.
  const signerEmail = input.signerEmail?.trim() || facts.request.email;
  const reached = { signerEmail, signerPhone: facts.request.phone };
  const answer = { ...input, ...reached, workOrderId, signerRole: facts.signer, overrideReason: '' };
  const picture = await keepSignature(services, tenantId, input.mark);
  const answered = await services.database.withTenant(asOwner(link), (tx) =>
    take(services, tx, { link, facts, answer, picture }),
  );
  // By the account's rule, in the name of whoever sent the link: a vehicle's owner issues nothing.
  const sender = { tenantId, personId: facts.request.madeBy, accountId: null, fromAddress: '' };
  return acceptedThenInvoiced(services, sender, workOrderId, answered);
}

interface Taking {
  readonly link: OwnersLinkOpened;
  readonly facts: OwnerFacts;
  readonly answer: AnswerToTake;
  readonly picture: KeptSignature;
}

async function take(
  { now, newId }: Services,
  tx: TenantTransaction,
  taking: Taking,
): Promise<Result<AcceptedWork>> {
  const { link, answer } = taking;
  const locked = await lockOwnersWorkOrder(tx, link.workOrderId);
  if (locked === null) return refuse('not_found', 'There is no such work order.');
  const earlier = await findAnswerByLink(tx, link.id);
  if (earlier !== null) return sameAgain(earlier, answer, locked);
  const at = now();
  const held = await findOwnLink(tx, link.id);
  if (held === null || held.revokedAt !== null) return linkRevoked;
  if (!isBefore(at, held.expiresAt)) return linkExpired;
  const fitting = await fit(tx, taking, locked, at);
  if (!fitting.ok) return fitting;
  const { fromAddress, id: linkId } = link;
  const actor = { personId: null, accountId: null, fromAddress, linkId };
  const written = await writeAnswer({ tx, now: at, newId, actor }, fitting.value, null);
  if (written.ok) await enqueueJob(tx, 'mail_acceptance', answer.acceptanceId);
  return written;
}

/** As beside the vehicle, but that nobody is there to say why a signature stands all the same. */
async function fit(
  tx: TenantTransaction,
  { link, facts, answer, picture }: Taking,
  locked: OwnersWorkOrder,
  at: ReturnType<Services['now']>,
): Promise<Result<FittingAnswer>> {
  const { from, rule, request, payerNames, payerOwnsVehicle } = facts;
  if (!from.ok) return from;
  if (locked.state !== 'done')
    return refuse(
      'wrong_state',
      'This work was taken up again. Whoever sent you the link will ask you anew.',
    );
  const shown = await readAcceptanceToShow(tx, from.value);
  if (!shown.ok) return shown;
  if (shown.value.digest !== answer.shownDigest)
    return refuse(
      'shown_changed',
      'The work or its pictures have changed while you looked. Look at them again, and then answer.',
      'shown_digest',
    );
  const checked = checkAcceptanceAnswer(answer, rule);
  if (!checked.ok) return checked;
  const contact = readSignerContact(answer);
  if (!contact.ok) return contact;
  const photos = await listShownPhotos(tx, link.workOrderId);
  const [contradiction] = signatureContradictions({
    signedAt: at,
    signerRole: answer.signerRole,
    signerName: checked.value.signerName,
    payerNames,
    payerOwnsVehicle,
    lastAfterPhotoAt: photos.filter(({ purpose }) => purpose === 'after').at(-1)?.receivedAt ?? null,
  });
  if (contradiction !== undefined)
    return refuse(
      'contradiction',
      `${contradiction.sentence} Here only the vehicle’s owner signs. If that is you, call the repair business: they take your answer beside the vehicle.`,
      'signer_name',
    );
  const taken = {
    identifiedBy: knownBy(request),
    takenBy: null,
    linkId: link.id,
    fromAddress: link.fromAddress,
    ...contact.value,
  };
  return ok({
    work: { workOrder: { ...locked, reworkOfId: facts.reworkOfId }, account: { acceptanceRule: rule } },
    shown: shown.value.shown,
    row: acceptanceRow({ input: answer, answered: checked.value, shown: shown.value, at, taken, picture }),
    overrides: [],
    momentNotTaken: null,
  });
}

/** Mail goes out by itself; whether a link was passed on to a telephone nobody here knows. */
function knownBy({ phone, email, madeByName }: OwnerFacts['request']): string {
  const ways = [
    email === '' ? [] : `mailed to ${email}`,
    phone === '' ? [] : `given to ${madeByName ?? 'the staff'} to pass on to ${phone}`,
  ];
  return `link ${ways.flat().join(', ')}`;
}

function sameAgain(
  stored: AcceptanceRow,
  answer: AnswerToTake,
  { state }: OwnersWorkOrder,
): Result<AcceptedWork> {
  const same =
    stored.id === answer.acceptanceId &&
    stored.shownDigest === answer.shownDigest &&
    isSameAnswer(stored, answer);
  return same
    ? ok(accepted(stored, state))
    : refuse(
        'already_decided',
        'You have answered already, and that answer stands. If you want to say something else, call the repair business.',
      );
}
