import type { GiveQuoteInput, LineInput } from '@grainwright/operations';
import type { DemoLine, DemoQuote, DemoWorkOrder } from './work-order.ts';

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
    replacement: '',
    replacementNote: '',
  };
}

/** A line with every field that the demo says nothing of left empty. */
export function lineInput(line: DemoLine['line']): LineInput {
  return { ...emptyLine, ...line };
}

/** A quote with what the demo says nothing of left empty. */
export function quoteInput(quote: DemoQuote): Omit<GiveQuoteInput, 'id' | 'workOrderId'> {
  return { ...emptyQuote, ...quote };
}

const emptyQuote = {
  part: '',
  side: '',
  amount: '',
  partPrice: '',
  fittingHours: '',
  hourlyRate: '',
  takenFromId: null,
};

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
