import { formatDecimal, formatMinor, materialOfPart, type VehiclePart } from '@grainwright/domain';
import type { LineInput, WorkOrderLineView } from '@grainwright/operations';
import type { FormValues } from '../../../plugins/forms.ts';

/** Fields of the first screen: where the damage is. Named as in the API. */
export const damageFields = ['part', 'side', 'damage', 'visible_when'] as const;

/** Fields of the screen after it: what the material did. */
export const materialFields = ['observation', 'looks_like'] as const;

/** Fields of the last screen: how it is repaired and at what price. */
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
  const found = foundIn(form);
  return {
    part: form.text('part'),
    side: form.text('side'),
    damage: form.text('damage'),
    visibleWhen: form.text('visible_when'),
    ...found,
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

/** What was found, by the one button of its screen, else as the screens after it carry it along. */
function foundIn(form: FormValues): Pick<LineInput, 'observation' | 'looksLike'> {
  const pressed = form.text('finding');
  if (pressed === '') return { observation: form.text('observation'), looksLike: form.text('looks_like') };
  if (pressed === nothingToTest) return { observation: '', looksLike: '' };
  const [observation = '', looksLike = ''] = pressed.split(':');
  return { observation, looksLike };
}

/** What a part tells of itself, so that nobody is asked: null where it may be made of several things. */
export function toldByPart(part: VehiclePart): Pick<LineInput, 'observation' | 'looksLike'> | null {
  if (part === 'key_remote') return { observation: '', looksLike: '' };
  const looksLike = materialOfPart(part);
  return looksLike === null ? null : { observation: 'by_eye', looksLike };
}

/** What the button sends where there is nothing to test. */
export const nothingToTest = 'nothing';

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
