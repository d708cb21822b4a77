import { readLinkToken } from '@grainwright/auth';
import { findBusiness, findContact, findHeldLink, type HeldLink } from '@grainwright/db';
import {
  type AccessLinkId,
  type AccountId,
  addSeconds,
  dayAt,
  dayWords,
  type Instant,
  isBefore,
  isUuid,
  ok,
  type Result,
  refuse,
  type TenantId,
  toId,
  type WorkOrderId,
} from '@grainwright/domain';
import type { Actor } from '../perform.ts';
import type { Services } from '../services.ts';

/** What a link opens: a contact's own part of the account, one work order to the vehicle's owner, or a signer's copy. */
export type OpenedLink =
  | {
      readonly purpose: 'approval';
      readonly id: AccessLinkId;
      /** The contact, as if signed in: who they are and what they may is read anew by every operation. */
      readonly actor: Actor;
      readonly workOrderId: WorkOrderId;
    }
  | {
      readonly purpose: 'acceptance';
      readonly id: AccessLinkId;
      readonly tenantId: TenantId;
      readonly accountId: AccountId;
      readonly workOrderId: WorkOrderId;
      /** By which the vehicle owner's role knows the link. */
      readonly secretHash: string;
      readonly fromAddress: string;
    }
  | {
      /** What was signed, to read again. */
      readonly purpose: 'acceptance_copy';
      readonly id: AccessLinkId;
      readonly tenantId: TenantId;
      readonly secretHash: string;
      readonly expiresAt: Instant;
    };

export interface LinkToOpen {
  readonly token: string;
  readonly fromAddress: string;
}

/**
 * What the link of this token opens. Opening changes nothing: mail scanners do it. Refuses with `link_unknown`,
 * `link_expired` or `link_revoked`, also where the contact has left the account.
 */
export async function openLink(
  services: Services,
  { token, fromAddress }: LinkToOpen,
): Promise<Result<OpenedLink>> {
  const read = readLinkToken(token);
  if (read === null || !isUuid(read.tenantId)) return unknown;
  const tenantId = toId<TenantId>(read.tenantId);
  const { secretHash } = read;
  const held = await services.database.withTenant({ role: 'link', tenantId, secretHash }, async (tx) =>
    ok(await findHeldLink(tx, secretHash)),
  );
  if (!held.ok) return held;
  const link = held.value;
  if (link === null) return unknown;
  if (link.revokedAt !== null) return linkRevoked;
  if (!isBefore(services.now(), link.expiresAt))
    return link.purpose === 'approval' ? lapsed(services, tenantId, link) : linkExpired;
  switch (link.purpose) {
    case 'acceptance':
      return ok(acceptanceLink({ tenantId, secretHash, fromAddress }, link));
    case 'acceptance_copy':
      return ok({ purpose: link.purpose, id: link.id, tenantId, secretHash, expiresAt: link.expiresAt });
    case 'approval':
      return approvalLink(services, tenantId, link, fromAddress);
  }
}

/** A contact's link ends with the prices that they were asked about, and what nobody answered has lapsed by then. */
async function lapsed(
  services: Services,
  tenantId: TenantId,
  { accountId, expiresAt }: HeldLink,
): Promise<Result<never>> {
  const asked = await services.database.withTenant({ role: 'account', tenantId, accountId }, async (tx) =>
    ok(await findBusiness(tx)),
  );
  if (!asked.ok) return asked;
  const business = asked.value;
  if (business === null) return linkExpired;
  const lastDay = dayWords(dayAt(addSeconds(expiresAt, -1), business.timeZone));
  const phone = business.phone.trim() === '' ? '' : `, ${business.phone.trim()},`;
  return refuse(
    'link_expired',
    `This link was good through ${lastDay}. An estimate that nobody had answered by then has lapsed. Ask ${business.name}${phone} for a new one.`,
  );
}

const unknown = refuse(
  'link_unknown',
  'This link is not complete, or it was never given. Open it from the mail again, or copy all of it.',
);
export const linkExpired = refuse(
  'link_expired',
  'This link has expired. Ask for a new one: whoever wrote to you can send it in a moment.',
);
export const linkRevoked = refuse(
  'link_revoked',
  'This link was taken back. Ask whoever wrote to you for a new one if you still need it.',
);

function acceptanceLink(
  held: { readonly tenantId: TenantId; readonly secretHash: string; readonly fromAddress: string },
  { id, accountId, workOrderId }: HeldLink,
): OpenedLink {
  return { purpose: 'acceptance', id, accountId, workOrderId, ...held };
}

async function approvalLink(
  services: Services,
  tenantId: TenantId,
  { id, accountId, personId, workOrderId }: HeldLink,
  fromAddress: string,
): Promise<Result<OpenedLink>> {
  if (personId === null) throw new Error('a link to approve is nobody’s');
  const there = await services.database.withTenant({ role: 'account', tenantId, accountId }, async (tx) =>
    ok((await findContact(tx, accountId, personId, services.now())) !== null),
  );
  if (!there.ok) return there;
  if (!there.value) return linkRevoked;
  const actor = { tenantId, personId, accountId, fromAddress, linkId: id };
  return ok({ purpose: 'approval', id, actor, workOrderId });
}
