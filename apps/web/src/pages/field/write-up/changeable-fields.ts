import { type OwnNumberKind, ownNumberKinds } from '@grainwright/domain';
import { numberField, textField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import type { TypedWriteUp } from './write-up-form.ts';

/** The account's numbers and the vehicle's owner, as they stand on two pages. */
export interface ChangeableFields {
  readonly typed: Pick<
    TypedWriteUp,
    'ownNumber' | 'roNumber' | 'poNumber' | 'ownerName' | 'ownerPhone' | 'odometerMiles'
  >;
  readonly errorOf: (field: string) => string | undefined;
}

export interface OwnNumberField {
  readonly typed: Pick<TypedWriteUp, 'ownNumber'>;
  readonly ownNumberKind: OwnNumberKind | null;
  readonly ownNumberRequired: boolean;
  readonly errorOf: (field: string) => string | undefined;
}

export function changeableFields({ typed, errorOf }: ChangeableFields): Html {
  const word = (name: string) => ({ name, error: errorOf(name) });
  return html`
    <h2>Other numbers</h2>
    ${textField({ ...word('ro_number'), label: 'RO number', hint: 'The dealer’s repair order', value: typed.roNumber, code: true, autocomplete: 'off' })}
    ${textField({ ...word('po_number'), label: 'PO number', hint: 'May come later, before the invoice', value: typed.poNumber, code: true, autocomplete: 'off' })}
    ${numberField({ ...word('odometer_miles'), label: 'Odometer', unit: 'mi', whole: true, value: typed.odometerMiles })}
    <h2>Whose vehicle it is</h2>
    ${textField({ ...word('owner_name'), label: 'Owner’s name', hint: 'Who accepts the work, where the account’s terms ask for it', value: typed.ownerName, autocomplete: 'off' })}
    ${textField({ ...word('owner_phone'), label: 'Owner’s phone', type: 'tel', value: typed.ownerPhone, autocomplete: 'off' })}`;
}

/** The number by which the account itself knows the vehicle: the first thing to write down, from its windshield. */
export function ownNumberField({
  typed,
  ownNumberKind,
  ownNumberRequired,
  errorOf,
}: OwnNumberField): Html | null {
  if (ownNumberKind === null) return null;
  const name = ownNumberKinds[ownNumberKind];
  return textField({
    name: 'own_number',
    label: `${name.charAt(0).toUpperCase()}${name.slice(1)}`,
    hint: ownNumberRequired ? 'This account needs it on every work order' : null,
    error: errorOf('own_number'),
    value: typed.ownNumber,
    code: true,
    autocomplete: 'off',
  });
}
