import { addDays, type Day, dayWords, parseDay, type Result, refuse } from '@grainwright/domain';
import { everyResult } from '../every-result.ts';

export interface ReportDaysInput {
  /** Both days are in the report. */
  readonly from: string;
  readonly to: string;
}

export interface ReportDays {
  readonly from: Day;
  readonly to: Day;
}

const daysMax = 366;

/** The days of a report: in their order and a year at most. */
export function readReportDays(input: ReportDaysInput): Result<ReportDays> {
  const days = everyResult({
    from: parseDay(input.from.trim(), 'from'),
    to: parseDay(input.to.trim(), 'to'),
  });
  if (!days.ok) return days;
  const { from, to } = days.value;
  if (to < from)
    return refuse(
      'dates_out_of_order',
      `It would end on ${dayWords(to)}, before it starts on ${dayWords(from)}.`,
      'to',
    );
  if (to >= addDays(from, daysMax))
    return refuse('invalid_date', 'Choose a year at most, so that it stays readable.', 'to');
  return days;
}
