import type { Business } from '@grainwright/db';
import { acceptanceOutcomes, signerRoles } from '@grainwright/domain';
import type { MailToQueue } from '../mail/queue-mail.ts';
import { momentWords } from '../work-orders/moment-words.ts';
import type { OwnersCopy } from './owner-facts.ts';

export interface OwnersLink {
  readonly ownerName: string;
  readonly vehicle: string;
  /** The address, or what stands for it in a mail. */
  readonly address: string;
  /** “Dec 14, 2026” */
  readonly lastDayWords: string;
}

/** What goes with a link to the vehicle's owner, in a mail or a text message of somebody's own phone. */
export function linkMessage(business: Pick<Business, 'name'>, link: Omit<OwnersLink, 'ownerName'>): string {
  return `${business.name}: your ${link.vehicle} is repaired. Please look at the pictures and say how you find it, until ${link.lastDayWords}: ${link.address}`;
}

/** The mail that asks the vehicle's owner to look and to answer. */
export function askingMail(
  business: Pick<Business, 'name' | 'phone' | 'email'>,
  { ownerName, vehicle, address, lastDayWords }: OwnersLink,
): Pick<MailToQueue, 'subject' | 'text' | 'attachments'> {
  return {
    subject: `Your ${vehicle} is repaired: please look and answer`,
    text: lines([
      `Hello ${ownerName},`,
      '',
      `your ${vehicle} is repaired. Please look at what was done, before and after, and say how you find it:`,
      '',
      address,
      '',
      `You need no password. The link opens until ${lastDayWords}, takes one answer and keeps your copy of it.`,
      'It opens your vehicle’s pages to whoever has it, so please do not pass it on.',
      ...questions(business),
    ]),
    attachments: [],
  };
}

/** The signed text, for the signer to keep. */
export function copyMail({
  business,
  signed,
}: OwnersCopy): Pick<MailToQueue, 'subject' | 'text' | 'attachments'> {
  const { answer, shown, workOrder, expect } = signed;
  const { description, vin, lastEight } = shown.vehicle;
  return {
    subject: `Your answer about the ${description}`,
    text: lines([
      'This is your copy of what you answered and signed.',
      '',
      `Vehicle: ${description}`,
      ...(vin === null ? [] : [`VIN: ${vin}`]),
      ...(vin === null && lastEight !== null ? [`VIN ends in: ${lastEight}`] : []),
      `Repaired by: ${business.name}`,
      `Work order: WO-${workOrder.number}`,
      '',
      'What was done:',
      ...shown.work.map(({ text }) => `- ${text}`),
      `Pictures shown: ${shown.photos.length}`,
      '',
      shown.text.text,
      '',
      `Answer: ${acceptanceOutcomes[answer.outcome]}`,
      ...(answer.remark === '' ? [] : [`Remark: ${answer.remark}`]),
      `Signed by: ${answer.signerName}, ${signerRoles[answer.signerRole]}`,
      `On: ${momentWords(answer.acceptedAt, business.timeZone)}`,
      `SHA-256 of what was shown and signed: ${answer.digest}`,
      ...(expect.length === 0 ? [] : ['', 'What to expect:', ...expect.map((sentence) => `- ${sentence}`)]),
      ...questions(business),
    ]),
    attachments: [],
  };
}

function questions({ name, phone, email }: Pick<Business, 'name' | 'phone' | 'email'>): readonly string[] {
  const reached = [phone, email].filter((part) => part.trim() !== '').join(', ');
  return [...(reached === '' ? [] : ['', `Questions: ${reached}`]), '', name];
}

function lines(each: readonly string[]): string {
  return `${each.join('\n')}\n`;
}
