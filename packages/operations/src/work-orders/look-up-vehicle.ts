import {
  findAccountName,
  findVehicleOfAccount,
  type KnownVehicle,
  listVehiclesSeenBefore,
} from '@grainwright/db';
import {
  type AccountId,
  type Day,
  isAsLongAsLastEight,
  lastEightOf,
  ok,
  parseDay,
  parseLastEight,
  parseVin,
  type Result,
  refuse,
  type VehicleId,
} from '@grainwright/domain';
import { type Actor, performAsStaff, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { type EarlierWorkView, earlierWorkOf } from './earlier-work.ts';
import { vehicleWords } from './vehicle-words.ts';

/** What is typed of a vehicle before it is written up. Empty text is nothing. */
export interface LookUpVehicleInput {
  readonly accountId: AccountId;
  readonly ownNumber: string;
  /** The whole VIN, or its last 8. */
  readonly vin: string;
  readonly vehicleId?: VehicleId | undefined;
  /** The day of work; empty: today. */
  readonly day: string;
}

/** A vehicle of the account that it may be. */
export interface KnownVehicleView {
  readonly id: VehicleId;
  /** E.g. “2019 Ostra Vela, gray”. */
  readonly description: string;
  readonly lastEight: string | null;
  readonly ownNumber: string;
  readonly lastWorkOrderNumber: bigint;
  readonly lastDay: Day;
}

export interface VehicleLookUp {
  /** The one seen last is first. */
  readonly known: readonly KnownVehicleView[];
  /** What was written up of it lately, for whichever account, the newest first. */
  readonly earlier: readonly EarlierWorkView[];
}

const knownMax = 5;

/**
 * What this business knows of a vehicle by an account's own number, its VIN or the end of it: what to offer beside the
 * vehicle, and what it was written up for lately. What can't be read of a VIN finds nothing. Refuses with
 * `invalid_date` or `not_found`.
 */
export function lookUpVehicle(
  services: Services,
  actor: Actor,
  input: LookUpVehicleInput,
): Promise<Result<VehicleLookUp>> {
  return performAsStaff(services, actor, 'write_up', async (scope) => {
    if ((await findAccountName(scope.tx, input.accountId)) === null)
      return refuse('not_found', 'There is no such account.');
    const day = input.day.trim() === '' ? ok(scope.today) : parseDay(input.day.trim(), 'day');
    if (!day.ok) return day;
    const typed = await typedVehicle(scope, input);
    const seen = await listVehiclesSeenBefore(scope.tx, input.accountId, typed);
    return ok({
      known: seen.slice(0, knownMax).map(({ vehicle, ownNumber, lastWorkOrderNumber, lastDay }) => ({
        id: vehicle.id,
        description: vehicleWords(vehicle, ownNumber),
        lastEight: vehicle.lastEight,
        ownNumber,
        lastWorkOrderNumber,
        lastDay,
      })),
      earlier: await earlierWorkOf(scope, { ...typed, day: day.value }, null),
    });
  });
}

async function typedVehicle(scope: Scope, input: LookUpVehicleInput): Promise<KnownVehicle> {
  const { accountId, vehicleId } = input;
  const ownNumber = input.ownNumber.trim().replace(/\s+/g, ' ');
  const chosen = vehicleId === undefined ? null : await findVehicleOfAccount(scope.tx, accountId, vehicleId);
  if (chosen !== null) return { accountId, ownNumber, vin: chosen.vin, lastEight: chosen.lastEight };
  if (isAsLongAsLastEight(input.vin)) {
    const lastEight = parseLastEight(input.vin);
    return { accountId, ownNumber, vin: null, lastEight: lastEight.ok ? lastEight.value : null };
  }
  const read = parseVin(input.vin);
  if (!read.ok) return { accountId, ownNumber, vin: null, lastEight: null };
  return { accountId, ownNumber, vin: read.value.vin, lastEight: lastEightOf(read.value.vin) };
}
