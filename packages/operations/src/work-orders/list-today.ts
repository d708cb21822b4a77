import { type ListedWorkOrder, listWorkOrderRowsOfDay } from '@grainwright/db';
import { type AccountId, type CertificateWarning, ok, parseDay, type Result } from '@grainwright/domain';
import { certificateWarnings } from '../accounts/certificate-warnings.ts';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';
import { rowView } from './row-view.ts';
import type { TodayView } from './work-order-view.ts';

const workOrdersMax = 300;

/** The actor's own stops of a day, today's unless said otherwise, with what each vehicle waits for. */
export function listToday(
  services: Services,
  actor: Actor,
  input: { readonly day?: string | undefined } = {},
): Promise<Result<TodayView>> {
  return performAsStaff(services, actor, 'see_work_orders', async (scope) => {
    const { tx, today, business } = scope;
    const day = input.day === undefined || input.day === '' ? ok(today) : parseDay(input.day, 'day');
    if (!day.ok) return day;
    const rows = await listWorkOrderRowsOfDay(tx, actor.personId, day.value, workOrdersMax);
    const byVisit = Map.groupBy(rows, (row) => row.visit.id);
    const warnings = await certificateWarnings(
      scope,
      rows.map((row) => row.account.id),
      day.value,
    );
    const stops = [...byVisit.values()].flatMap((visit) => stopOf(visit, warnings));
    return ok({ currency: business.currency, day: day.value, stops });
  });
}

function stopOf(
  rows: readonly ListedWorkOrder[],
  warnings: ReadonlyMap<AccountId, CertificateWarning>,
): TodayView['stops'] {
  const [first] = rows;
  if (first === undefined) return [];
  return [
    {
      visitId: first.visit.id,
      account: { id: first.account.id, name: first.account.name },
      site: { id: first.visit.siteId, name: first.siteName, address: first.siteAddress },
      afterHours: first.visit.afterHours,
      certificateWarning: warnings.get(first.account.id) ?? null,
      toSignAtOnce:
        first.account.acceptanceRule === 'vehicle_owner'
          ? 0
          : rows.filter(({ state }) => state === 'done').length,
      workOrders: rows.map(rowView),
    },
  ];
}
