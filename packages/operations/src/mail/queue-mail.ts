import { enqueueJob, insertMail, type NewMail } from '@grainwright/db';
import { type AccountId, type MailId, ok, type Result, refuse, type StatementId } from '@grainwright/domain';
import { type RecordScope, record, type Scope } from '../perform.ts';
import { isMailAddress } from './mail-address.ts';

/** A mail that goes out when the transaction commits. */
export interface MailToQueue {
  readonly id: MailId;
  readonly kind: NewMail['kind'];
  readonly accountId: AccountId | null;
  /** What it is about: the statement, for one. */
  readonly aboutId: string;
  readonly to: readonly string[];
  readonly subject: string;
  readonly text: string;
  readonly attachments: readonly MailAttachment[];
}

export interface MailAttachment {
  readonly fileName: string;
  readonly mediaType: string;
  /** An object that is kept already, or a statement whose PDF is made when it is sent. */
  readonly from: { readonly storageKey: string } | { readonly statementId: StatementId };
}

const recipientsMax = 20;
const subjectMax = 200;

/**
 * Writes a mail down and asks the worker to send it, in this transaction: it goes out if and only if that commits. It
 * comes in the business's name, and answers go to the business. Refuses with `invalid_input` what is no address, and
 * with `id_reused` an id that is taken.
 */
export async function queueMail(
  scope: RecordScope & Pick<Scope, 'business'>,
  mail: MailToQueue,
): Promise<Result<MailId>> {
  const { business } = scope;
  const to = [...new Set(mail.to)];
  const wrong = to.find((address) => !isMailAddress(address));
  if (wrong !== undefined || to.length === 0 || to.length > recipientsMax)
    return refuse(
      'invalid_input',
      wrong === undefined
        ? `Name from 1 to ${recipientsMax} addresses to send it to.`
        : `“${wrong.slice(0, 80)}” is not an e-mail address. Correct it first.`,
      'to',
    );
  const row = {
    id: mail.id,
    kind: mail.kind,
    accountId: mail.accountId,
    aboutId: mail.aboutId,
    senderName: oneLine(business.name),
    replyTo: isMailAddress(business.email) ? business.email : '',
    recipients: to,
    subjectLine: oneLine(mail.subject).slice(0, subjectMax),
    body: mail.text,
    queuedBy: scope.actor.personId,
    queuedAt: scope.now,
  };
  const attachments = mail.attachments.map(({ fileName, mediaType, from }, index) => ({
    position: index + 1,
    fileName,
    mediaType,
    storageKey: 'storageKey' in from ? from.storageKey : null,
    statementId: 'statementId' in from ? from.statementId : null,
  }));
  if (!(await insertMail(scope.tx, row, attachments)))
    return refuse('id_reused', 'That id is another mail already.', 'id');
  await record(scope, 'mail_queued', { kind: 'mail', id: mail.id }, { about: mail.aboutId, to });
  await enqueueJob(scope.tx, 'send_mail', mail.id);
  return ok(mail.id);
}

/** Names of businesses and accounts are people's writing: a line break in one must not begin another header. */
function oneLine(text: string): string {
  return text.replaceAll(/\p{Cc}+/gu, ' ').trim();
}
