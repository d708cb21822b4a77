import { listPlaces as listPlaceRows, type PlaceRow } from '@grainwright/db';
import { ok, type Result } from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';

export type PlaceView = PlaceRow;

const placesMax = 500;

/** Where a write-up can be made today: the sites of the accounts open to new work, with what each account asks for. */
export function listPlaces(services: Services, actor: Actor): Promise<Result<readonly PlaceView[]>> {
  return performAsStaff(services, actor, 'write_up', async ({ tx, today }) =>
    ok(await listPlaceRows(tx, today, placesMax)),
  );
}
