import type { Business, StatementHead } from '@grainwright/db';
import { dayWords, moneyWords, monthWords } from '@grainwright/documents';
import { lastDay } from '@grainwright/domain';
import type { MailToQueue } from '../mail/queue-mail.ts';
import { statementFileName } from './statement-file.ts';

/** The words of the mail that a statement goes out with. A credit is told as one, never as a bill. */
export function statementMail(
  business: Pick<Business, 'name' | 'phone' | 'email'>,
  head: Pick<StatementHead, 'id' | 'month' | 'closingMinor' | 'currency'>,
): Pick<MailToQueue, 'subject' | 'text' | 'attachments'> {
  const { id, month, closingMinor, currency } = head;
  const questions = [business.phone, business.email].filter((part) => part.trim() !== '').join(', ');
  const amount = moneyWords(closingMinor < 0n ? -closingMinor : closingMinor, currency);
  const end = dayWords(lastDay(month));
  const standing =
    closingMinor > 0n
      ? `As of ${end}, ${amount} is owed.`
      : closingMinor < 0n
        ? `As of ${end} you have a credit of ${amount}. Nothing is to be paid.`
        : `As of ${end} nothing is owed.`;
  const lines = [
    `Attached is the statement of ${monthWords(month)} from ${business.name}.`,
    '',
    standing,
    ...(questions === '' ? [] : ['', `Questions: ${questions}`]),
    '',
    business.name,
  ];
  return {
    subject: `Statement of ${monthWords(month)} from ${business.name}`,
    text: `${lines.join('\n')}\n`,
    attachments: [
      {
        fileName: statementFileName({ month }, 'pdf'),
        mediaType: 'application/pdf',
        from: { statementId: id },
      },
    ],
  };
}
