import type { LineId } from '@grainwright/domain';
import { addLine, changeAccount } from '@grainwright/operations';
import { beforeAll, describe, expect, test } from 'vitest';
import { type Browsing, openWeb, type Web } from './support/web.ts';
import {
  type Account,
  aBusiness,
  anAccount,
  type Business,
  must,
  openWorld,
  type World,
} from './support/world.ts';
import { aLine, writtenUp } from './support/write-ups.ts';

/**
 * What is typed wrong at the vehicle gets a message of its own beside its field, and nothing typed is lost; the API
 * says the same of the same field. Limits without a source are common practice: numbers of 40 characters, amounts in
 * cents, sizes of three decimals.
 */

let world: World;
let business: Business;
let lot: Account;
let web: Web;
let technician: Browsing;
let bearer: { authorization: string };

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
  // Accounts of these worlds are open since 2026-01-01.
  lot = await anAccount(business, { ownNumberKind: 'stock' });
  web = await openWeb(world);
  technician = await web.signInByPage(business.emailOf('technician'), business.password);
  bearer = await web.signIn(business.emailOf('technician'), business.password);
});

type Typed = Readonly<Record<string, string>>;
/** The field, what is typed into it, and how the message begins. */
type Case = readonly [field: string, typed: string, message: string];

/** As a page prints it. */
const printed = (text: string) =>
  text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;').replaceAll('"', '&quot;');

/** What stands beside a field as its error; empty where nothing does. */
function besideField(body: string, field: string): string {
  return new RegExp(`<p class="error" id="field-${field}-error">([^<]*)</p>`).exec(body)?.[1] ?? '';
}

function expectKept(body: string, typed: Typed): void {
  for (const [name, value] of Object.entries(typed)) {
    const kept = [`value="${printed(value)}"`, `>\n${printed(value)}</textarea>`];
    expect([name, kept.some((each) => body.includes(each))]).toEqual([name, true]);
  }
}

async function byApi(method: 'POST' | 'PATCH', url: string, payload: object) {
  const reply = await web.app.inject({ method, url: `/api/v1${url}`, headers: bearer, payload });
  return { status: reply.statusCode, body: reply.json<{ field?: string; detail?: string }>() };
}

async function expectSameOfApi(
  method: 'POST' | 'PATCH',
  url: string,
  payload: object,
  wrong: Case,
): Promise<void> {
  const [field, , message] = wrong;
  const { status, body } = await byApi(method, url, payload);
  expect({ status, field: body.field }).toEqual({ status: 422, field });
  expect(body.detail?.startsWith(message)).toBe(true);
}

