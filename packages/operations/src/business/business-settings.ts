import type { Business } from '@grainwright/db';
import {
  formatDecimal,
  formatMinor,
  type JsonValue,
  ok,
  parseMoney,
  type Result,
  refuse,
} from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { readOptionalWords, readPercent, readWords } from '../read-input.ts';

/** What the owner may change of the business, as text. */
export interface BusinessSettingsInput {
  readonly name: string;
  readonly address: string;
  readonly phone: string;
  readonly email: string;
  readonly documentNote: string;
  readonly estimateValidDays: string;
  readonly smallDifference: string;
  readonly returnFee: string;
  readonly lateChargePercent: string;
  readonly lateChargeGraceDays: string;
  readonly writeOffReclaimsTax: boolean;
  readonly duplicateDays: string;
  readonly comebackDays: string;
  readonly warrantyDays: string;
  readonly acceptanceLinkDays: string;
  readonly acceptanceCopyDays: string;
  readonly certificateWarningDays: string;
  readonly pageSize: string;
}

/** The same as it is stored. */
export type BusinessSettings = Pick<
  Business,
  | 'name'
  | 'address'
  | 'phone'
  | 'email'
  | 'documentNote'
  | 'estimateValidDays'
  | 'smallDifferenceMinor'
  | 'returnFeeMinor'
  | 'lateChargePercent'
  | 'lateChargeGraceDays'
  | 'writeOffReclaimsTax'
  | 'duplicateDays'
  | 'comebackDays'
  | 'warrantyDays'
  | 'acceptanceLinkDays'
  | 'acceptanceCopyDays'
  | 'certificateWarningDays'
  | 'pageSize'
>;

/** Reads the settings; the first thing that can't be is refused with `invalid_input` or `invalid_money` at its field. */
export function readSettings(input: BusinessSettingsInput, currency: string): Result<BusinessSettings> {
  const money = (text: string, field: string) => parseMoney(text, { currency, field });
  return everyResult({
    name: readWords(input.name, 'name', 'the name of the business', 200),
    address: readOptionalWords(input.address, 'address', 'the address', 500),
    phone: readOptionalWords(input.phone, 'phone', 'the telephone number', 40),
    email: readEmail(input.email),
    documentNote: readOptionalWords(input.documentNote, 'document_note', 'the note', 2000),
    estimateValidDays: readDays(input.estimateValidDays, 'estimate_valid_days', 1, 365),
    smallDifferenceMinor: money(input.smallDifference, 'small_difference'),
    returnFeeMinor: money(input.returnFee, 'return_fee'),
    lateChargePercent: readPercent(input.lateChargePercent, 'late_charge_percent'),
    lateChargeGraceDays: readDays(input.lateChargeGraceDays, 'late_charge_grace_days', 0, 365),
    writeOffReclaimsTax: ok(input.writeOffReclaimsTax),
    duplicateDays: readDays(input.duplicateDays, 'duplicate_days', 0, 365),
    comebackDays: readDays(input.comebackDays, 'comeback_days', 0, 1000),
    warrantyDays: readDays(input.warrantyDays, 'warranty_days', 0, 1000),
    acceptanceLinkDays: readDays(input.acceptanceLinkDays, 'acceptance_link_days', 1, 90),
    acceptanceCopyDays: readDays(input.acceptanceCopyDays, 'acceptance_copy_days', 1, 3650),
    certificateWarningDays: readDays(input.certificateWarningDays, 'certificate_warning_days', 0, 365),
    pageSize: readPageSize(input.pageSize),
  });
}

/** The settings as plain words, for the record and to tell what changed. */
export function settingsWords(
  settings: BusinessSettings,
  currency: string,
): Readonly<Record<string, JsonValue>> {
  return {
    name: settings.name,
    address: settings.address,
    phone: settings.phone,
    email: settings.email,
    document_note: settings.documentNote,
    estimate_valid_days: settings.estimateValidDays,
    small_difference: formatMinor(settings.smallDifferenceMinor, currency),
    return_fee: formatMinor(settings.returnFeeMinor, currency),
    late_charge_percent: formatDecimal(settings.lateChargePercent),
    late_charge_grace_days: settings.lateChargeGraceDays,
    write_off_reclaims_tax: settings.writeOffReclaimsTax,
    duplicate_days: settings.duplicateDays,
    comeback_days: settings.comebackDays,
    warranty_days: settings.warrantyDays,
    acceptance_link_days: settings.acceptanceLinkDays,
    acceptance_copy_days: settings.acceptanceCopyDays,
    certificate_warning_days: settings.certificateWarningDays,
    page_size: settings.pageSize,
  };
}

function readEmail(text: string): Result<string> {
  const email = readOptionalWords(text, 'email', 'the e-mail address', 254);
  if (!email.ok || email.value === '' || /^[^\s@<>,;"]+@[^\s@<>,;"]+$/.test(email.value)) return email;
  return refuse('invalid_input', 'Write one e-mail address, like office@example.com.', 'email');
}

function readDays(text: string, field: string, least: number, most: number): Result<number> {
  const plain = text.trim();
  const days = Number(plain);
  return /^\d{1,4}$/.test(plain) && days >= least && days <= most
    ? ok(days)
    : refuse('invalid_input', `Write a whole number of days from ${least} to ${most}.`, field);
}

function readPageSize(text: string): Result<Business['pageSize']> {
  if (text === 'letter' || text === 'a4') return ok(text);
  return refuse('invalid_input', 'Choose US Letter or A4.', 'page_size');
}
