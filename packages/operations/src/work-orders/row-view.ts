import type { ListedWorkOrder } from '@grainwright/db';
import { numberWords, vehicleWords } from './vehicle-words.ts';
import { waitsForOf } from './waiting.ts';
import type { WorkOrderRowView } from './work-order-view.ts';

export function rowView(row: ListedWorkOrder): WorkOrderRowView {
  return {
    id: row.id,
    number: row.number,
    state: row.state,
    waitsFor: waitsForOf(row),
    accountName: row.account.name,
    vehicle: vehicleWords(row.vehicle, row.ownNumber),
    numbers: numberWords({
      ownKind: row.account.ownNumberKind,
      own: row.ownNumber,
      ro: row.roNumber,
      po: row.poNumber,
    }),
    technician: row.technicianName,
    day: row.visit.day,
    repairsMinor: row.decidedRepairsMinor ?? row.estimatedRepairsMinor,
    questionOpen: row.questionOpen,
  };
}