describe('a vehicle is written up', () => {
  const right: Typed = {
    own_number: 'PL-231',
    vin: '1M8GDM9AXKP042788',
    make: 'Corvane',
    model: 'T4 <long>',
    ro_number: '48213',
    owner_name: 'Odile & Marchetti',
  };

  // The VINs are of the check digit's own tests (49 CFR 565.15(c)), with one character mistyped.
  const cases: readonly Case[] = [
    ['vin', '1M8GDM9AXKPO42788', 'Position 12 is the letter O, probably 0.'],
    ['vin', 'IM8GDM9AXKP042788', 'Position 1 is the letter I, probably 1.'],
    ['vin', 'QM8GDM9AXKP042788', 'Position 1 is the letter Q, probably 0 or 9.'],
    ['vin', '1M8GDM9AXKP04278', 'That is 16 characters; a VIN has 17 (1 missing).'],
    ['vin', '1M8GDM9AXKP042788'.repeat(3), 'That is 51 characters; a VIN has 17 (34 too many).'],
    ['vin', 'KPO42788', 'Position 3 is the letter O, probably 0.'],
    [
      'day',
      '2025-12-31',
      'Brackwater Glass & Screen has been an account since Jan 1, 2026; Dec 31, 2025 is before that.',
    ],
    ['day', '2026-02-30', 'There is no 2026-02-30.'],
    ['day', '2026-12-31', 'Work is written up at most 60 days ahead.'],
    ['model_year', '3000', '3000 is too late; the VIN says 1989.'],
    ['model_year', 'new', 'Write the model year with four digits, like 2025.'],
    ['own_number', '7'.repeat(41), 'A stock number has at most 40 letters, digits and signs.'],
    ['ro_number', '4'.repeat(41), 'A repair order number has at most 40 letters, digits and signs.'],
    ['po_number', 'P'.repeat(300), 'Write the PO number in at most 40 characters; this is 300.'],
    ['make', 'C'.repeat(61), 'Write the make in at most 60 characters; this is 61.'],
    ['owner_name', 'O'.repeat(201), 'Write the owner’s name in at most 200 characters; this is 201.'],
    ['odometer_miles', '-5', 'An odometer shows nothing below zero.'],
    ['odometer_miles', '41.5', 'Write the odometer in whole miles, like 41250.'],
  ];
  test.each(cases)('%s “%s”: %s', async (field, value, message) => {
    const typed = { ...right, [field]: value };
    const place = `${lot.id}.${lot.siteId}`;
    const reply = await technician.post('/field/write-up', { id: world.newId(), place, ...typed });
    expect(reply.statusCode).toBe(422);
    expect(besideField(reply.body, field).startsWith(printed(message))).toBe(true);
    expectKept(reply.body, typed);
    const payload = { id: world.newId(), account_id: lot.id, site_id: lot.siteId, ...typed };
    await expectSameOfApi('POST', '/work-orders', payload, [field, value, message]);
  });

  test('after its account was closed: the message names both days', async () => {
    const closed = await anAccount(business, { name: 'Hatch Street Motors', ownNumberKind: 'stock' });
    must(await changeAccount(world.services, business.office, { id: closed.id, endedOn: '2026-08-10' }));
    const typed = { ...right, day: '2026-08-11' };
    const place = `${closed.id}.${closed.siteId}`;
    const message =
      'Hatch Street Motors is closed to new work since Aug 10, 2026; Aug 11, 2026 is after that.';
    const reply = await technician.post('/field/write-up', { id: world.newId(), place, ...typed });
    expect(reply.statusCode).toBe(422);
    expect(besideField(reply.body, 'day').startsWith(message)).toBe(true);
    expectKept(reply.body, typed);
    const payload = { id: world.newId(), account_id: closed.id, site_id: closed.siteId, ...typed };
    await expectSameOfApi('POST', '/work-orders', payload, ['day', typed.day, message]);
  });

  test('a VIN that was mistyped is offered as it was meant, and one tap takes it', async () => {
    const place = `${lot.id}.${lot.siteId}`;
    const typed = { id: world.newId(), place, own_number: 'PL-232', vin: 'IM8GDM9AXKPO42788' };
    const reply = await technician.post('/field/write-up', typed);
    expect(besideField(reply.body, 'vin')).toContain('1M8GDM9AXKP042788 has the check digit that fits.');
    expect(reply.body).toContain('name="meant_vin"');
    expect(reply.body).toContain('Take 1M8GDM9AXKP042788, whose check digit fits');
    const taken = await technician.post('/field/write-up', { ...typed, meant_vin: '1M8GDM9AXKP042788' });
    expect(taken.statusCode).toBe(303);
    const { body } = await web.app
      .inject({ url: `/api/v1/work-orders/${typed.id}`, headers: bearer })
      .then((answer) => ({ body: answer.json<{ vehicle: { vin: string } }>() }));
    expect(body.vehicle.vin).toBe('1M8GDM9AXKP042788');
    // Somebody who types another VIN instead means that one.
    const other = { ...typed, id: world.newId(), own_number: 'PL-233', meant_vin: '1M8GDM9AXKP042788' };
    const own = await technician.post('/field/write-up', { ...other, vin: '1G4AH59H45G118341' });
    expect(own.statusCode).toBe(303);
  });
});

