import {
  findMessage,
  findPerson,
  findStaffMember,
  findWorkOrder,
  hasMailAbout,
  type JoinedWorkOrder,
  listEmailsOf,
  listMailedContacts,
  type MailedContact,
  type ShownMessage,
} from '@grainwright/db';
import { type MailId, type MessageId, ok, type Result, type TenantId, toId } from '@grainwright/domain';
import { type JobScope, jobScope } from '../job-scope.ts';
import { makeContactLink } from '../links/make-link.ts';
import { isMailAddress } from '../mail/mail-address.ts';
import { queueMail } from '../mail/queue-mail.ts';
import type { Services } from '../services.ts';
import { vehicleWords } from '../work-orders/vehicle-words.ts';

export interface MessageToMail {
  readonly tenantId: TenantId;
  readonly messageId: MessageId;
}

type Mailing = Pick<Services, 'database' | 'links' | 'now' | 'newId'>;

/** For so long a message's link opens. */
const linkDays = 14;

/**
 * The worker's part: a message goes to the other side. One of the account's to the technician of the visit or, where
 * mail does not reach them, to the business; one of the business's to the contacts who were asked or wrote, each with a
 * link of their own, or where nobody was to the account's approvers. Nobody who has left gets it. Done twice it mails
 * once.
 */
export function mailMessage(
  services: Mailing,
  { tenantId, messageId }: MessageToMail,
): Promise<Result<'done'>> {
  return services.database.withTenant({ role: 'staff', tenantId }, async (tx) => {
    const message = await findMessage(tx, messageId);
    const found = message && (await findWorkOrder(tx, message.workOrderId));
    if (message === null || found === null) throw new Error(`there is no message ${messageId}`);
    if (await hasMailAbout(tx, 'message', messageId)) return ok('done');
    const scope = await jobScope(services, tx, message.authorId);
    const author = (await findPerson(tx, message.authorId))?.name ?? '';
    const told = { scope, message, found, author };
    return message.side === 'account' ? toBusiness(services, told) : toContacts(services, told);
  });
}

interface Told {
  readonly scope: JobScope;
  readonly message: ShownMessage;
  readonly found: JoinedWorkOrder;
  readonly author: string;
}

async function toBusiness({ links }: Mailing, told: Told): Promise<Result<'done'>> {
  const { scope, message, found, author } = told;
  const to = await addressOfBusiness(scope, found);
  if (to === null) return ok('done');
  const where = `${links.publicUrl}/field/work-orders/${message.workOrderId}/messages`;
  return mail(scope, message, {
    to,
    subject: `Question about ${aboutWords(found)}`,
    lines: [
      `${author} of ${found.account.name} wrote about ${aboutWords(found)}:`,
      ...quoted(message.text),
      `Answer here: ${where}`,
    ],
  });
}

/** Of the technician, while they are there and mail reaches them; else of the business. */
export async function addressOfBusiness(
  scope: JobScope,
  { visit }: Pick<JoinedWorkOrder, 'visit'>,
): Promise<string | null> {
  const { tx, now, business } = scope;
  const technician = await findStaffMember(tx, visit.technicianId, now);
  const own = technician && (await listEmailsOf(tx, [technician.personId])).get(technician.personId);
  return [own ?? '', business.email].find(isMailAddress) ?? null;
}

async function toContacts(services: Mailing, told: Told): Promise<Result<'done'>> {
  const { scope, message, found, author } = told;
  for (const contact of await contactsToTell(scope, message)) {
    const link = await makeContactLink(scope, services, {
      accountId: message.accountId,
      personId: contact.personId,
      workOrderId: message.workOrderId,
      validDays: linkDays,
    });
    if (link === null) continue;
    const mailed = await mail(scope, message, {
      to: contact.email,
      subject: `Message about ${aboutWords(found)}`,
      lines: [
        `${contact.name},`,
        '',
        `${author} of ${scope.business.name} wrote about ${aboutWords(found)}:`,
        ...quoted(message.text),
        'Look and answer here:',
        link.mark,
        '',
        `The link needs no password and is yours alone: do not forward it. It opens through ${link.lastDayWords}.`,
      ],
    });
    if (!mailed.ok) return mailed;
  }
  return ok('done');
}

async function contactsToTell(
  { tx, now, business }: JobScope,
  message: ShownMessage,
): Promise<readonly MailedContact[]> {
  const all = await listMailedContacts(tx, message, { now, timeZone: business.timeZone });
  const reached = all.filter(({ email }) => isMailAddress(email));
  const involved = reached.filter((contact) => contact.involved);
  return involved.length > 0 ? involved : reached.filter(({ role }) => role === 'approver');
}

interface Words {
  readonly to: string;
  readonly subject: string;
  readonly lines: readonly string[];
}

async function mail(
  scope: JobScope,
  { id: aboutId, accountId }: ShownMessage,
  { to, subject, lines }: Words,
): Promise<Result<'done'>> {
  const queued = await queueMail(scope, {
    id: toId<MailId>(scope.newId()),
    kind: 'message',
    accountId,
    aboutId,
    to: [to],
    subject,
    text: `${[...lines, '', scope.business.name].join('\n')}\n`,
    attachments: [],
  });
  return queued.ok ? ok('done') : queued;
}

/** Each line behind a sign of its own: nothing that somebody writes looks like our words. */
/** Somebody’s own words in a mail, each line marked, so that none of them can pass for ours. */
export function quoted(text: string): readonly string[] {
  return ['', ...text.split(/\r\n|[\n\r\u2028\u2029]/).map((line) => `> ${line}`), ''];
}

/** “2025 Ostra Vela, WO-1004” */
function aboutWords({ vehicle, workOrder }: JoinedWorkOrder): string {
  return `${vehicleWords(vehicle)}, WO-${workOrder.number}`;
}
