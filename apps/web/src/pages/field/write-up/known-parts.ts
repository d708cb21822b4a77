import type { Day } from '@grainwright/domain';
import type { EarlierWorkView, KnownVehicleView } from '@grainwright/operations';
import { beforeAfter } from '../../../look/before-after.ts';
import { quietLink } from '../../../look/buttons.ts';
import { dayShown, dayText } from '../../../look/figures.ts';
import { checkboxField, radioCards } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { besideEachOther } from '../../work-order/earlier-parts.ts';
import { workOrderNumber } from '../../work-order/state-words.ts';
import type { TypedWriteUp } from './write-up-form.ts';

/** Says that a vehicle is none of those offered. */
export const anotherVehicle = 'another';

/** Vehicles that the account’s number stands for, to be taken as they are on record. */
export function knownVehicles(known: readonly KnownVehicleView[]): Html {
  const [first] = known;
  return radioCards({
    name: 'vehicle_id',
    label: 'Is it this one?',
    hint: 'Written up here before under this number. Look at the VIN.',
    value: first?.id ?? '',
    choices: [
      ...known.map((each) => ({
        value: each.id,
        label: each.description,
        detail: html`${each.lastEight !== null && html`VIN ending in ${each.lastEight}, `}last here ${dayShown(each.lastDay)}, ${workOrderNumber(each.lastWorkOrderNumber)}`,
      })),
      { value: anotherVehicle, label: 'No, another vehicle' },
    ],
  });
}

export interface Noticed {
  readonly typed: TypedWriteUp;
  readonly earlier: readonly EarlierWorkView[];
  readonly accountName: string;
  readonly technician: string;
  readonly day: Day;
}

/** What is about to be written up, beside what was written up of the same vehicle lately, and the ways on. */
export function sameVehicle(noticed: Noticed, error: string | undefined): Html {
  const [newest, ...others] = noticed.earlier;
  if (newest === undefined) return html``;
  const back = noticed.earlier.filter(({ maybeComeback }) => maybeComeback);
  const number = workOrderNumber(newest.number);
  return html`<section><h2>Written up before</h2>
    ${besideEachOther(typedNow(noticed), newest, '/field/work-orders')}
    ${(newest.before !== null || newest.after !== null) && beforeAfter(pictureOf(newest, 'before'), pictureOf(newest, 'after'))}
    ${others.length > 0 && html`<p>And ${others.map((each, index) => html`${index > 0 && ', '}<a href="/field/work-orders/${each.id}">${workOrderNumber(each.number)}</a> of ${dayShown(each.day)}`)}.</p>`}
    <div class="buttons">
      ${quietLink({ label: `The same damage: open ${number} instead`, href: `/field/work-orders/${newest.id}` })}
      ${back.map((each) => quietLink({ label: `It came back: rework of ${workOrderNumber(each.number)}`, href: `/field/work-orders/${each.id}/rework` }))}
    </div>
    ${checkboxField({ name: 'another_damage', label: 'It is another damage: write it up', hint: 'Stays on record with your name', error })}
  </section>`;
}

function typedNow({ typed, accountName, technician, day }: Noticed) {
  const named = [typed.modelYear, typed.make, typed.model, typed.color]
    .filter((word) => word !== '')
    .join(' ');
  const vin = [typed.vin, typed.lastEight].find((text) => text !== '');
  const rows = [
    { term: 'Vehicle', words: named !== '' || vin === undefined ? named : `VIN ${vin}` },
    { term: 'Account', words: accountName },
    { term: 'Its number', words: typed.ownNumber },
    { term: 'Day', words: dayText(day) },
    { term: 'Technician', words: technician },
    { term: 'Lines', words: 'none yet' },
  ];
  return { heading: 'Typed just now', rows };
}

function pictureOf(earlier: EarlierWorkView, purpose: 'before' | 'after') {
  const id = earlier[purpose];
  if (id === null) return null;
  const alt = `${workOrderNumber(earlier.number)}, ${purpose}`;
  return { src: `/photos/${id}/thumb`, alt, ready: true, href: `/photos/${id}/view` };
}
