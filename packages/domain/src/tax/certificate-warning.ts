import { addDays, contains, type Day, daysBetween } from '../dates.ts';
import type { ExemptionCertificate } from './tax-setup.ts';

/** Work is about to be taxed for want of a certificate, or is taxed already although there was one. */
export type CertificateWarning =
  | {
      readonly kind: 'ending';
      readonly number: string;
      /** The last day of work that it exempts. */
      readonly lastDay: Day;
      readonly daysLeft: number;
    }
  | { readonly kind: 'ended'; readonly number: string; readonly lastDay: Day };

/**
 * What to ask an account for in time: a certificate that ends within `warnedDays` without another that goes on from
 * the day after, or one that has ended. `on` is the date of work, or today. Null while all is well, and for an
 * account that never had one.
 */
export function certificateWarning(
  certificates: readonly ExemptionCertificate[],
  on: Day,
  warnedDays: number,
): CertificateWarning | null {
  const held = certificates.filter((certificate) => certificate.valid.from <= on);
  const last = latestEnd(held);
  if (last === null || last.valid.to === null) return null;
  if (!held.some((certificate) => contains(certificate.valid, on)))
    return { kind: 'ended', number: last.number, lastDay: last.valid.to };
  const renewed = renewedFrom(certificates, last);
  if (renewed.valid.to === null) return null;
  const daysLeft = daysBetween(on, renewed.valid.to);
  if (daysLeft > warnedDays) return null;
  return { kind: 'ending', number: renewed.number, lastDay: renewed.valid.to, daysLeft };
}

/** The certificate that is valid longest. */
function latestEnd(certificates: readonly ExemptionCertificate[]): ExemptionCertificate | null {
  return certificates.reduce<ExemptionCertificate | null>(
    (latest, certificate) => (latest !== null && endsBefore(certificate, latest) ? latest : certificate),
    null,
  );
}

/** Where the chain of certificates that follow each other without a gap ends. */
function renewedFrom(
  certificates: readonly ExemptionCertificate[],
  last: ExemptionCertificate,
): ExemptionCertificate {
  const { to } = last.valid;
  if (to === null) return last;
  const next = latestEnd(
    certificates.filter(
      (certificate) => certificate.valid.from <= addDays(to, 1) && endsBefore(last, certificate),
    ),
  );
  return next === null ? last : renewedFrom(certificates, next);
}

function endsBefore(one: ExemptionCertificate, other: ExemptionCertificate): boolean {
  if (one.valid.to === null) return false;
  return other.valid.to === null || one.valid.to < other.valid.to;
}
