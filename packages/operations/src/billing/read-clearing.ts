import { findClearingMovement, listClearingMovements, sumInClearing } from '@grainwright/db';
import { type ClearingMovementId, ok, type Result, refuse } from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';
import { type ClearingMovementView, clearingMovementView } from './record-clearing.ts';

export interface ClearingView {
  /** What the processor still has to pay out. */
  readonly thereMinor: bigint;
  readonly currency: string;
  /** Latest first. */
  readonly rows: readonly ClearingMovementView[];
  readonly next: ClearingMovementId | null;
}

const rowsOfAPage = 100;

/** Where card payments stand between the processor and the bank. */
export function readClearing(
  services: Services,
  actor: Actor,
  input: { readonly past: ClearingMovementId | null },
): Promise<Result<ClearingView>> {
  return performAsStaff(services, actor, 'see_payments', async ({ tx, business }) => {
    const past = input.past === null ? null : await findClearingMovement(tx, input.past);
    if (input.past !== null && past === null)
      return refuse('not_found', 'There is no such entry to go on from.', 'past');
    const found = await listClearingMovements(tx, past, rowsOfAPage + 1);
    const rows = found.slice(0, rowsOfAPage);
    return ok({
      thereMinor: await sumInClearing(tx),
      currency: business.currency,
      rows: rows.map((row) => clearingMovementView(row, business.currency)),
      next: found.length > rowsOfAPage ? (rows.at(-1)?.id ?? null) : null,
    });
  });
}
