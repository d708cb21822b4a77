import { expect, test } from 'vitest';
import { day } from '../dates.ts';
import { certificateWarning } from './certificate-warning.ts';
import type { ExemptionCertificate } from './tax-setup.ts';

// Common practice, no source: a certificate counts by the date of work, and one is asked for thirty days ahead.
const warned = (certificates: readonly ExemptionCertificate[], on: string) =>
  certificateWarning(certificates, day(on), 30);

function paper(from: string, to: string | null, number = 'KV-RS-20417'): ExemptionCertificate {
  return { kind: 'resale', number, valid: { from: day(from), to: to === null ? null : day(to) } };
}

const untilSeptember = paper('2026-01-01', '2026-09-30');

test('thirty days before the last day the warning begins, and not a day earlier', () => {
  expect(warned([untilSeptember], '2026-08-30')).toBeNull();
  expect(warned([untilSeptember], '2026-08-31')).toEqual({
    kind: 'ending',
    number: 'KV-RS-20417',
    lastDay: '2026-09-30',
    daysLeft: 30,
  });
  expect(warned([untilSeptember], '2026-09-30')).toMatchObject({ kind: 'ending', daysLeft: 0 });
});

test('from the day after its last day on it has ended', () => {
  expect(warned([untilSeptember], '2026-10-01')).toEqual({
    kind: 'ended',
    number: 'KV-RS-20417',
    lastDay: '2026-09-30',
  });
});

test('an account that never had a certificate, or has one without an end, is not warned', () => {
  expect(warned([], '2026-10-14')).toBeNull();
  expect(warned([paper('2026-01-01', null)], '2026-10-14')).toBeNull();
  expect(warned([paper('2027-01-01', '2027-12-31')], '2026-10-14')).toBeNull();
});

test('a renewal that goes on from the day after takes the warning away until it ends itself', () => {
  const renewal = paper('2026-10-01', '2027-09-30', 'KV-RS-31008');
  expect(warned([untilSeptember, renewal], '2026-09-20')).toBeNull();
  expect(warned([untilSeptember, renewal], '2027-09-10')).toMatchObject({
    number: 'KV-RS-31008',
    daysLeft: 20,
  });
});

test('a renewal that leaves a gap does not', () => {
  const late = paper('2026-10-05', '2027-09-30', 'KV-RS-31008');
  expect(warned([untilSeptember, late], '2026-09-20')).toMatchObject({
    kind: 'ending',
    lastDay: '2026-09-30',
  });
  expect(warned([untilSeptember, late], '2026-10-02')).toMatchObject({
    kind: 'ended',
    lastDay: '2026-09-30',
  });
});
