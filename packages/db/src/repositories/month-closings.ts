import type { Day } from '@grainwright/domain';
import { and, desc, eq, inArray } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { monthClosings } from '../schema/months.ts';

/** Those of the months, given by their first days, whose books are closed. */
export async function listClosedMonths(
  tx: TenantTransaction,
  months: readonly Day[],
): Promise<readonly Day[]> {
  if (months.length === 0) return [];
  const rows = await tx
    .select({ month: monthClosings.month, action: monthClosings.action })
    .from(monthClosings)
    .where(and(eq(monthClosings.tenantId, tx.tenantId), inArray(monthClosings.month, [...months])))
    .orderBy(monthClosings.month, desc(monthClosings.doneAt), desc(monthClosings.id));
  const latest = [...Map.groupBy(rows, (row) => row.month).values()].flatMap((ofMonth) =>
    ofMonth.slice(0, 1),
  );
  return latest.filter((each) => each.action === 'closed').map((each) => each.month);
}
