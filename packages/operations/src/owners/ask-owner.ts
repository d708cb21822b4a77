import {
  type AcceptanceRequest,
  findAcceptanceRequest,
  findAccessLinks,
  findWorkInHand,
  insertAcceptanceRequest,
  insertWorkOrderStep,
  revokeAccessLinks,
  type WorkInHand,
} from '@grainwright/db';
import {
  type AccessLinkId,
  dayWords,
  type MailId,
  ok,
  type Result,
  refuse,
  toId,
  type WorkOrderId,
  workOrderStates,
} from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { linkAddress } from '../links/link-text.ts';
import { makeOwnerLink } from '../links/make-link.ts';
import { linkRevoked } from '../links/open-link.ts';
import { readMailAddress } from '../mail/mail-address.ts';
import { queueMail } from '../mail/queue-mail.ts';
import { type Actor, performAsStaff, record, type Scope } from '../perform.ts';
import { readOptionalWords, readWords } from '../read-input.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';
import { openWorkOrder } from '../work-order-path.ts';
import { vehicleWords } from '../work-orders/vehicle-words.ts';
import { lastDayOf, noteUnansweredOf } from './no-answer.ts';
import { askingMail, linkMessage } from './owner-mails.ts';

export interface AskOwnerInput {
  /** Made by the client: the same request sent again under it is the same link. */
  readonly linkId: AccessLinkId;
  readonly workOrderId: WorkOrderId;
  readonly ownerName: string;
  /** At least one of the two. */
  readonly phone: string;
  readonly email: string;
}

export interface OwnerAsked {
  readonly linkId: AccessLinkId;
  readonly ownerName: string;
  readonly phone: string;
  readonly email: string;
  /** The link itself, to be passed on by whoever made it. It is stored nowhere. */
  readonly address: string;
  /** What to send along with it, the address in it. */
  readonly message: string;
  /** “Dec 14, 2026” */
  readonly lastDayWords: string;
}

/**
 * Makes the link by which the vehicle's owner, or the account's representative, looks at finished work and answers
 * without anybody there, and mails it where there is an address. An older one is taken back. Refuses with `wrong_state`,
 * `already_accepted`, `invalid_input`, `id_reused`, `link_revoked` or `not_found`.
 */
export function askOwner(
  services: Services,
  actor: Actor,
  input: AskOwnerInput,
): Promise<Result<OwnerAsked>> {
  return performAsStaff(services, actor, 'give_links', async (scope) => {
    const said = readAsked(input);
    if (!said.ok) return said;
    const opened = await openWorkOrder(scope, input.workOrderId);
    if (!opened.ok) return opened;
    const work = await findWorkInHand(scope.tx, input.workOrderId);
    if (work === null) throw new Error('a work order that is there was not found');
    const earlier = await findAcceptanceRequest(scope.tx, input.linkId);
    if (earlier !== null) return sameAgain(scope, services, earlier, { ...input, ...said.value, work });
    if ((await findAccessLinks(scope.tx, [input.linkId])).length > 0) return reusedId;
    const done = checkDone(work);
    if (!done.ok) return done;
    return ask(scope, services, { ...input, ...said.value, work });
  });
}

function readAsked({ ownerName, phone, email }: AskOwnerInput) {
  const read = everyResult({
    ownerName: readWords(ownerName, 'owner_name', 'the name of the vehicle’s owner', 200),
    phone: readOptionalWords(phone, 'phone', 'the telephone number', 40),
    email: email.trim() === '' ? ok('') : readMailAddress(email, 'email'),
  });
  if (!read.ok || read.value.phone !== '' || read.value.email !== '') return read;
  return refuse('invalid_input', 'Write their telephone number, their e-mail address, or both.', 'phone');
}

function checkDone({ workOrder }: WorkInHand): Result<true> {
  if (['accepted', 'invoiced', 'paid', 'written_off'].includes(workOrder.state))
    return refuse('already_accepted', 'This work is accepted already. Nobody has to be asked any more.');
  if (workOrder.state === 'done') return ok(true);
  return refuse(
    'wrong_state',
    `This work order is “${workOrderStates[workOrder.state]}”. Finish the work first, then ask the owner.`,
  );
}

interface Asking extends AskOwnerInput {
  readonly work: WorkInHand;
}

async function ask(
  scope: Scope,
  services: Services,
  { linkId, workOrderId, ownerName, phone, email, work }: Asking,
): Promise<Result<OwnerAsked>> {
  const { tx, now, business } = scope;
  await noteUnansweredOf(scope, workOrderId, business.timeZone);
  await revokeAccessLinks(tx, { workOrderId, purpose: 'acceptance' }, now);
  const link = await makeOwnerLink(scope, services, {
    id: linkId,
    accountId: work.account.id,
    workOrderId,
    validDays: business.acceptanceLinkDays,
  });
  await insertAcceptanceRequest(tx, { linkId, workOrderId, ownerName, phone, email });
  const { lastDayWords } = link;
  await insertWorkOrderStep(tx, {
    id: scope.newId(),
    workOrderId,
    event: 'owner_asked',
    toState: work.workOrder.state,
    personId: scope.actor.personId,
    happenedAt: now,
    note: `A link to look at the work and to answer, for ${ownerName}, until ${lastDayWords}.`,
  });
  const detail = { link_id: linkId, owner_name: ownerName, phone, email };
  await record(scope, 'owner_asked', { kind: 'work_order', id: workOrderId }, detail);
  if (email !== '') {
    const vehicle = vehicleWords(work.vehicle);
    const mailed = await queueMail(scope, {
      // One mail for each link, so both may have the same id.
      id: toId<MailId>(linkId),
      kind: 'acceptance',
      accountId: work.account.id,
      aboutId: workOrderId,
      to: [email],
      ...askingMail(business, { ownerName, vehicle, address: link.mark, lastDayWords }),
    });
    if (!mailed.ok) return mailed;
  }
  return ok(asked(scope, services, { linkId, ownerName, phone, email, work }, lastDayWords));
}

function asked(
  { tx, business }: Pick<Scope, 'tx' | 'business'>,
  services: Services,
  { linkId, ownerName, phone, email, work }: Omit<Asking, 'workOrderId'>,
  lastDayWords: string,
): OwnerAsked {
  const address = linkAddress(services, tx.tenantId, linkId);
  const message = linkMessage(business, { vehicle: vehicleWords(work.vehicle), address, lastDayWords });
  return { linkId, ownerName, phone, email, address, message, lastDayWords };
}

function sameAgain(
  scope: Scope,
  services: Services,
  earlier: AcceptanceRequest,
  asking: Asking,
): Result<OwnerAsked> {
  const { workOrderId, ownerName, phone, email } = asking;
  // The address is for whoever made it alone.
  const isTheirs = earlier.madeBy === scope.actor.personId;
  if (!isTheirs || !sameContent(earlier, { workOrderId, ownerName, phone, email })) return reusedId;
  if (earlier.revokedAt !== null) return linkRevoked;
  return ok(asked(scope, services, asking, dayWords(lastDayOf(earlier, scope.business.timeZone))));
}

const reusedId = refuse('id_reused', 'This id was already used for another link. Open the page again.', 'id');
