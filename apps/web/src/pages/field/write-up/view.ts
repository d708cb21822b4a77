import { correctedVin, type Problem } from '@grainwright/domain';
import type { KnownVehicleView } from '@grainwright/operations';
import { fieldButton, quietLink } from '../../../look/buttons.ts';
import {
  checkboxField,
  dateField,
  errorSummary,
  fieldId,
  hiddenCsrf,
  hiddenField,
  textField,
} from '../../../look/forms.ts';
import { attributes, type Html, html } from '../../../look/html.ts';
import { fieldPage } from '../../../look/layout.ts';
import { problemsOf } from '../../form-problems.ts';
import type { FieldFrame } from '../../person.ts';
import { changeableFields, ownNumberField } from './changeable-fields.ts';
import { knownVehicles, type Noticed, sameVehicle } from './known-parts.ts';
import { placeKey, type WriteUpPlace } from './place-view.ts';
import { type TypedWriteUp, writeUpFields } from './write-up-form.ts';

export interface WriteUpPage {
  readonly frame: FieldFrame;
  readonly place: WriteUpPlace;
  readonly ids: { readonly id: string; readonly visitId: string };
  readonly typed: TypedWriteUp;
  /** One more of a row: the day and the rest are kept, and out of the way. */
  readonly inRow: boolean;
  /** Vehicles that the account's number may stand for, to choose from; empty where that is no question. */
  readonly known: readonly KnownVehicleView[];
  /** What was written up of the vehicle lately, where it was refused for that. */
  readonly noticed: Noticed | null;
  readonly problem: Problem | null;
}

type ErrorOf = (field: string) => string | undefined;

/** Which vehicle: its number or its VIN are enough, the rest can wait. */
export function writeUpPage(page: WriteUpPage): Html {
  const { frame, place, ids, typed, noticed, problem } = page;
  const { summary, errorOf } = problemsOf(problem, [...writeUpFields, 'another_damage']);
  return fieldPage({
    ...frame,
    title: 'Write-up',
    heading: page.inRow ? 'Which vehicle is next?' : 'Which vehicle?',
    lead: html`${place.accountName}, ${place.siteName}`,
    current: 'write-up',
    scripts: [frame.assets.scan, frame.assets.sending],
    body: html`${errorSummary(summary, problem?.code === 'duplicate' ? 'Look before you save' : undefined)}
      <form method="post" action="/field/write-up" id="write-up" data-sending="Writing up…">
        ${hiddenCsrf(frame.csrfToken)}${hiddenField('id', ids.id)}${hiddenField('visit_id', ids.visitId)}
        ${hiddenField('place', placeKey(place))}${page.inRow && hiddenField('in_row', 'yes')}
        ${page.known.length === 0 && typed.vehicleId !== undefined && hiddenField('vehicle_id', typed.vehicleId)}
        ${noticed && sameVehicle(noticed, errorOf('another_damage'))}
        ${page.known.length > 0 && knownVehicles(page.known)}
        ${ownNumberField({ typed, errorOf, ownNumberKind: place.ownNumberKind, ownNumberRequired: place.ownNumberRequired })}
        ${vinField(typed, errorOf, { wasm: frame.assets.scanWasm })}
        ${moreFields(page, errorOf)}
      </form>
      <p>${quietLink({ label: 'Another account or place', href: '/field/write-up' })}</p>`,
    primaryAction: fieldButton({ label: 'Write it up', form: 'write-up' }),
  });
}

/** The whole VIN or the end of it; one that was mistyped in a way that can be told comes with what was meant. */
function vinField(typed: TypedWriteUp, errorOf: ErrorOf, scan: { readonly wasm: string }): Html {
  const meant = correctedVin(typed.vin);
  return html`${textField({
    name: 'vin',
    label: 'VIN, or its last 8',
    hint: 'On the plate behind the windshield or in the door',
    error: errorOf('vin') ?? errorOf('last_eight'),
    autocomplete: 'off',
    value: typed.vin === '' ? typed.lastEight : typed.vin,
    code: true,
  })}
  ${scanPart(scan)}
  ${meant !== null && checkboxField({ name: 'meant_vin', label: `Take ${meant}, whose check digit fits`, value: meant, checked: true })}`;
}

/** Shown by its module, where there is JavaScript; the picture where no camera can be used. */
function scanPart({ wasm }: { readonly wasm: string }): Html {
  return html`<div class="scan" data-scan="${fieldId({ name: 'vin' })}" data-wasm="${wasm}" hidden>
    <button type="button" class="button" data-scan-start>Scan the VIN</button>
    <video muted playsinline hidden aria-label="What the camera sees"></video>
    <div class="form-field" data-scan-picture hidden>
      <label for="vin-picture">Picture of the bar code</label>
      <input type="file" id="vin-picture" accept="image/*" capture="environment">
    </div>
    <p role="status"></p>
  </div>`;
}

const identifying = ['own_number', 'vin', 'last_eight'];

/** Open for the first vehicle, and wherever something in it was typed or has to be corrected. */
function moreFields(page: WriteUpPage, errorOf: ErrorOf): Html {
  const { typed, frame, inRow } = page;
  const { modelYear, make, model, color, roNumber, poNumber, ownerName, odometerMiles } = typed;
  const isTyped = [modelYear, make, model, color, roNumber, poNumber, ownerName, odometerMiles].some(
    (text) => text !== '',
  );
  const isWrong = writeUpFields.some((name) => !identifying.includes(name) && errorOf(name) !== undefined);
  return html`<details ${attributes({ open: !inRow || isTyped || isWrong })}>
    <summary>Make, model, other numbers, owner, day</summary>
    ${nameFields(typed, errorOf)}
    ${changeableFields({ typed, errorOf })}
    <h2>When</h2>
    ${dateField({ name: 'day', label: 'Day of work', error: errorOf('day'), value: typed.day === '' ? frame.me.today : typed.day })}
    ${checkboxField({ name: 'after_hours', label: 'After hours', hint: 'A visit of its own, with the after-hours charge', checked: typed.afterHours })}
    ${checkboxField({ name: 'rush', label: 'Rush', hint: 'Asked for within the day: a visit of its own, with the rush charge', checked: typed.rush ?? false })}
  </details>`;
}

function nameFields(typed: TypedWriteUp, errorOf: ErrorOf): Html {
  const word = (name: string) => ({ name, error: errorOf(name), autocomplete: 'off' });
  return html`
    ${textField({ ...word('model_year'), label: 'Model year', hint: 'Taken from the VIN if you leave it empty', value: typed.modelYear })}
    ${textField({ ...word('make'), label: 'Make', value: typed.make })}
    ${textField({ ...word('model'), label: 'Model', value: typed.model })}
    ${textField({ ...word('color'), label: 'Interior color', value: typed.color })}`;
}
