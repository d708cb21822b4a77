import { listStaffRows, type StaffListRow } from '@grainwright/db';
import { ok, type Result } from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';

const staffMax = 500;

/** Everybody who works or worked for the business; for the staff only. */
export function listStaff(services: Services, actor: Actor): Promise<Result<readonly StaffListRow[]>> {
  return performAsStaff(services, actor, 'see_work_orders', async ({ tx }) =>
    ok(await listStaffRows(tx, staffMax)),
  );
}
