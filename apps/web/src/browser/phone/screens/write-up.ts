import { type Problem, parseDay } from '@grainwright/domain';
import { type PhonePlace, readWriteUp } from '@grainwright/operations/phone';
import { choosePlacePage } from '../../../pages/field/write-up/place-view.ts';
import { writeUpPage } from '../../../pages/field/write-up/view.ts';
import { typedWriteUp, writeUpFields } from '../../../pages/field/write-up/write-up-form.ts';
import { FormValues } from '../../../plugins/form-values.ts';
import type { KeptAction } from '../action.ts';
import { newId } from '../new-id.ts';
import { placeOf } from '../projection.ts';
import { problemOf, typedIn } from './mending.ts';
import { type Here, keep, madeThen, notKept, type Screen, type Shown } from './screen.ts';

/** Writing up a vehicle: read by the server’s own rules, but for what only the server knows of the vehicle. */
export const writeUpScreen: Screen = {
  path: /^\/field\/write-up\/?$/,
  get: (here) => {
    const place = placeIn(here, here.query.get('place') ?? '');
    if (place === null) return choose(here);
    const typed = new FormValues(Object.fromEntries(here.query));
    return form(here, place, { values: typed, problem: null });
  },
  post: async (here, values) => {
    const place = placeIn(here, values.text('place'));
    if (place === null) return choose(here);
    const typed = typedWriteUp(values);
    const { snapshot } = here.day;
    const whole = wholeVin(typed);
    const read = readWriteUp({ ...typed, ...whole }, place, snapshot.today, snapshot.business.currency);
    if (!read.ok) return form(here, place, { values, problem: read.problem });
    const id = values.text('id');
    const action = {
      ...madeThen(here, id, id),
      kind: 'write_up' as const,
      body: {
        id,
        visit_id: values.text('visit_id'),
        account_id: place.accountId,
        site_id: place.siteId,
        day: typed.day,
        after_hours: typed.afterHours,
        rush: typed.rush ?? false,
        ...{ vin: whole.vin, last_eight: whole.lastEight },
        model_year: typed.modelYear,
        make: typed.make,
        model: typed.model,
        color: typed.color,
        own_number: typed.ownNumber,
        ro_number: typed.roNumber,
        po_number: typed.poNumber,
        owner_name: typed.ownerName,
        owner_phone: typed.ownerPhone,
        odometer_miles: typed.odometerMiles,
      },
    };
    const trouble = await keep(here, action);
    if (trouble !== null) return form(here, place, { values, problem: notKept(trouble) });
    return { goTo: `/field/work-orders/${id}/lines/new` };
  },
};

/** The form of a write-up that the server refused, as it was filled in. */
export function mendWriteUp(here: Here, refused: KeptAction): Shown {
  const { body } = refused.action;
  const key = `${typedIn(body, 'account_id')}.${typedIn(body, 'site_id')}`;
  const place = placeIn(here, key);
  if (place === null) return choose(here);
  const names = [...writeUpFields, 'id', 'visit_id'];
  const values = new FormValues({
    ...Object.fromEntries(names.map((name) => [name, typedIn(body, name)])),
    place: key,
    ...('rush' in body && body.rush === true ? { rush: 'yes' } : {}),
    ...('after_hours' in body && body.after_hours === true ? { after_hours: 'yes' } : {}),
  });
  return form(here, place, { values, problem: problemOf(refused) });
}

/** The field takes the whole VIN or its end. */
function wholeVin({ vin, lastEight }: { readonly vin: string; readonly lastEight: string }) {
  return { vin, lastEight };
}

function choose({ frame, day }: Here): Shown {
  return { page: choosePlacePage({ frame, places: day.snapshot.places, problem: null }) };
}

function placeIn({ day }: Here, key: string): PhonePlace | null {
  const [accountId = '', siteId = ''] = key.split('.');
  return placeOf(day.snapshot, accountId, siteId);
}

function form(
  here: Here,
  place: PhonePlace,
  { values, problem }: { readonly values: FormValues; readonly problem: Problem | null },
): Shown {
  const typed = typedWriteUp(values);
  const day = parseDay(typed.day === '' ? here.day.snapshot.today : typed.day, 'day');
  const ids = {
    id: values.text('id') === '' ? newId() : values.text('id'),
    visitId: values.text('visit_id') === '' ? newId() : values.text('visit_id'),
  };
  return {
    page: writeUpPage({
      frame: here.frame,
      place,
      ids,
      typed: { ...typed, day: day.ok ? day.value : typed.day },
      inRow: here.query.has('place') && here.query.has('day'),
      known: [],
      noticed: null,
      problem,
    }),
  };
}
