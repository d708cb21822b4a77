import { formatMinor } from '@grainwright/domain';
import type { WorkOrderView } from '@grainwright/operations';

interface Named<State> {
  readonly id: string;
  readonly number: bigint;
  readonly state: State;
  readonly day: string;
}

/** What happened to a work order besides being done and paid. */
export function answerStory(view: WorkOrderView) {
  const amount = (minor: bigint | null) => (minor === null ? null : formatMinor(minor, view.currency));
  const { voided, costs } = view;
  return {
    voided: voided && {
      reason: voided.reason,
      note: voided.note,
      duplicate_of: voided.duplicateOf && named(voided.duplicateOf),
      no_show_fee: amount(voided.noShowFeeMinor),
    },
    rework_of: view.reworkOf && { ...named(view.reworkOf), reason: view.reworkOf.reason },
    came_back: view.cameBack.map((each) => ({ ...named(each), reason: each.reason })),
    not_signed: view.notSigned.map((each) => ({
      id: each.id,
      why: each.why,
      reason: each.reason,
      witness: each.witness,
      recorded_by: each.recordedBy,
      recorded_at: each.recordedAt,
      released: each.released,
    })),
    stop_points: view.stopPoints.map((each) => ({
      id: each.id,
      line_id: each.lineId,
      photo_id: each.photoId,
      note: each.note,
      shown: each.shown,
    })),
    key_tests: view.keyTests.map(({ id, lineId, sheet, verdict, testedAt }) => ({
      id,
      line_id: lineId,
      ...sheet,
      verdict,
      tested_at: testedAt,
    })),
    owner_links: view.ownerLinks.map((each) => ({
      id: each.id,
      owner_name: each.ownerName,
      phone: each.phone,
      email: each.email,
      made_by: each.madeBy,
      made_at: each.madeAt,
      last_day: each.lastDay,
      stands: each.stands,
      outcome: each.outcome,
    })),
    costs: costs && {
      technician_minutes: costs.technicianMinutes,
      materials_cost: amount(costs.materialsCostMinor),
    },
    airbag_lamp_before: view.airbagLamp.before,
    airbag_lamp_after: view.airbagLamp.after,
  };
}

function named<State>({ id, number, state, day }: Named<State>) {
  return { id, number: number.toString(), state, day };
}
