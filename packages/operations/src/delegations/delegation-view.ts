import type { ListedDelegation } from '@grainwright/db';
import { type Day, dayWords, displayMoney } from '@grainwright/domain';

/** Who answers for whom, from which day to which, and where that stands. Amounts are minor units. */
export interface DelegationView extends Omit<ListedDelegation, 'stillThere'> {
  readonly standing: 'not_yet' | 'counts' | 'over' | 'taken_back' | 'somebody_left';
}

export function delegationView(row: ListedDelegation, today: Day): DelegationView {
  const { stillThere, ...shown } = row;
  return { ...shown, standing: standingOf(row, today) };
}

function standingOf(
  { validFrom, validTo, endedAt, stillThere }: ListedDelegation,
  today: Day,
): DelegationView['standing'] {
  if (endedAt !== null) return 'taken_back';
  if (validTo < today) return 'over';
  if (!stillThere) return 'somebody_left';
  return validFrom > today ? 'not_yet' : 'counts';
}

/** “Thea Winslow answers for Gideon Marsh from Nov 30 to Dec 4, 2026, up to $250.00”. */
export function delegationWords(view: DelegationView, currency: string): string {
  const { fromName, toName, validFrom, validTo, limitMinor } = view;
  const limit = limitMinor === null ? '' : `, up to ${displayMoney(limitMinor, currency)}`;
  return `${toName} answers for ${fromName} from ${dayWords(validFrom)} to ${dayWords(validTo)}${limit}`;
}
