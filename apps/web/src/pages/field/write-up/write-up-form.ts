import { correctedVin, isUuid, toId, type VehicleId } from '@grainwright/domain';
import type { WriteUpInput } from '@grainwright/operations';
import type { FormValues } from '../../../plugins/forms.ts';

/** What is typed on the write-up page, and kept when it comes back. */
export type TypedWriteUp = Omit<WriteUpInput, 'id' | 'visitId' | 'accountId' | 'siteId'>;

/** The names of the fields, which are those of the API, so that a refusal finds its field. */
export const writeUpFields = [
  'day',
  'vin',
  'last_eight',
  'model_year',
  'make',
  'model',
  'color',
  'own_number',
  'ro_number',
  'po_number',
  'owner_name',
  'owner_phone',
  'odometer_miles',
] as const;

export function typedWriteUp(form: FormValues): TypedWriteUp {
  const chosen = form.text('vehicle_id').toLowerCase();
  return {
    day: form.text('day'),
    afterHours: form.checked('after_hours'),
    rush: form.checked('rush'),
    vin: vinTyped(form),
    lastEight: form.text('last_eight'),
    modelYear: form.text('model_year'),
    make: form.text('make'),
    model: form.text('model'),
    color: form.text('color'),
    ownNumber: form.text('own_number'),
    roNumber: form.text('ro_number'),
    poNumber: form.text('po_number'),
    ownerName: form.text('owner_name'),
    ownerPhone: form.text('owner_phone'),
    odometerMiles: form.text('odometer_miles'),
    // Asked for part by part, once the damage is written up.
    replacement: '',
    replacementNote: '',
    vehicleId: isUuid(chosen) ? toId<VehicleId>(chosen) : undefined,
    anotherDamage: form.checked('another_damage'),
  };
}

/** A ticked correction counts as long as the VIN stands there that it corrects. */
function vinTyped(form: FormValues): string {
  const typed = form.text('vin');
  const meant = form.text('meant_vin');
  return meant !== '' && correctedVin(typed) === meant ? meant : typed;
}
