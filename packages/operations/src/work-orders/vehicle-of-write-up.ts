import {
  findVehicleByVin,
  findVehicleOfAccount,
  insertVehicle,
  listVehiclesSeenBefore,
  type VehicleRow,
} from '@grainwright/db';
import { type AccountId, ok, type Result, refuse, toId, type VehicleId } from '@grainwright/domain';
import type { Scope } from '../perform.ts';
import type { ReadWriteUp, WriteUpWords } from './read-write-up.ts';

/** The vehicle that was chosen out of those known; null where none was. Refuses with `not_found`. */
export async function chosenVehicle(
  scope: Scope,
  { accountId, vehicleId }: { readonly accountId: AccountId; readonly vehicleId?: VehicleId | undefined },
): Promise<Result<VehicleRow | null>> {
  if (vehicleId === undefined) return ok(null);
  const found = await findVehicleOfAccount(scope.tx, accountId, vehicleId);
  if (found !== null) return ok(found);
  return refuse(
    'not_found',
    'This account has no such vehicle. Give its VIN, the last 8, or the account’s own number.',
    'vehicle_id',
  );
}

/** A chosen vehicle is identified by what is on record of it, where nothing was typed. */
export function withKnownVin<Words extends WriteUpWords>(words: Words, chosen: VehicleRow | null): Words {
  if (chosen === null || words.vin.trim() !== '' || words.lastEight.trim() !== '') return words;
  return { ...words, vin: chosen.vin ?? '', lastEight: chosen.vin === null ? (chosen.lastEight ?? '') : '' };
}

/** The account's vehicle of that VIN, or with that end of it where no more is known; else a new one. */
export async function findOrMakeVehicle(
  scope: Scope,
  accountId: AccountId,
  read: ReadWriteUp,
): Promise<VehicleRow> {
  const known = await knownVehicle(scope, accountId, read);
  if (known !== null) return known;
  const { vin, lastEight, modelYear, make, model, color } = read;
  const vehicle = {
    id: toId<VehicleRow['id']>(scope.newId()),
    accountId,
    vin,
    lastEight,
    modelYear,
    make,
    model,
    color,
  };
  await insertVehicle(scope.tx, vehicle);
  return { tenantId: scope.tx.tenantId, ...vehicle };
}

async function knownVehicle(
  { tx }: Scope,
  accountId: AccountId,
  { vin, lastEight }: ReadWriteUp,
): Promise<VehicleRow | null> {
  if (vin !== null) return findVehicleByVin(tx, accountId, vin);
  const [seen] = await listVehiclesSeenBefore(tx, accountId, { ownNumber: '', lastEight });
  return seen?.vehicle ?? null;
}

/** What was typed about a vehicle that is on record otherwise. */
export function differences(vehicle: VehicleRow, read: ReadWriteUp): readonly string[] {
  const typed = [read.modelYear, read.make, read.model];
  const known = [vehicle.modelYear, vehicle.make, vehicle.model];
  const differs = typed.some((word, index) => {
    const other = known[index];
    return word !== null && word !== '' && String(word).toLowerCase() !== String(other ?? '').toLowerCase();
  });
  if (!differs) return [];
  const name = known.filter((word) => word !== null && word !== '').join(' ');
  return [
    `This VIN was written up before as ${name === '' ? 'a vehicle without a name' : `a ${name}`}. Is it the right one?`,
  ];
}
