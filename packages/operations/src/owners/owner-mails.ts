import type { Business } from '@grainwright/db';
import type { MailToQueue } from '../mail/queue-mail.ts';

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
    text: linesOf([
      `Hello ${ownerName},`,
      '',
      `your ${vehicle} is repaired. Please look at what was done, before and after, and say how you find it:`,
      '',
      address,
      '',
      `You need no password. The link opens until ${lastDayWords}, takes one answer and keeps your copy of it.`,
      'It opens your vehicle’s pages to whoever has it, so please do not pass it on.',
      ...questionsTo(business),
    ]),
    attachments: [],
  };
}

/** Whom to ask, and who wrote it. */
export function questionsTo({
  name,
  phone,
  email,
}: Pick<Business, 'name' | 'phone' | 'email'>): readonly string[] {
  const reached = [phone, email].filter((part) => part.trim() !== '').join(', ');
  return [...(reached === '' ? [] : ['', `Questions: ${reached}`]), '', name];
}

/** One below the other. */
export function linesOf(each: readonly string[]): string {
  return `${each.join('\n')}\n`;
}
