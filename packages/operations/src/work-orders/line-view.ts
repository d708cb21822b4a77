import type { WorkOrderLineRow } from '@grainwright/db';
import {
  damageKinds,
  decimal,
  type EstimateLine,
  isKeyRemote,
  materials,
  vehicleParts,
} from '@grainwright/domain';
import { inferredWords, type LineFacts, observedWords } from './line-facts.ts';
import type { LineEntryView, WorkOrderLineView } from './work-order-view.ts';

/** A line for pages and the API, with its price or why it has none, and the answer it got. */
export function lineView(
  { row, ...facts }: LineFacts & { readonly row: WorkOrderLineRow },
  known: {
    readonly priced: EstimateLine | undefined;
    readonly unpriced: string | undefined;
    readonly answer: { readonly answer: 'approved' | 'declined'; readonly reason: string } | undefined;
  },
): WorkOrderLineView {
  const fromBook = known.priced !== undefined && row.byHandMinor === null;
  return {
    id: row.id,
    position: row.position,
    words: facts.label,
    part: vehicleParts[facts.part],
    damage: damageKinds[facts.damage],
    visibleWhen: row.visibleWhen,
    observed: observedWords(facts.finding),
    inferred: inferredWords(facts.finding),
    material: facts.material === null ? '' : materials[facts.material],
    overruleReason: row.overruleReason,
    measuredInches: row.measuredInches,
    rateCode: fromBook ? (known.priced?.code ?? null) : row.rateCode,
    repair: known.priced?.repair ?? null,
    repairsDamage: row.repairsDamage,
    keyRemote: isKeyRemote({ part: facts.part, family: row.family }),
    note: row.note,
    unpriced: known.unpriced ?? null,
    answer: known.answer?.answer ?? null,
    answerReason: known.answer?.reason ?? '',
    entry: entryView(row, facts),
  };
}

function entryView(row: WorkOrderLineRow, facts: LineFacts): LineEntryView {
  const { part, side, damage, finding, methods } = facts;
  const observed = finding?.observed ?? null;
  return {
    part,
    side,
    damage,
    observation: observed?.kind ?? null,
    looksLike: observed !== null && 'looksLike' in observed ? observed.looksLike : null,
    overruledMaterial: finding?.overruled?.material ?? null,
    methods,
    family: row.family,
    rateCode: row.rateCode,
    factorCode: row.factorCode,
    byHand:
      row.byHandMinor === null
        ? null
        : {
            minor: row.byHandMinor,
            reason: row.byHandReason ?? '',
            materialsPercent: row.byHandMaterialsPercent ?? decimal('0'),
          },
  };
}
