import {
  type AccountId,
  type Day,
  type Delegated,
  type DelegationId,
  dayAt,
  delegatedLimit,
  type Instant,
  type PersonId,
} from '@grainwright/domain';
import { and, asc, desc, eq, gt, gte, isNull, lte, or, sql } from 'drizzle-orm';
import { alias } from 'drizzle-orm/pg-core';
import type { TenantTransaction } from '../database.ts';
import { contacts, people } from '../schema/accounts.ts';
import { approvalDelegationEnds, approvalDelegations } from '../schema/delegations.ts';

export type DelegationRow = typeof approvalDelegations.$inferSelect;

const away = alias(people, 'away');
const delegate = alias(people, 'delegate');
const recorder = alias(people, 'recorder');
const ownContact = alias(contacts, 'own_contact');
const delegateContact = alias(contacts, 'delegate_contact');

/** A delegation that counts, and whose it is. */
export interface CountingDelegation extends Delegated {
  readonly toPersonId: PersonId;
  readonly toName: string;
}

/**
 * The delegations of an account that count at a moment: on their days, not taken back, of an approver and to somebody
 * who are both still there; with the limit that holds now. Those to one person, if one is named.
 */
export async function listCountingDelegations(
  tx: TenantTransaction,
  of: { readonly accountId: AccountId; readonly toPersonId?: PersonId },
  { now, timeZone }: { readonly now: Instant; readonly timeZone: string },
): Promise<readonly CountingDelegation[]> {
  const today = dayAt(now, timeZone);
  const rows = await tx
    .select({
      id: approvalDelegations.id,
      forPersonId: approvalDelegations.fromPerson,
      forName: away.name,
      toPersonId: approvalDelegations.toPerson,
      toName: delegate.name,
      ownMinor: ownContact.limitMinor,
      namedMinor: approvalDelegations.limitMinor,
      through: approvalDelegations.validTo,
    })
    .from(approvalDelegations)
    .innerJoin(ownContact, contactOf(ownContact, approvalDelegations.fromPerson))
    .innerJoin(delegateContact, contactOf(delegateContact, approvalDelegations.toPerson))
    .innerJoin(
      away,
      and(eq(away.tenantId, approvalDelegations.tenantId), eq(away.id, approvalDelegations.fromPerson)),
    )
    .innerJoin(
      delegate,
      and(eq(delegate.tenantId, approvalDelegations.tenantId), eq(delegate.id, approvalDelegations.toPerson)),
    )
    .leftJoin(approvalDelegationEnds, endOf)
    .where(
      and(
        eq(approvalDelegations.tenantId, tx.tenantId),
        eq(approvalDelegations.accountId, of.accountId),
        of.toPersonId === undefined ? undefined : eq(approvalDelegations.toPerson, of.toPersonId),
        lte(approvalDelegations.validFrom, today),
        gte(approvalDelegations.validTo, today),
        or(isNull(approvalDelegationEnds.endedAt), gt(approvalDelegationEnds.endedAt, now)),
        eq(ownContact.role, 'approver'),
        stillThere(ownContact, today),
        stillThere(delegateContact, today),
      ),
    )
    .orderBy(asc(approvalDelegations.madeAt), asc(approvalDelegations.id))
    .limit(listedMax);
  return rows.map(({ ownMinor, namedMinor, ...row }) => ({
    ...row,
    limitMinor: delegatedLimit(ownMinor, namedMinor),
  }));
}

const endOf = and(
  eq(approvalDelegationEnds.tenantId, approvalDelegations.tenantId),
  eq(approvalDelegationEnds.delegationId, approvalDelegations.id),
);

function contactOf(
  contact: typeof ownContact | typeof delegateContact,
  personId: typeof approvalDelegations.fromPerson,
) {
  return and(
    eq(contact.tenantId, approvalDelegations.tenantId),
    eq(contact.accountId, approvalDelegations.accountId),
    eq(contact.personId, personId),
  );
}

function stillThere(contact: typeof ownContact | typeof delegateContact, today: Day) {
  return or(isNull(contact.endedOn), gt(contact.endedOn, today));
}

const listedMax = 200;

export interface ListedDelegation extends Omit<DelegationRow, 'tenantId'> {
  readonly fromName: string;
  readonly toName: string;
  /** Null: whoever is away did it themselves. */
  readonly recordedByName: string | null;
  readonly endedAt: Instant | null;
  /** Neither they nor their delegate have left. */
  readonly stillThere: boolean;
}

