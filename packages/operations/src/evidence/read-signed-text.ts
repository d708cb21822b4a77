import type { AcceptanceRow, ShownAcceptanceRow, TenantTransaction, WorkOrderRow } from '@grainwright/db';
import { type AcceptanceShown, ok, type Result } from '@grainwright/domain';
import { acceptanceView } from '../work-orders/acceptance-view.ts';
import { toldAtHandOver } from '../work-orders/cautions.ts';
import { type WorkHeading, workHeading } from '../work-orders/work-heading.ts';
import { readWork } from '../work-orders/work-lines.ts';
import type { AcceptanceView } from '../work-orders/work-order-view.ts';

/** An answer as it was signed, word for word. */
export interface SignedText {
  readonly workOrder: WorkHeading;
  readonly accountId: WorkOrderRow['accountId'];
  readonly shown: AcceptanceShown;
  readonly answer: AcceptanceView;
  /** How to care for the repair, in sentences; it is no part of what was signed. */
  readonly expect: readonly string[];
}

/** In a transaction of the staff's role. Refuses with `not_found`. */
export async function readSignedText(
  tx: TenantTransaction,
  row: AcceptanceRow | ShownAcceptanceRow,
): Promise<Result<SignedText>> {
  const work = await readWork({ tx }, row.workOrderId);
  if (!work.ok) return work;
  return ok({
    workOrder: workHeading(work.value),
    accountId: work.value.account.id,
    shown: shownIn(row),
    answer: acceptanceView(row),
    expect: toldAtHandOver(work.value),
  });
}

/** Written from a value of this type, and append-only since. */
export function shownIn({ shown }: Pick<AcceptanceRow, 'shown'>): AcceptanceShown {
  return JSON.parse(shown) as AcceptanceShown;
}
