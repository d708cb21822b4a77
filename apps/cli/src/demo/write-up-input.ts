import type { LineInput } from '@grainwright/operations';
import type { DemoLine, DemoWorkOrder } from './work-order.ts';

/** What is typed of a vehicle when it is written up. */
export function writeUpOf(workOrder: DemoWorkOrder) {
  return {
    ...workOrder.vehicle,
    lastEight: '',
    ownNumber: workOrder.ownNumber ?? '',
    roNumber: workOrder.roNumber ?? '',
    poNumber: workOrder.poNumber ?? '',
    ownerName: workOrder.owner?.name ?? '',
    ownerPhone: workOrder.owner?.phone ?? '',
    odometerMiles: workOrder.odometerMiles ?? '',
    replacement: workOrder.replacement?.amount ?? '',
    replacementNote: workOrder.replacement?.note ?? '',
  };
}

/** A line with every field that the demo says nothing of left empty. */
export function lineInput(line: DemoLine['line']): LineInput {
  return { ...emptyLine, ...line };
}

const emptyLine: LineInput = {
  part: '',
  side: '',
  damage: '',
  visibleWhen: '',
  observation: '',
  looksLike: '',
  overruledMaterial: '',
  overruleReason: '',
  methods: [],
  measuredInches: '',
  family: '',
  rateCode: '',
  factorCode: '',
  byHandPrice: '',
  byHandReason: '',
  byHandMaterialsPercent: '',
  note: '',
};
