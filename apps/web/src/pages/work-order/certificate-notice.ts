import type { CertificateWarning } from '@grainwright/domain';
import { dayText } from '../../look/figures.ts';
import type { Html } from '../../look/html.ts';
import { notice } from '../../look/notices.ts';

/** Says that work is about to be taxed, or is, for want of a certificate; to the business or to its customer. */
export function certificateNotice(
  warning: CertificateWarning | null,
  reader: 'business' | 'customer',
): Html | null {
  if (warning === null) return null;
  const whose = reader === 'business' ? 'Certificate' : 'Your certificate';
  const ask = reader === 'business' ? 'Ask for a new one' : 'Send us a new one';
  const last = dayText(warning.lastDay);
  if (warning.kind === 'ended')
    return notice(
      'problem',
      `${whose} ${warning.number} ended on ${last}`,
      `Work after that day is taxed. ${ask}.`,
    );
  return notice(
    'problem',
    `${whose} ${warning.number} ends on ${last}`,
    `Work after that day is taxed. ${ask} now.`,
  );
}
