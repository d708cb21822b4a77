import { formatDecimal, formatMinor } from '@grainwright/domain';
import type { BusinessView, ChangeBusinessSettingsInput } from '@grainwright/operations';
import type { FormValues } from '../../../plugins/forms.ts';

export const settingFields = [
  'name',
  'address',
  'phone',
  'email',
  'document_note',
  'estimate_valid_days',
  'small_difference',
  'return_fee',
  'late_charge_percent',
  'late_charge_grace_days',
  'write_off_reclaims_tax',
  'duplicate_days',
  'comeback_days',
  'warranty_days',
  'acceptance_link_days',
  'acceptance_copy_days',
  'certificate_warning_days',
  'page_size',
] as const;
type SettingField = (typeof settingFields)[number];

/** What stands in the form, as text; a tick is `yes` or nothing. */
export type SettingsForm = Readonly<Record<SettingField, string>> & { readonly revision: number };

export function settingsShown(business: BusinessView): SettingsForm {
  const amount = (minor: bigint) => formatMinor(minor, business.currency);
  return {
    revision: business.settingsRevision,
    name: business.name,
    address: business.address,
    phone: business.phone,
    email: business.email,
    document_note: business.documentNote,
    estimate_valid_days: String(business.estimateValidDays),
    small_difference: amount(business.smallDifferenceMinor),
    return_fee: amount(business.returnFeeMinor),
    late_charge_percent: formatDecimal(business.lateChargePercent),
    late_charge_grace_days: String(business.lateChargeGraceDays),
    write_off_reclaims_tax: business.writeOffReclaimsTax ? 'yes' : '',
    duplicate_days: String(business.duplicateDays),
    comeback_days: String(business.comebackDays),
    warranty_days: String(business.warrantyDays),
    acceptance_link_days: String(business.acceptanceLinkDays),
    acceptance_copy_days: String(business.acceptanceCopyDays),
    certificate_warning_days: String(business.certificateWarningDays),
    page_size: business.pageSize,
  };
}

export function settingsTyped(form: FormValues): SettingsForm {
  const text = (name: SettingField) => form.text(name);
  return {
    revision: Number(form.text('revision')),
    name: text('name'),
    address: text('address'),
    phone: text('phone'),
    email: text('email'),
    document_note: text('document_note'),
    estimate_valid_days: text('estimate_valid_days'),
    small_difference: text('small_difference'),
    return_fee: text('return_fee'),
    late_charge_percent: text('late_charge_percent'),
    late_charge_grace_days: text('late_charge_grace_days'),
    write_off_reclaims_tax: form.checked('write_off_reclaims_tax') ? 'yes' : '',
    duplicate_days: text('duplicate_days'),
    comeback_days: text('comeback_days'),
    warranty_days: text('warranty_days'),
    acceptance_link_days: text('acceptance_link_days'),
    acceptance_copy_days: text('acceptance_copy_days'),
    certificate_warning_days: text('certificate_warning_days'),
    page_size: text('page_size'),
  };
}

export function settingsInput(form: SettingsForm): ChangeBusinessSettingsInput {
  return {
    revision: form.revision,
    name: form.name,
    address: form.address,
    phone: form.phone,
    email: form.email,
    documentNote: form.document_note,
    estimateValidDays: form.estimate_valid_days,
    smallDifference: form.small_difference,
    returnFee: form.return_fee,
    lateChargePercent: form.late_charge_percent,
    lateChargeGraceDays: form.late_charge_grace_days,
    writeOffReclaimsTax: form.write_off_reclaims_tax === 'yes',
    duplicateDays: form.duplicate_days,
    comebackDays: form.comeback_days,
    warrantyDays: form.warranty_days,
    acceptanceLinkDays: form.acceptance_link_days,
    acceptanceCopyDays: form.acceptance_copy_days,
    certificateWarningDays: form.certificate_warning_days,
    pageSize: form.page_size,
  };
}
