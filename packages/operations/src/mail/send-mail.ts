import {
  findMail,
  listMailAttachments,
  type MailAttachmentRow,
  type MailOutcome,
  type OutgoingMailRow,
  settleMail,
} from '@grainwright/db';
import { type MailId, ok, type Result, refuse, type TenantId } from '@grainwright/domain';
import { toObjectKey } from '@grainwright/evidence';
import type { OpenedFile } from '../documents/opened-file.ts';
import { type LinkedText, withLinks } from '../links/link-text.ts';
import type { Services } from '../services.ts';
import { statementFile } from '../statements/statement-file.ts';
import { readBytes } from '../stored-bytes.ts';
import type { Carried, MailCarrier } from './mail-carrier.ts';

export interface MailToSend {
  readonly tenantId: TenantId;
  readonly mailId: MailId;
  /** Null where no mail server is named: the mail is then kept in the mailbox for people to read. */
  readonly carrier: MailCarrier | null;
}

/** After so many tries it is given up, until somebody asks for it again. */
const triesMax = 10;

/**
 * The worker's part: sends one mail, at least once. What was sent or kept is not sent again. Refuses with `unavailable`
 * what may work later; what the mail server will never take is marked as failed, and that is an answer too. What can’t be attached counts as a
 * try, and is then thrown.
 */
export async function sendMail(
  services: Pick<Services, 'database' | 'objects' | 'links' | 'now'>,
  { tenantId, mailId, carrier }: MailToSend,
): Promise<Result<OutgoingMailRow['state']>> {
  const asWorker = { role: 'worker', tenantId } as const;
  const found = await services.database.withTenant(asWorker, async (tx) =>
    ok({ mail: await findMail(tx, mailId), attachments: await listMailAttachments(tx, mailId) }),
  );
  if (!found.ok) return found;
  const { mail, attachments } = found.value;
  if (mail === null) throw new Error(`there is no mail ${mailId}`);
  if (mail.state !== 'queued') return ok(mail.state);
  const settle = (outcome: MailOutcome) =>
    services.database.withTenant(asWorker, async (tx) => {
      await settleMail(tx, mailId, outcome);
      return ok(outcome.state);
    });
  if (carrier === null) return settle({ state: 'kept', problem: '', settledAt: services.now() });
  const files: OpenedFile[] = [];
  for (const attachment of attachments) {
    try {
      const file = await attachedFile(services, tenantId, attachment);
      if (!file.ok) throw new Error(file.problem.detail);
      files.push(file.value);
    } catch (error) {
      await settle(outcomeOf(notAttached(attachment), mail, services.now()));
      throw error;
    }
  }
  const linked = await withLinks(services, tenantId, mail.body);
  if (!linked.made) return settle(outcomeOf(notLinked(linked), mail, services.now()));
  const carried = await carrier.carry({
    ...mail,
    subject: mail.subjectLine,
    text: linked.text,
    attachments: files,
  });
  const settled = await settle(outcomeOf(carried, mail, services.now()));
  if (settled.ok && settled.value === 'queued' && !carried.carried)
    return refuse('unavailable', carried.problem);
  return settled;
}

function notLinked({ because }: Extract<LinkedText, { made: false }>): Carried {
  return { carried: false, problem: linkProblems[because], forGood: true };
}

const linkProblems = {
  other_key:
    'The database’s password was changed after this mail was written, and its links open nothing any more. Send a new one.',
  closed: 'A link of this mail was taken back or has expired; send a new one.',
} as const;

/** The cause is for the log: it may name what is inside. */
function notAttached({ fileName }: MailAttachmentRow): Carried {
  return { carried: false, problem: `${fileName} could not be attached. Try again later.`, forGood: false };
}

function outcomeOf(carried: Carried, { tries }: OutgoingMailRow, now: MailOutcome['settledAt']): MailOutcome {
  if (carried.carried) return { state: 'sent', problem: '', settledAt: now };
  const givenUp = carried.forGood || tries + 1 >= triesMax;
  return { state: givenUp ? 'failed' : 'queued', problem: carried.problem.slice(0, 500), settledAt: null };
}

/** The bytes of an attachment; a statement's PDF is made where nobody asked for it before. */
export async function attachedFile(
  services: Pick<Services, 'database' | 'objects' | 'links' | 'now'>,
  tenantId: TenantId,
  { fileName, mediaType, storageKey, statementId }: MailAttachmentRow,
): Promise<Result<OpenedFile>> {
  if (statementId !== null) {
    const file = await statementFile(services, { tenantId, statementId, kind: 'pdf' });
    return file.ok ? ok({ ...file.value, fileName }) : file;
  }
  const body = storageKey === null ? null : await readBytes(services.objects, toObjectKey(storageKey));
  if (body === null) throw new Error(`the object store lacks an attachment, ${storageKey}`);
  return ok({ fileName, mediaType, body });
}
