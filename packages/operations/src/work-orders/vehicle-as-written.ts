import type { OwnersVehicle } from '@grainwright/db';
import type { Actor } from '../perform.ts';
import { vehicleWords } from './vehicle-words.ts';

/**
 * The vehicle as its owner is to sign for it. A phone without signal knows nothing but what was typed, and has it signed
 * so: that stands. With signal, what was left empty is filled in from the vehicle's record.
 */
export function vehicleAsWritten(
  { madeAt }: Pick<Actor, 'madeAt'>,
  { vin, lastEight, modelYear, make, model, color }: OwnersVehicle,
  onRecord: OwnersVehicle,
): OwnersVehicle {
  const typed = { vin, lastEight, modelYear, make, model, color };
  if (madeAt !== undefined) return typed;
  return {
    vin: vin ?? onRecord.vin,
    lastEight: lastEight ?? onRecord.lastEight,
    modelYear: modelYear ?? onRecord.modelYear,
    make: make === '' ? onRecord.make : make,
    model: model === '' ? onRecord.model : model,
    color: color === '' ? onRecord.color : color,
  };
}

/** What was written of a vehicle whose record says something else, in words; null where they agree. */
export function writtenOtherwise(written: OwnersVehicle | null, onRecord: OwnersVehicle): string | null {
  if (written === null) return null;
  const pairs = [
    [written.vin, onRecord.vin],
    [written.lastEight, onRecord.lastEight],
    [written.modelYear, onRecord.modelYear],
    [written.make, onRecord.make],
    [written.model, onRecord.model],
    [written.color, onRecord.color],
  ];
  const differs = pairs.some(([typed, known]) => {
    const words = String(typed ?? '').toLowerCase();
    return words !== '' && words !== String(known ?? '').toLowerCase();
  });
  if (!differs) return null;
  const { vin, lastEight } = written;
  const named = written.make !== '' || written.model !== '';
  const ending = vin === null && lastEight !== null ? `VIN ending in ${lastEight}` : '';
  const identified = vin === null ? ending : `VIN ${vin}`;
  return [vehicleWords(written), named ? identified : ''].filter((part) => part !== '').join(', ');
}
