import type { AccountId, Instant, MailId, StatementId } from '@grainwright/domain';
import { and, asc, desc, eq, getTableColumns, inArray, ne, sql } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { accounts, contacts, people } from '../schema/accounts.ts';
import { outgoingMailAttachments, outgoingMails } from '../schema/statements.ts';

export type OutgoingMailRow = typeof outgoingMails.$inferSelect;
export type MailAttachmentRow = Omit<typeof outgoingMailAttachments.$inferSelect, 'tenantId' | 'mailId'>;
export type NewMail = Omit<OutgoingMailRow, 'tenantId' | 'state' | 'tries' | 'problem' | 'settledAt'>;

/** False when the id is taken. */
export async function insertMail(
  tx: TenantTransaction,
  mail: NewMail,
  attachments: readonly MailAttachmentRow[],
): Promise<boolean> {
  const rows = await tx
    .insert(outgoingMails)
    .values({ tenantId: tx.tenantId, ...mail })
    .onConflictDoNothing()
    .returning({ id: outgoingMails.id });
  if (rows.length === 0) return false;
  if (attachments.length > 0)
    await tx
      .insert(outgoingMailAttachments)
      .values(attachments.map((each) => ({ tenantId: tx.tenantId, mailId: mail.id, ...each })));
  return true;
}

export async function findMail(tx: TenantTransaction, id: MailId): Promise<OutgoingMailRow | null> {
  const [row] = await tx
    .select()
    .from(outgoingMails)
    .where(and(eq(outgoingMails.tenantId, tx.tenantId), eq(outgoingMails.id, id)));
  return row ?? null;
}

export async function listMailAttachments(
  tx: TenantTransaction,
  id: MailId,
): Promise<readonly MailAttachmentRow[]> {
  return tx
    .select({
      position: outgoingMailAttachments.position,
      fileName: outgoingMailAttachments.fileName,
      mediaType: outgoingMailAttachments.mediaType,
      storageKey: outgoingMailAttachments.storageKey,
      statementId: outgoingMailAttachments.statementId,
    })
    .from(outgoingMailAttachments)
    .where(and(eq(outgoingMailAttachments.tenantId, tx.tenantId), eq(outgoingMailAttachments.mailId, id)))
    .orderBy(asc(outgoingMailAttachments.position));
}

/** Whether a mail of this kind about this was queued before. */
export async function hasMailAbout(
  tx: TenantTransaction,
  kind: OutgoingMailRow['kind'],
  aboutId: string,
): Promise<boolean> {
  const rows = await tx
    .select({ id: outgoingMails.id })
    .from(outgoingMails)
    .where(
      and(
        eq(outgoingMails.tenantId, tx.tenantId),
        eq(outgoingMails.kind, kind),
        sql`${outgoingMails.aboutId} = ${aboutId}::uuid`,
      ),
    )
    .limit(1);
  return rows.length === 1;
}

export interface ListedMail extends Omit<OutgoingMailRow, 'tenantId' | 'body'> {
  /** Null where it is not about one account. */
  readonly accountName: string | null;
}

/** The latest first, from after the mail that the page before ended with. */
export async function listMails(
  tx: TenantTransaction,
  before: MailId | null,
  limit: number,
): Promise<readonly ListedMail[]> {
  const { tenantId: _tenantId, body: _body, ...columns } = mailColumns;
  return tx
    .select({ ...columns, accountName: accounts.name })
    .from(outgoingMails)
    .leftJoin(
      accounts,
      and(eq(accounts.tenantId, outgoingMails.tenantId), eq(accounts.id, outgoingMails.accountId)),
    )
    .where(
      and(
        eq(outgoingMails.tenantId, tx.tenantId),
        before === null
          ? undefined
          : sql`(${outgoingMails.queuedAt}, ${outgoingMails.id}) < (select m.queued_at, m.id from outgoing_mails m
              where m.tenant_id = ${tx.tenantId} and m.id = ${before})`,
      ),
    )
    .orderBy(desc(outgoingMails.queuedAt), desc(outgoingMails.id))
    .limit(limit);
}

const mailColumns = getTableColumns(outgoingMails);

