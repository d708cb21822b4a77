import type { CommissionRateId, MonthClosingId } from '@grainwright/domain';
import {
  closeMonth,
  readCommissionRates,
  readMonthClose,
  reopenMonth,
  setCommissionRate,
} from '@grainwright/operations';
import { type Account, must } from '../support/world.ts';

/** Long before anything was posted. */
export const emptyMonth = '2020-01';

/** A commission of the business's technician, and a month that was closed and opened again: once for each business. */
export async function tellBooks({ business }: Account) {
  const { world, owner, technician } = business;
  const { services } = world;
  const [known] = must(await readCommissionRates(services, owner));
  const commissionRate = known?.id ?? world.newId<CommissionRateId>();
  const [, reopened, closed] = must(await readMonthClose(services, owner, { month: null })).trail;
  const monthClosing = closed?.id ?? world.newId<MonthClosingId>();
  const monthReopening = reopened?.id ?? world.newId<MonthClosingId>();
  if (known === undefined) {
    const rate = { personId: technician.personId, percent: '38', validFrom: '2026-01-01', validTo: null };
    must(await setCommissionRate(services, owner, { id: commissionRate, ...rate }));
    const month = '2019-12';
    must(await closeMonth(services, owner, { closingId: monthClosing, month }));
    must(await reopenMonth(services, owner, { closingId: monthReopening, month, reason: 'too early' }));
    must(await closeMonth(services, owner, { closingId: world.newId<MonthClosingId>(), month }));
  }
  return { commissionRate, monthClosing, monthReopening };
}
