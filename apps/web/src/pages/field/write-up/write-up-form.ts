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
  'replacement',
  'replacement_note',
] as const;

export function typedWriteUp(form: FormValues): TypedWriteUp {
  return {
    day: form.text('day'),
    afterHours: form.checked('after_hours'),
    vin: form.text('vin'),
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
    replacement: form.text('replacement'),
    replacementNote: form.text('replacement_note'),
  };
}
