import {
  findMail,
  findShownDeletion,
  type ListedMail,
  listMailAttachments,
  listMails as listRows,
  type OutgoingMailRow,
  type ShownDeletion,
} from '@grainwright/db';
import { type MailId, ok, type Result, refuse } from '@grainwright/domain';
import type { OpenedFile } from '../documents/opened-file.ts';
import { withLinks, withoutLinks } from '../links/link-text.ts';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';
import { attachedFile } from './send-mail.ts';

/** Where a mail stands, as pages say it. */
export const mailStates = {
  queued: 'waiting to be sent',
  sent: 'sent',
  kept: 'kept here',
  failed: 'not sent',
} as const satisfies Record<OutgoingMailRow['state'], string>;

export interface MailList {
  readonly rows: readonly ListedMail[];
  /** Where the next page goes on; null when this is the last. */
  readonly next: MailId | null;
}

/** A mail as its reader gets it. */
export interface MailView extends Omit<OutgoingMailRow, 'tenantId'> {
  readonly attachments: readonly { readonly position: number; readonly fileName: string }[];
  /** What let its words go; null while they are kept. */
  readonly deletion: ShownDeletion | null;
}

const mailsOfAPage = 50;

/** What went out, or would have where no mail server is named, the latest first. */
export function listMails(
  services: Services,
  actor: Actor,
  before: MailId | null,
): Promise<Result<MailList>> {
  return performAsStaff(services, actor, 'see_statements', async ({ tx }) => {
    const found = await listRows(tx, before, mailsOfAPage + 1);
    const rows = found.slice(0, mailsOfAPage);
    return ok({ rows, next: found.length > mailsOfAPage ? (rows.at(-1)?.id ?? null) : null });
  });
}

/**
 * One mail. Where no mail server is named it is shown as its reader would have got it; of a mail that goes out, its
 * links are left out, because they answer in its reader's name, and so are those that open nothing any more.
 */
export async function readMail(services: Services, actor: Actor, id: MailId): Promise<Result<MailView>> {
  const found = await storedMail(services, actor, id);
  if (!found.ok) return found;
  const mail = found.value;
  const linked = mail.state === 'kept' ? await withLinks(services, actor.tenantId, mail.body) : null;
  return ok({ ...mail, body: linked?.made ? linked.text : withoutLinks(mail.body) });
}

function storedMail(services: Services, actor: Actor, id: MailId): Promise<Result<MailView>> {
  return performAsStaff(services, actor, 'see_statements', async ({ tx }) => {
    const mail = await findMail(tx, id);
    if (mail === null) return noSuchMail();
    const attachments = await listMailAttachments(tx, id);
    const { tenantId: _tenantId, ...shown } = mail;
    return ok({
      ...shown,
      deletion: await findShownDeletion(tx, 'mails', id),
      attachments: attachments.map(({ position, fileName }) => ({ position, fileName })),
    });
  });
}

export interface AttachmentAsked {
  readonly mailId: MailId;
  /** From 1, as in `MailView`. */
  readonly position: number;
}

/** What was attached to a mail, as its reader gets it. */
export async function openMailAttachment(
  services: Services,
  actor: Actor,
  { mailId, position }: AttachmentAsked,
): Promise<Result<OpenedFile>> {
  const found = await performAsStaff(services, actor, 'see_statements', async ({ tx }) => {
    const attachments = await listMailAttachments(tx, mailId);
    const attachment = attachments.find((each) => each.position === position);
    return attachment === undefined ? noSuchMail() : ok(attachment);
  });
  return found.ok ? attachedFile(services, actor.tenantId, found.value) : found;
}

function noSuchMail() {
  return refuse('not_found', 'There is no such mail.');
}
