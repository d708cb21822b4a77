import {
  type ComebackRow,
  countComebacks,
  type DeclinedFigures,
  findTurnaround,
  type SavingsFigures,
  sumDeclined,
  sumSavings,
  type Turnaround,
} from '@grainwright/db';
import { type Day, ok, type Result } from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';
import { type ReportDaysInput, readReportDays } from './read-report-days.ts';

/** The figures of the trade in some days. Amounts are minor units of `currency`, before tax. */
export interface FiguresView {
  readonly from: Day;
  readonly to: Day;
  readonly currency: string;
  /** A rework counts when it was done within so many days of the first work. */
  readonly comebackDays: number;
  /** Of the work orders invoiced in these days: 1 of 34, say, rather than a percentage of few. */
  readonly comebacks: {
    readonly billed: number;
    readonly cameBack: number;
    readonly technicians: readonly ComebackRow[];
  };
  readonly declined: DeclinedFigures;
  readonly savings: SavingsFigures;
  readonly turnaround: Turnaround;
}

export function readFigures(
  services: Services,
  actor: Actor,
  input: ReportDaysInput,
): Promise<Result<FiguresView>> {
  return performAsStaff(services, actor, 'see_ledger', async ({ tx, business }) => {
    const days = readReportDays(input);
    if (!days.ok) return days;
    const technicians = await countComebacks(tx, days.value, business.comebackDays);
    return ok({
      ...days.value,
      currency: business.currency,
      comebackDays: business.comebackDays,
      comebacks: {
        billed: technicians.reduce((sum, each) => sum + each.billed, 0),
        cameBack: technicians.reduce((sum, each) => sum + each.cameBack, 0),
        technicians,
      },
      declined: await sumDeclined(tx, days.value, business.timeZone),
      savings: await sumSavings(tx, days.value),
      turnaround: await findTurnaround(tx, days.value),
    });
  });
}
