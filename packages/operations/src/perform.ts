import {
  type Business,
  type Contact,
  findContact,
  findOwnLink,
  findStaffMember,
  insertAuditRecord,
  type Membership,
  type StaffMember,
  type TenantContext,
  type TenantTransaction,
} from '@grainwright/db';
import {
  type AccessLinkId,
  allows,
  type Day,
  dayAt,
  type Instant,
  isBefore,
  type JsonValue,
  madeOnPhone,
  ok,
  type Permission,
  type PersonId,
  type Result,
  refuse,
} from '@grainwright/domain';
import { linkExpired, linkRevoked } from './links/open-link.ts';
import type { Services } from './services.ts';

/** Who acts, and the address they came from, for the record. */
export interface Actor extends Pick<Membership, 'tenantId' | 'personId' | 'accountId'> {
  readonly fromAddress: string;
  /** When a phone without signal did what it sends now, by its own clock; as it says. */
  readonly madeAt?: Instant | undefined;
  /** The link that a contact came by; somebody signed in has none. */
  readonly linkId?: AccessLinkId;
}

/** As `Actor`, by one of the memberships of somebody signed in. */
export interface SignedInActor extends Actor, Membership {}

/** What every operation has at hand: the transaction, who acts in which role, and what time it is. */
export interface Scope<Member extends StaffMember | Contact = StaffMember | Contact> {
  readonly tx: TenantTransaction;
  readonly actor: Actor;
  readonly member: Member;
  readonly business: Business;
  readonly now: Instant;
  /** The business's own day at `now`. */
  readonly today: Day;
  readonly newId: () => string;
}

/**
 * Runs one operation: opens the transaction as the actor's kind, reads who they are now, checks the permission
 * and then does the work. Everybody who may not know of a thing gets the answer of a thing that does not exist. Refuses
 * with `link_revoked` or `link_expired` what comes by a link that opens no more.
 */
export async function perform<T>(
  services: Services,
  actor: Actor,
  permission: Permission,
  work: (scope: Scope) => Promise<Result<T>>,
): Promise<Result<T>> {
  return services.database.withTenant(contextOf(actor), async (tx) => {
    const now = services.now();
    const opens = await checkOpens(tx, actor, now);
    if (!opens.ok) return opens;
    const member =
      actor.accountId === null
        ? await findStaffMember(tx, actor.personId, now)
        : await findContact(tx, actor.accountId, actor.personId, now);
    if (member === null)
      return refuse(
        'not_signed_in',
        'Your access to this business has ended. Ask them if that is a mistake.',
      );
    if (!allows(member.role, permission) && !answersForAnother(member, permission))
      return refuse(
        'not_allowed',
        `Your role here is ${member.role}; it does not include this. Ask the owner of the business.`,
      );
    const today = dayAt(now, member.business.timeZone);
    return work({ tx, actor, member, business: member.business, now, today, newId: services.newId });
  });
}

/** A link may have been taken back since the page was opened by it. */
async function checkOpens(tx: TenantTransaction, { linkId }: Actor, now: Instant): Promise<Result<true>> {
  if (linkId === undefined) return ok(true);
  const link = await findOwnLink(tx, linkId);
  if (link === null || link.revokedAt !== null) return linkRevoked;
  return isBefore(now, link.expiresAt) ? ok(true) : linkExpired;
}

/** Whoever answers for somebody who is away may answer, whatever else their role includes. */
function answersForAnother(member: StaffMember | Contact, permission: Permission): boolean {
  return permission === 'decide_estimate' && 'delegated' in member && member.delegated.length > 0;
}

/** As `perform`, for what only staff do; a contact's role never includes it. */
export function performAsStaff<T>(
  services: Services,
  actor: Actor,
  permission: Permission,
  work: (scope: Scope<StaffMember>) => Promise<Result<T>>,
): Promise<Result<T>> {
  return perform(services, actor, permission, async (scope) => {
    const { member } = scope;
    if ('limitMinor' in member) return refuse('not_allowed', 'Only the staff of the business can do this.');
    return work({ ...scope, member });
  });
}

/** As `perform`, for what only an account's contact does. */
export function performAsContact<T>(
  services: Services,
  actor: Actor,
  permission: Permission,
  work: (scope: Scope<Contact>) => Promise<Result<T>>,
): Promise<Result<T>> {
  return perform(services, actor, permission, async (scope) => {
    const { member } = scope;
    if (!('limitMinor' in member))
      return refuse('not_allowed', 'Only a contact of the account can answer for it.');
    return work({ ...scope, member });
  });
}

/** Who did something, and when: all that the record asks for. A job writes it for whoever asked for the job. */
export interface RecordScope extends Pick<Scope, 'tx' | 'now' | 'newId'> {
  readonly actor: Pick<Actor, 'personId' | 'accountId' | 'fromAddress' | 'linkId' | 'madeAt'>;
}

/** Whom the record names. A vehicle's owner is nobody of ours: the link that they came by stands for them. */
export interface Recorded extends Pick<Actor, 'accountId' | 'fromAddress' | 'linkId' | 'madeAt'> {
  readonly personId: PersonId | null;
}

/** Writes what was done into the audit record, in the transaction that did it. */
export async function record(
  scope: Omit<RecordScope, 'actor'> & { readonly actor: Recorded },
  action: string,
  subject: { kind: string; id: string },
  detail: JsonValue = {},
): Promise<void> {
  await insertAuditRecord(scope.tx, {
    id: scope.newId(),
    at: scope.now,
    personId: scope.actor.personId,
    accountId: scope.actor.accountId,
    action,
    subjectKind: subject.kind,
    subjectId: subject.id,
    detail: withOrigin(scope, detail),
    fromAddress: scope.actor.fromAddress,
  });
}

/** What was done by a link names it, and what was done on a phone without signal says when it was made there. */
function withOrigin(
  { actor: { linkId, madeAt }, now }: { readonly actor: Recorded; readonly now: Instant },
  detail: JsonValue,
): JsonValue {
  const madeOnPhoneAt = madeOnPhone(madeAt ?? null, now);
  if (linkId === undefined && madeOnPhoneAt === null) return detail;
  const isObject = detail !== null && typeof detail === 'object' && !Array.isArray(detail);
  return {
    ...(isObject ? detail : { detail }),
    ...(linkId === undefined ? {} : { by_link: linkId }),
    ...(madeOnPhoneAt === null ? {} : { made_on_phone_at: madeOnPhoneAt }),
  };
}

function contextOf(actor: Actor): TenantContext {
  return actor.accountId === null
    ? { role: 'staff', tenantId: actor.tenantId }
    : { role: 'account', tenantId: actor.tenantId, accountId: actor.accountId };
}
