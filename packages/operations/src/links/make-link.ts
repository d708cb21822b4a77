import { hashLinkSecret, linkSecret } from '@grainwright/auth';
import { type AccessLinkRow, insertAccessLink, lockContact } from '@grainwright/db';
import {
  type AccessLinkId,
  type AccountId,
  addDays,
  dayWords,
  endOfDay,
  type Instant,
  type PersonId,
  toId,
  type WorkOrderId,
} from '@grainwright/domain';
import type { RecordScope, Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { linkMark } from './link-text.ts';

interface AnyLinkToMake {
  readonly accountId: AccountId;
  readonly workOrderId: WorkOrderId;
  readonly validDays: number;
}

/** What a contact's link opens, and to whom. */
export interface ContactLinkToMake extends AnyLinkToMake {
  /** The contact who answers. */
  readonly personId: PersonId;
}

/** What the link of a vehicle's owner opens. */
export interface OwnerLinkToMake extends AnyLinkToMake {
  /** Made by the client. */
  readonly id: AccessLinkId;
}

export interface MadeLink {
  readonly id: AccessLinkId;
  /** Stands for the address in a mail's text; the address itself is only made when the mail goes out. */
  readonly mark: string;
  readonly expiresAt: Instant;
  /** “Dec 14, 2026”: the last day it opens. */
  readonly lastDayWords: string;
}

type LinkScope = Pick<RecordScope, 'tx' | 'now' | 'newId'> &
  Pick<Scope, 'business' | 'today'> & { readonly actor: Pick<Scope['actor'], 'personId'> };

/**
 * Makes a contact's link to answer by. Null for whoever has left the account: ending a contact waits for this
 * transaction, and so takes back what it makes.
 */
export async function makeContactLink(
  scope: LinkScope,
  services: Pick<Services, 'links'>,
  link: ContactLinkToMake,
): Promise<MadeLink | null> {
  const contact = await lockContact(scope.tx, link.accountId, link.personId, 'share');
  if (contact === null || (contact.endedOn !== null && contact.endedOn <= scope.today)) return null;
  return makeLink(scope, services, { ...link, id: toId<AccessLinkId>(scope.newId()), purpose: 'approval' });
}

/** Makes the link by which a vehicle's owner accepts. */
export function makeOwnerLink(
  scope: LinkScope,
  services: Pick<Services, 'links'>,
  link: OwnerLinkToMake,
): Promise<MadeLink> {
  return makeLink(scope, services, { ...link, personId: null, purpose: 'acceptance' });
}

/** Makes the link by which a signer reads their copy again. */
export function makeCopyLink(
  scope: LinkScope,
  services: Pick<Services, 'links'>,
  link: OwnerLinkToMake,
): Promise<MadeLink> {
  return makeLink(scope, services, { ...link, personId: null, purpose: 'acceptance_copy' });
}

interface LinkToMake extends AnyLinkToMake {
  readonly id: AccessLinkId;
  readonly personId: PersonId | null;
  readonly purpose: AccessLinkRow['purpose'];
}

/** It opens until the end of its last day; of its secret only the digest is stored. */
async function makeLink(
  scope: LinkScope,
  { links }: Pick<Services, 'links'>,
  { validDays, id, ...link }: LinkToMake,
): Promise<MadeLink> {
  const lastDay = addDays(scope.today, validDays);
  const expiresAt = endOfDay(lastDay, scope.business.timeZone);
  const inserted = await insertAccessLink(scope.tx, {
    ...link,
    id,
    secretHash: hashLinkSecret(linkSecret(links.key, scope.tx.tenantId, id)),
    madeBy: scope.actor.personId,
    madeAt: scope.now,
    expiresAt,
  });
  if (!inserted) throw new Error('a new link has the id of another');
  return { id, mark: linkMark(id), expiresAt, lastDayWords: dayWords(lastDay) };
}
