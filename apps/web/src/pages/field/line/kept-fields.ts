import type { LineInput } from '@grainwright/operations';
import { hiddenField } from '../../../look/forms.ts';
import type { Html } from '../../../look/html.ts';

/** What the first screen asked, carried along. */
export function keptDamage(typed: LineInput): readonly Html[] {
  return [
    hiddenField('part', typed.part),
    hiddenField('side', typed.side),
    hiddenField('damage', typed.damage),
    hiddenField('visible_when', typed.visibleWhen),
    hiddenField('rate_code', typed.rateCode),
  ];
}

/** What the material did, or how it was told, carried along. */
export function keptFinding(typed: LineInput): readonly Html[] {
  return [hiddenField('observation', typed.observation), hiddenField('looks_like', typed.looksLike)];
}

/** What the last screen asked, carried along while the others are looked at again. */
export function keptRepair(typed: LineInput): readonly Html[] {
  return [
    hiddenField('overruled_material', typed.overruledMaterial),
    hiddenField('overrule_reason', typed.overruleReason),
    ...typed.methods.map((method) => hiddenField('methods', method)),
    hiddenField('measured_inches', typed.measuredInches),
    hiddenField('family', typed.family),
    hiddenField('rate_code', typed.rateCode),
    hiddenField('factor_code', typed.factorCode),
    hiddenField('by_hand_price', typed.byHandPrice),
    hiddenField('by_hand_reason', typed.byHandReason),
    hiddenField('by_hand_materials_percent', typed.byHandMaterialsPercent),
    hiddenField('note', typed.note),
  ];
}
