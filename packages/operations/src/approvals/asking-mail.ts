import { displayMoney, displayPercent, savings } from '@grainwright/domain';
import type { JobScope } from '../job-scope.ts';
import type { MadeLink } from '../links/make-link.ts';
import type { MailToQueue } from '../mail/queue-mail.ts';
import type { AskedEstimate } from './asked-estimate.ts';

export interface AskingMail {
  /** Who is asked. */
  readonly name: string;
  /** Who asks, by name. */
  readonly askedBy: string;
  readonly estimates: readonly AskedEstimate[];
  readonly link: Pick<MadeLink, 'mark' | 'lastDayWords'>;
  /** Why they are asked, where it is not plain: somebody’s limit, ticks that came along. By estimate. */
  readonly whyOf: (estimate: AskedEstimate) => string;
  /** Said first, where there was a question before. */
  readonly lead?: string;
}

/** What, how much, who asks, and the link: the mail by which somebody is asked for an answer. */
export function askingMail(
  { business }: Pick<JobScope, 'business'>,
  { name, askedBy, estimates, link, whyOf, lead }: AskingMail,
): Pick<MailToQueue, 'subject' | 'text' | 'attachments'> {
  const [first] = estimates;
  if (first === undefined) throw new Error('a mail that asks about nothing');
  const several = estimates.length > 1;
  const amount = displayMoney(first.totalMinor, first.currency);
  const subject = several
    ? `${estimates.length} vehicles wait for your answer`
    : `${headOf(first)}: ${amount}, yes or no?`;
  const lines = [
    `${name},`,
    '',
    ...(lead === undefined ? [] : [lead]),
    several
      ? `${business.name} asks for your answer about ${estimates.length} vehicles.`
      : `${business.name} asks for your answer about a vehicle.`,
    ...estimates.flatMap((estimate) => ['', ...estimateLines(estimate, whyOf(estimate))]),
    '',
    'See the pictures and answer here:',
    link.mark,
    '',
    `The link needs no password and is yours alone: do not forward it. It opens through ${link.lastDayWords}.`,
    'Opening it changes nothing. You answer with a button on the page, after you have seen the total.',
    '',
    ...closing({ business }, askedBy),
  ];
  return { subject, text: `${lines.join('\n')}\n`, attachments: [] };
}

/** Who writes, by name where that is known, and where questions go. */
export function closing({ business }: Pick<JobScope, 'business'>, by: string): readonly string[] {
  const questions = [business.phone, business.email].filter((part) => part.trim() !== '').join(', ');
  return [by, business.name, questions === '' ? '' : `Questions: ${questions}`].filter((line) => line !== '');
}

/** The vehicle by its words and the account’s numbers, e.g. “2025 Ostra Vela, gray (stock number PL-251)”. */
export function headOf({ vehicle, numbers }: Pick<AskedEstimate, 'vehicle' | 'numbers'>): string {
  return numbers === '' ? vehicle : `${vehicle} (${numbers})`;
}

function estimateLines(asked: AskedEstimate, why: string): readonly string[] {
  const { estimate, currency, totalMinor, number } = asked;
  const amount = (minor: bigint) => displayMoney(minor, currency);
  return [
    `${headOf(asked)}, WO-${number}`,
    ...estimate.lines.map((line) => `- ${line.description}: ${amount(line.netMinor)}`),
    `Total with charges and tax: ${amount(totalMinor)}`,
    ...newPartLine(asked),
    ...(why === '' ? [] : [why]),
  ];
}

function newPartLine({ newPartMinor, netMinor, currency }: AskedEstimate): readonly string[] {
  if (newPartMinor === null) return [];
  const quoted = `A new part, fitted, was quoted at ${displayMoney(newPartMinor, currency)} before tax`;
  const saved = savings(newPartMinor, netMinor);
  if (saved === null || saved.savedMinor <= 0n) return [`${quoted}.`];
  return [
    `${quoted}: the repair is ${displayMoney(saved.savedMinor, currency)} less, ${displayPercent(saved.percent)}.`,
  ];
}