describe('a line is written', () => {
  const right: Typed = {
    measured_inches: '2.2',
    family: 'Vinyl cut or tear',
    visible_when: 'door <closed>',
    note: 'beside the “handle”',
  };
  const found: Typed = {
    part: 'front_door_panel',
    side: 'left',
    damage: 'cut_or_tear',
    observation: 'relaxes_and_lies_down',
  };

  const cases: readonly Case[] = [
    ['measured_inches', '-1', '“-1” is negative. A size is more than zero'],
    ['measured_inches', '0', 'A size is more than zero.'],
    ['measured_inches', '2,2', '“2,2” has a comma. Write decimals behind a point, like 2.2.'],
    ['measured_inches', '2.2222', 'A size has at most three decimals'],
    ['measured_inches', '1000', 'A size has at most three decimals and is less than 1000 in.'],
    ['measured_inches', 'two', 'Write the measured size in inches, like 2.2.'],
    ['by_hand_price', '12.345', '“12.345” has 3 decimals. Write at most 2, like 1234.56.'],
    ['by_hand_price', '-12', '“-12” is negative. Write the amount without a minus sign.'],
    ['by_hand_price', '0', 'A price by hand must be more than zero.'],
    ['by_hand_price', 'much', '“much” is not an amount.'],
    ['by_hand_reason', '', 'Write why this is priced by hand.'],
    ['by_hand_materials_percent', '101', 'Write a number from 0 to 100.'],
    ['note', 'n'.repeat(2001), 'Write the note in at most 2000 characters; this is 2001.'],
  ];
  test.each(cases)('%s “%s”: %s', async (field, value, message) => {
    const workOrderId = await writtenUp(lot);
    const byHand = {
      by_hand_price: '120.00',
      by_hand_reason: 'not in the book',
      by_hand_materials_percent: '10',
    };
    const typed = { ...right, ...(field.startsWith('by_hand') ? byHand : {}), [field]: value };
    const path = `/field/work-orders/${workOrderId}/lines/new`;
    const reply = await technician.post(path, { ...found, ...typed, line_id: world.newId(), step: 'save' });
    expect(reply.statusCode).toBe(422);
    expect(besideField(reply.body, field).startsWith(printed(message))).toBe(true);
    const { family, ...others }: Typed = typed;
    expectKept(reply.body, others);
    expect(reply.body).toMatch(new RegExp(`<option +value="${family}" selected>`));
    const payload = { id: world.newId<LineId>(), ...found, ...typed };
    await expectSameOfApi('POST', `/work-orders/${workOrderId}/lines`, payload, [field, value, message]);
  });
});

describe('numbers are completed', () => {
  const right: Typed = { own_number: 'PL-240', ro_number: '48213', po_number: '77105', owner_name: 'Odile' };
  const cases: readonly Case[] = [
    ['own_number', '7'.repeat(41), 'Write the stock number in at most 40 characters; this is 41.'],
    ['ro_number', '4'.repeat(41), 'Write the RO number in at most 40 characters; this is 41.'],
    ['po_number', 'P'.repeat(300), 'Write the PO number in at most 40 characters; this is 300.'],
    ['odometer_miles', '-41250', 'An odometer shows nothing below zero.'],
  ];
  test.each(cases)('%s “%s”: %s', async (field, value, message) => {
    const workOrderId = await writtenUp(lot);
    must(
      await addLine(world.services, business.technician, {
        workOrderId,
        lineId: world.newId(),
        line: aLine(),
      }),
    );
    const typed = { ...right, [field]: value };
    const reply = await technician.post(`/field/work-orders/${workOrderId}/details`, typed);
    expect(reply.statusCode).toBe(422);
    expect(besideField(reply.body, field).startsWith(message)).toBe(true);
    expectKept(reply.body, typed);
    await expectSameOfApi('PATCH', `/work-orders/${workOrderId}`, typed, [field, value, message]);
  });
});
