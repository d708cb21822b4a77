import { contains, type Day, fromTheStart } from '@grainwright/domain';
import { dayShown } from '../../../look/figures.ts';
import type { Fragment } from '../../../look/html.ts';

/** A period of something in the price book. */
export interface Dated {
  readonly validFrom: Day;
  readonly validTo: Day | null;
}

export function inForce(on: Day): (row: Dated) => boolean {
  return (row) => contains({ from: row.validFrom, to: row.validTo }, on);
}

export function firstDayShown({ validFrom }: Dated): Fragment {
  return validFrom === fromTheStart ? 'the start' : dayShown(validFrom);
}

export function lastDayShown({ validTo }: Dated): Fragment {
  return validTo === null ? 'no end' : dayShown(validTo);
}
