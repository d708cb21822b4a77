import {
  type Business,
  type Contact,
  findContact,
  findStaffMember,
  insertAuditRecord,
  type Membership,
  type StaffMember,
  type TenantContext,
  type TenantTransaction,
} from '@grainwright/db';
import {
  allows,
  type Day,
  dayAt,
  type Instant,
  type JsonValue,
  type Permission,
  type Result,
  refuse,
} from '@grainwright/domain';
import type { Services } from './services.ts';

/** Who acts: one membership of somebody signed in, and the address they came from, for the record. */
export interface Actor extends Membership {
  readonly fromAddress: string;
}

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
 * and then does the work. Everybody who may not know of a thing gets the answer of a thing that does not exist.
 */
export async function perform<T>(
  services: Services,
  actor: Actor,
  permission: Permission,
  work: (scope: Scope) => Promise<Result<T>>,
): Promise<Result<T>> {
  return services.database.withTenant(contextOf(actor), async (tx) => {
    const now = services.now();
    const member =
      actor.accountId === null
        ? await findStaffMember(tx, actor.personId, now)
        : await findContact(tx, actor.accountId, actor.personId, now);
    if (member === null)
      return refuse(
        'not_signed_in',
        'Your access to this business has ended. Ask them if that is a mistake.',
      );
    if (!allows(member.role, permission))
      return refuse(
        'not_allowed',
        `Your role here is ${member.role}; it does not include this. Ask the owner of the business.`,
      );
    const today = dayAt(now, member.business.timeZone);
    return work({ tx, actor, member, business: member.business, now, today, newId: services.newId });
  });
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
  readonly actor: Pick<Actor, 'personId' | 'accountId' | 'fromAddress'>;
}

/** Writes what was done into the audit record, in the transaction that did it. */
export async function record(
  scope: RecordScope,
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
    detail,
    fromAddress: scope.actor.fromAddress,
  });
}

function contextOf(actor: Actor): TenantContext {
  return actor.accountId === null
    ? { role: 'staff', tenantId: actor.tenantId }
    : { role: 'account', tenantId: actor.tenantId, accountId: actor.accountId };
}