/** Which of these statements have been mailed, or are about to be; what failed or was only kept does not count. */
export async function listMailedStatements(
  tx: TenantTransaction,
  ids: readonly StatementId[],
): Promise<ReadonlySet<string>> {
  if (ids.length === 0) return new Set();
  const rows = await tx
    .selectDistinct({ aboutId: outgoingMails.aboutId })
    .from(outgoingMails)
    .where(
      and(
        eq(outgoingMails.tenantId, tx.tenantId),
        inArray(outgoingMails.aboutId, [...ids]),
        inArray(outgoingMails.state, ['queued', 'sent']),
      ),
    );
  return new Set(rows.map((row) => row.aboutId));
}

/** The latest mail of each of these statements that was only kept, by statement. */
export async function listKeptMails(
  tx: TenantTransaction,
  ids: readonly StatementId[],
): Promise<ReadonlyMap<string, Pick<OutgoingMailRow, 'id' | 'recipients'>>> {
  if (ids.length === 0) return new Map();
  const rows = await tx
    .selectDistinctOn([outgoingMails.aboutId], {
      aboutId: outgoingMails.aboutId,
      id: outgoingMails.id,
      recipients: outgoingMails.recipients,
    })
    .from(outgoingMails)
    .where(
      and(
        eq(outgoingMails.tenantId, tx.tenantId),
        inArray(outgoingMails.aboutId, [...ids]),
        eq(outgoingMails.state, 'kept'),
      ),
    )
    .orderBy(outgoingMails.aboutId, desc(outgoingMails.queuedAt), desc(outgoingMails.id));
  return new Map(rows.map(({ aboutId, ...kept }) => [aboutId, kept]));
}

export interface MailOutcome {
  readonly state: OutgoingMailRow['state'];
  readonly problem: string;
  readonly settledAt: Instant | null;
}

/** Writes how a try went. What was settled meanwhile stays as it is. */
export async function settleMail(tx: TenantTransaction, id: MailId, outcome: MailOutcome): Promise<void> {
  await tx
    .update(outgoingMails)
    .set({ ...outcome, tries: sql`${outgoingMails.tries} + 1` })
    .where(
      and(
        eq(outgoingMails.tenantId, tx.tenantId),
        eq(outgoingMails.id, id),
        inArray(outgoingMails.state, ['queued', 'failed']),
      ),
    );
}

/** Lets a mail that did not go out be tried again, from its first try on; false when it was sent. */
export async function requeueMail(tx: TenantTransaction, id: MailId): Promise<boolean> {
  const rows = await tx
    .update(outgoingMails)
    .set({ state: 'queued', tries: 0, settledAt: null })
    .where(
      and(
        eq(outgoingMails.tenantId, tx.tenantId),
        eq(outgoingMails.id, id),
        inArray(outgoingMails.state, ['queued', 'failed', 'kept']),
      ),
    )
    .returning({ id: outgoingMails.id });
  return rows.length === 1;
}

/** Where the statements of these accounts go, by account: the address of their terms, or else their payers'. */
export async function listStatementAddresses(
  tx: TenantTransaction,
  accountIds: readonly AccountId[],
  now: Instant,
  timeZone: string,
): Promise<ReadonlyMap<AccountId, readonly string[]>> {
  const rows = await tx
    .select({ id: accounts.id, own: accounts.statementEmail, payer: people.email })
    .from(accounts)
    .leftJoin(
      contacts,
      and(
        eq(contacts.tenantId, accounts.tenantId),
        eq(contacts.accountId, accounts.id),
        eq(contacts.role, 'payer'),
        sql`(${contacts.endedOn} is null or ${contacts.endedOn} > (${now}::timestamptz at time zone ${timeZone})::date)`,
      ),
    )
    .leftJoin(
      people,
      and(eq(people.tenantId, contacts.tenantId), eq(people.id, contacts.personId), ne(people.email, '')),
    )
    .where(and(eq(accounts.tenantId, tx.tenantId), inArray(accounts.id, [...accountIds])))
    .orderBy(asc(accounts.id), asc(people.email));
  const byAccount = Map.groupBy(rows, (row) => row.id);
  return new Map(
    [...byAccount].map(([id, own]) => {
      const [first] = own;
      if (first !== undefined && first.own !== '') return [id, [first.own]];
      return [id, [...new Set(own.flatMap((row) => row.payer ?? []))]];
    }),
  );
}