/** The delegations of an account, also those that are over, the latest days first. */
export async function listDelegationRows(
  tx: TenantTransaction,
  accountId: AccountId,
  today: Day,
): Promise<readonly ListedDelegation[]> {
  const rows = await selectListed(tx, eq(approvalDelegations.accountId, accountId));
  return rows.map((row) => listed(row, today));
}

export async function findDelegation(
  tx: TenantTransaction,
  id: DelegationId,
  today: Day,
): Promise<ListedDelegation | null> {
  const [row] = await selectListed(tx, eq(approvalDelegations.id, id));
  return row === undefined ? null : listed(row, today);
}

function selectListed(tx: TenantTransaction, condition: ReturnType<typeof eq>) {
  return tx
    .select({
      delegation: approvalDelegations,
      fromName: away.name,
      toName: delegate.name,
      recordedByName: recorder.name,
      endedAt: approvalDelegationEnds.endedAt,
      ownEnd: ownContact.endedOn,
      delegateEnd: delegateContact.endedOn,
    })
    .from(approvalDelegations)
    .innerJoin(ownContact, contactOf(ownContact, approvalDelegations.fromPerson))
    .innerJoin(delegateContact, contactOf(delegateContact, approvalDelegations.toPerson))
    .innerJoin(
      away,
      and(eq(away.tenantId, approvalDelegations.tenantId), eq(away.id, approvalDelegations.fromPerson)),
    )
    .innerJoin(
      delegate,
      and(eq(delegate.tenantId, approvalDelegations.tenantId), eq(delegate.id, approvalDelegations.toPerson)),
    )
    .leftJoin(
      recorder,
      and(
        eq(recorder.tenantId, approvalDelegations.tenantId),
        eq(recorder.id, approvalDelegations.recordedBy),
      ),
    )
    .leftJoin(approvalDelegationEnds, endOf)
    .where(and(eq(approvalDelegations.tenantId, tx.tenantId), condition))
    .orderBy(desc(approvalDelegations.validTo), desc(approvalDelegations.id))
    .limit(listedMax);
}

function listed(row: Awaited<ReturnType<typeof selectListed>>[number], today: Day): ListedDelegation {
  const { delegation, ownEnd, delegateEnd, ...names } = row;
  const { tenantId: _tenantId, ...columns } = delegation;
  const isThere = (end: Day | null) => end === null || end > today;
  return { ...columns, ...names, stillThere: isThere(ownEnd) && isThere(delegateEnd) };
}

/** False when the id is taken. */
export async function insertDelegation(
  tx: TenantTransaction,
  delegation: Omit<DelegationRow, 'tenantId'>,
): Promise<boolean> {
  const rows = await tx
    .insert(approvalDelegations)
    .values({ ...delegation, tenantId: tx.tenantId })
    .onConflictDoNothing()
    .returning({ id: approvalDelegations.id });
  return rows.length === 1;
}

/** False when it was taken back before. */
export async function insertDelegationEnd(
  tx: TenantTransaction,
  end: Omit<typeof approvalDelegationEnds.$inferSelect, 'tenantId'>,
): Promise<boolean> {
  const rows = await tx
    .insert(approvalDelegationEnds)
    .values({ ...end, tenantId: tx.tenantId })
    .onConflictDoNothing()
    .returning({ id: approvalDelegationEnds.delegationId });
  return rows.length === 1;
}

/** Whoever has left neither leaves their answers to somebody nor answers for somebody, also if they come back. */
export async function endDelegationsOf(
  tx: TenantTransaction,
  of: { readonly accountId: AccountId; readonly personId: PersonId },
  end: { readonly endedBy: PersonId; readonly endedAt: Instant },
): Promise<number> {
  const ended = await tx.execute<{ id: string }>(sql`
    insert into approval_delegation_ends (tenant_id, delegation_id, account_id, ended_by, ended_at)
    select tenant_id, id, account_id, ${end.endedBy}::uuid, ${end.endedAt}::timestamptz from approval_delegations
    where tenant_id = ${tx.tenantId}::uuid and account_id = ${of.accountId}::uuid
      and ${of.personId}::uuid in (from_person, to_person)
    on conflict do nothing returning delegation_id as id`);
  return ended.length;
}
