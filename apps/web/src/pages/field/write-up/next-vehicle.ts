import type { AccountId, Day, SiteId } from '@grainwright/domain';
import { placeKey } from './place-view.ts';

/** The form for one more vehicle of a visit: account, place, day and what the visit is charged for are kept. */
export function nextVehicleAddress(visit: {
  readonly accountId: AccountId;
  readonly siteId: SiteId;
  readonly day: Day;
  readonly afterHours: boolean;
  readonly rush: boolean;
}): string {
  const kept = new URLSearchParams({ place: placeKey(visit), day: visit.day });
  if (visit.afterHours) kept.set('after_hours', 'yes');
  if (visit.rush) kept.set('rush', 'yes');
  return `/field/write-up?${kept}`;
}
