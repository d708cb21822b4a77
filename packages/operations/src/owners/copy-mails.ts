import type { Business } from '@grainwright/db';
import { acceptanceOutcomes, signerRoles } from '@grainwright/domain';
import type { SignedText } from '../evidence/read-signed-text.ts';
import type { MailToQueue } from '../mail/queue-mail.ts';
import { answeredWords } from '../work-orders/moment-words.ts';
import { linesOf, questionsTo } from './owner-mails.ts';

export interface CopyLinkWords {
  /** The address, or what stands for it in a mail. */
  readonly address: string;
  /** “Dec 14, 2026” */
  readonly lastDayWords: string;
}

interface CopyOf {
  readonly business: Pick<Business, 'name' | 'phone' | 'email' | 'timeZone'>;
  /** One, or one for each vehicle of a signature. */
  readonly signed: readonly SignedText[];
  readonly link: CopyLinkWords;
}

/** The signed text, for the signer to keep. */
export function copyMail({
  business,
  signed,
  link,
}: CopyOf): Pick<MailToQueue, 'subject' | 'text' | 'attachments'> {
  return {
    subject: `Your answer about ${aboutWords(signed)}`,
    text: linesOf([
      'This is your copy of what you answered and signed.',
      ...signed.flatMap((each) => ['', ...signedLines(business, each)]),
      '',
      `Read it again, with the pictures, until ${link.lastDayWords}:`,
      link.address,
      'It opens to whoever has this address, so please do not pass it on.',
      'If you want it on paper, ask for it.',
      ...questionsTo(business),
    ]),
    attachments: [],
  };
}

/** What goes with the link of a copy in a text message of somebody's own phone. */
export function copyMessage(
  business: Pick<Business, 'name'>,
  { signed, address, lastDayWords }: Pick<CopyOf, 'signed'> & CopyLinkWords,
): string {
  return `${business.name}: your copy of what you signed about ${aboutWords(signed)}, to read again until ${lastDayWords}: ${address}`;
}

function aboutWords(signed: readonly SignedText[]): string {
  const [first] = signed;
  return signed.length === 1 && first !== undefined
    ? `the ${first.shown.vehicle.description}`
    : `${signed.length} vehicles`;
}

function signedLines(
  business: CopyOf['business'],
  { answer, shown, workOrder, expect }: SignedText,
): readonly string[] {
  const { description, vin, lastEight } = shown.vehicle;
  return [
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
    ...(shown.consent === undefined ? [] : [shown.consent.text]),
    '',
    `Answer: ${acceptanceOutcomes[answer.outcome]}`,
    ...(answer.remark === '' ? [] : [`Remark: ${answer.remark}`]),
    `Signed by: ${answer.signerName}, ${signerRoles[answer.signerRole]}`,
    `On: ${answeredWords(answer, business.timeZone)}`,
    `SHA-256 of what was shown and signed: ${answer.digest}`,
    ...(expect.length === 0 ? [] : ['', 'What to expect:', ...expect.map((sentence) => `- ${sentence}`)]),
  ];
}
