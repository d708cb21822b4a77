import type { CertificateWarning } from '@grainwright/domain';
import type { z } from 'zod';
import type { certificateWarningAnswer } from './schemas.ts';

export function answerCertificateWarning(
  warning: CertificateWarning | null,
): z.input<typeof certificateWarningAnswer> {
  return (
    warning && {
      kind: warning.kind,
      number: warning.number,
      last_day: warning.lastDay,
      days_left: warning.kind === 'ending' ? warning.daysLeft : null,
    }
  );
}
