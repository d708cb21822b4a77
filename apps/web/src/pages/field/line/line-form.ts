import { formatDecimal, formatMinor } from '@grainwright/domain';
import type { LineInput, WorkOrderLineView } from '@grainwright/operations';
import type { FormValues } from '../../../plugins/forms.ts';

/** Fields of the first screen: where the damage is and what the test showed. Named as in the API. */
export const damageFields = ['part', 'side', 'damage', 'visible_when', 'observation', 'looks_like'] as const;

/** Fields of the second screen: how it is repaired and at what price. */
export const repairFields = [
  'overruled_material',
  'overrule_reason',
  'methods',
  'measured_inches',
  'family',
  'factor_code',
  'by_hand_price',
  'by_hand_reason',
  'by_hand_materials_percent',
  'note',
] as const;

export function typedLine(form: FormValues): LineInput {
  return {
    part: form.text('part'),
    side: form.text('side'),
    damage: form.text('damage'),
    visibleWhen: form.text('visible_when'),
    observation: form.text('observation'),
    looksLike: form.text('looks_like'),
    overruledMaterial: form.text('overruled_material'),
    overruleReason: form.text('overrule_reason'),
    methods: form.all('methods'),
    measuredInches: form.text('measured_inches'),
    family: form.text('family'),
    rateCode: form.text('rate_code'),
    factorCode: form.text('factor_code'),
    byHandPrice: form.text('by_hand_price'),
    byHandReason: form.text('by_hand_reason'),
    byHandMaterialsPercent: form.text('by_hand_materials_percent'),
    note: form.text('note'),
  };
}

/** A line as it is on record, as it would be typed. Where its family is known, the measured size picks the rate. */
export function lineOnRecord(line: WorkOrderLineView, currency: string): LineInput {
  const { entry } = line;
  return {
    part: entry.part,
    side: entry.side ?? '',
    damage: entry.damage,
    visibleWhen: line.visibleWhen,
    observation: entry.observation ?? '',
    looksLike: entry.looksLike ?? '',
    overruledMaterial: entry.overruledMaterial ?? '',
    overruleReason: line.overruleReason ?? '',
    methods: entry.methods,
    measuredInches: line.measuredInches === null ? '' : formatDecimal(line.measuredInches),
    family: entry.family,
    rateCode: entry.family === '' ? (entry.rateCode ?? '') : '',
    factorCode: entry.factorCode ?? '',
    byHandPrice: entry.byHand === null ? '' : formatMinor(entry.byHand.minor, currency),
    byHandReason: entry.byHand?.reason ?? '',
    byHandMaterialsPercent: entry.byHand === null ? '' : formatDecimal(entry.byHand.materialsPercent),
    note: line.note,
  };
}
