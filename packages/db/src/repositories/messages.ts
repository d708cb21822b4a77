import type { AccountId, Instant, MessageId, PersonId, WorkOrderId } from '@grainwright/domain';
import { and, asc, count, desc, eq, gt, inArray, isNull, or, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { contacts, people } from '../schema/accounts.ts';
import { approvalAsks } from '../schema/approvals.ts';
import { messages } from '../schema/messages.ts';

export type MessageRow = typeof messages.$inferSelect;

/** What contacts may read of a message as well. */
const shown = {
  id: messages.id,
  accountId: messages.accountId,
  workOrderId: messages.workOrderId,
  side: messages.side,
  authorId: messages.authorId,
  text: messages.text,
  writtenAt: messages.writtenAt,
};

export type ShownMessage = Omit<MessageRow, 'tenantId' | 'linkId'>;

/** False when the id is taken. */
export async function insertMessage(
  tx: TenantTransaction,
  message: Omit<MessageRow, 'tenantId'>,
): Promise<boolean> {
  const rows = await tx
    .insert(messages)
    .values({ tenantId: tx.tenantId, ...message })
    .onConflictDoNothing()
    .returning({ id: messages.id });
  return rows.length === 1;
}

export async function findMessage(tx: TenantTransaction, id: MessageId): Promise<ShownMessage | null> {
  const [row] = await tx
    .select(shown)
    .from(messages)
    .where(and(eq(messages.tenantId, tx.tenantId), eq(messages.id, id)));
  return row ?? null;
}

/** The messages on a work order with who wrote them, the first one first. */
export async function listMessages(
  tx: TenantTransaction,
  workOrderId: WorkOrderId,
  limit: number,
): Promise<readonly (ShownMessage & { readonly authorName: string | null })[]> {
  const rows = await tx
    .select({ ...shown, authorName: people.name })
    .from(messages)
    .leftJoin(people, and(eq(people.tenantId, messages.tenantId), eq(people.id, messages.authorId)))
    .where(and(eq(messages.tenantId, tx.tenantId), eq(messages.workOrderId, workOrderId)))
    .orderBy(desc(messages.writtenAt), desc(messages.id))
    .limit(limit);
  return rows.toReversed();
}

/** How many there are on a work order, and how many this person wrote since a moment, wherever. */
export async function countMessages(
  tx: TenantTransaction,
  asked: { readonly workOrderId: WorkOrderId; readonly authorId: PersonId; readonly since: Instant },
): Promise<{ readonly onWorkOrder: number; readonly byAuthor: number }> {
  const of = (condition: ReturnType<typeof and>) =>
    tx
      .select({ found: count() })
      .from(messages)
      .where(and(eq(messages.tenantId, tx.tenantId), condition));
  const [there] = await of(eq(messages.workOrderId, asked.workOrderId));
  const [own] = await of(and(eq(messages.authorId, asked.authorId), gt(messages.writtenAt, asked.since)));
  return { onWorkOrder: there?.found ?? 0, byAuthor: own?.found ?? 0 };
}

/** Whom mail can reach of an account about a work order. */
export interface MailedContact {
  readonly personId: PersonId;
  readonly name: string;
  readonly email: string;
  readonly role: 'approver' | 'payer' | 'viewer';
  /** Whether they were asked about the work order, or wrote on it. */
  readonly involved: boolean;
}

const contactsMax = 300;

/** The account's people with an e-mail address, as the staff know them; whoever has left by now is not among them. */
export function listMailedContacts(
  tx: TenantTransaction,
  { accountId, workOrderId }: { readonly accountId: AccountId; readonly workOrderId: WorkOrderId },
  { now, timeZone }: { readonly now: Instant; readonly timeZone: string },
): Promise<readonly MailedContact[]> {
  const asked = tx
    .select({ id: approvalAsks.personId })
    .from(approvalAsks)
    .where(and(eq(approvalAsks.tenantId, tx.tenantId), eq(approvalAsks.workOrderId, workOrderId)));
  const wrote = tx
    .select({ id: messages.authorId })
    .from(messages)
    .where(and(eq(messages.tenantId, tx.tenantId), eq(messages.workOrderId, workOrderId)));
  const involved = or(inArray(contacts.personId, asked), inArray(contacts.personId, wrote));
  return tx
    .select({
      personId: contacts.personId,
      name: people.name,
      email: people.email,
      role: contacts.role,
      involved: sql<boolean>`${involved}`,
    })
    .from(contacts)
    .innerJoin(people, and(eq(people.tenantId, contacts.tenantId), eq(people.id, contacts.personId)))
    .where(
      and(
        eq(contacts.tenantId, tx.tenantId),
        eq(contacts.accountId, accountId),
        eq(people.hasEmail, true),
        or(
          isNull(contacts.endedOn),
          sql`${contacts.endedOn} > (${now}::timestamptz at time zone ${timeZone})::date`,
        ),
      ),
    )
    .orderBy(asc(contacts.askPosition), asc(contacts.personId))
    .limit(contactsMax);
}
