import {
  type DemandedNumber,
  type OwnNumberKind,
  type WaitsFor,
  type WorkOrderState,
  waitsFor,
} from '@grainwright/domain';

/** What of a work order and its account decides what it waits for. */
export interface WaitingRow {
  readonly state: WorkOrderState;
  readonly ownNumber: string;
  readonly roNumber: string;
  readonly poNumber: string;
  readonly account: {
    readonly ownNumberKind: OwnNumberKind | null;
    readonly ownNumberRequired: boolean;
    readonly requiresRo: boolean;
    readonly requiresPo: boolean;
  };
}

/** What a work order waits for, by the numbers its account demands. */
export function waitsForOf({ account, ...row }: WaitingRow): WaitsFor {
  const own = account.ownNumberKind === null ? [] : [account.ownNumberKind];
  const demanded: readonly DemandedNumber[] = [
    ...(account.requiresRo ? (['repair_order'] as const) : []),
    ...(account.requiresPo ? (['purchase_order'] as const) : []),
    ...(account.ownNumberRequired ? own : []),
  ];
  const given: readonly DemandedNumber[] = [
    ...(row.roNumber === '' ? [] : (['repair_order'] as const)),
    ...(row.poNumber === '' ? [] : (['purchase_order'] as const)),
    ...(row.ownNumber === '' ? [] : own),
  ];
  return waitsFor({
    state: row.state,
    reworkWithoutCharge: false,
    demandedNumbers: demanded,
    givenNumbers: given,
  });
}
