import 'fake-indexeddb/auto';
import { expect, test } from 'vitest';
import { FormValues } from '../../../plugins/form-values.ts';
import type { PhoneAction } from '../action.ts';
import { lineId, order, type Phone, phoneWith, photoOf, started, uuid } from './here.test-support.ts';
import { notSignedScreen } from './not-signed.ts';
import { quoteScreen } from './quotes.ts';
import type { Screen } from './screen.ts';
import { todayScreen } from './today.ts';
import { waitingScreen } from './waiting.ts';

const frame = (id: string) => ({ id, workOrderId: order, madeAt: '2026-08-05T10:00:00-05:00' });
const finish: PhoneAction = { ...frame(uuid(30)), kind: 'finish', body: { work: [] } };
const signed: PhoneAction = { ...frame(uuid(31)), kind: 'acceptance', body: { outcome: 'accepted' } };

async function pageOf(screen: Screen, phone: Phone, path = '/'): Promise<string> {
  const shown = await screen.get?.(await phone.here(path), [order]);
  if (shown === undefined || !('page' in shown)) throw new Error('no page');
  return shown.page.toString();
}

async function choose(phone: Phone, id: string, choice: string): Promise<void> {
  await waitingScreen.post?.(await phone.here(), new FormValues({ id, choice }), []);
}

test('an answer to work whose end was given up says what it waits for, and can be given up too', async () => {
  const phone = await phoneWith([...started, finish, signed]);
  await choose(phone, finish.id, 'drop');
  const list = await pageOf(waitingScreen, phone);
  expect(list).toContain('It waits for the end of work, which was given up');
  expect(list).toContain(`href="/field/work-orders/${order}/finish"`);
  const note = `/field/phone/waiting?note=${finish.id}`;
  expect(await pageOf(waitingScreen, phone, note)).toContain('It can be removed once the answer');
  await choose(phone, finish.id, 'remove');
  expect((await phone.store.listActions()).at(-2)).toMatchObject({ state: 'dropped' });

  await choose(phone, signed.id, 'drop');
  expect((await phone.store.listActions()).at(-1)).toMatchObject({ state: 'dropped' });
  expect(await pageOf(waitingScreen, phone, note)).not.toContain('It can be removed once the answer');
});

test('what waits behind something refused says so, and what does not is not asked about', async () => {
  const phone = await phoneWith([...started, finish]);
  await phone.store.markConflict(uuid(13), { status: 409, code: 'wrong_state', detail: 'On hold.' }, null);
  const list = await pageOf(waitingScreen, phone);
  expect(list.match(/It waits for what was not taken of this work order\./g)).toHaveLength(1);
});

test('only this person’s things are called sent: others may use the phone too', async () => {
  expect(await pageOf(waitingScreen, await phoneWith([]))).toContain(
    'All that you did on this phone has reached the office.',
  );
});

test('each thing names the vehicle by its own number, and its time is that of the business', async () => {
  const utc = { ...photoOf('before', uuid(21)), madeAt: '2026-08-05T23:30:00Z' };
  const phone = await phoneWith([...started, utc]);
  const list = await pageOf(waitingScreen, phone);
  // 23:30 UTC is 6:30 PM in Chicago in August, five hours behind (IANA time zone database).
  expect(list.replaceAll(/\s/g, ' ')).toContain('Aug 5, 2026, 6:30 PM');
  expect(list).toContain('job number BG-9107');
});

test('of a vehicle that was written up before, the other work order can be opened on the server', async () => {
  const phone = await phoneWith(started);
  const there = { id: uuid(300), number: '116', state: 'in_work', lines: [], photos: [], steps: [] };
  const detail = 'This vehicle was written up lately: WO-116.';
  await phone.store.markConflict(order, { status: 409, code: 'duplicate', detail }, there);
  const list = await pageOf(waitingScreen, phone);
  expect(list).toContain(`href="/field/work-orders/${uuid(300)}?see=server"`);
  expect(list).toContain('Open WO-116 on the server');
  expect(list).not.toContain('not there, or it could not be asked');
});

test('another day is not shown as if it were today', async () => {
  const phone = await phoneWith(started);
  expect(await pageOf(todayScreen, phone, '/field')).not.toContain('Only today is on this phone');
  expect(await pageOf(todayScreen, phone, '/field?day=2026-08-05')).not.toContain('Only today');
  const page = await pageOf(todayScreen, phone, '/field?day=2026-08-06');
  expect(page).toContain('Only today is on this phone');
  expect(page).toContain('job number BG-9107');
});

test('that nobody signed is noted of a vehicle with its name and number', async () => {
  const phone = await phoneWith([...started, finish]);
  expect(await pageOf(notSignedScreen, phone)).toMatch(/2025 Ostra[^<]*, job number BG-9107/);
});

async function quoted(fields: Readonly<Record<string, string>>): Promise<unknown> {
  const phone = await phoneWith(started.slice(0, 2));
  await quoteScreen.post?.(await phone.here(), new FormValues({ id: uuid(90), ...fields }), [order]);
  return (await phone.store.listActions()).find(({ action }) => action.kind === 'quote')?.action.body;
}

test('a quote keeps its part, whichever form it was typed in', async () => {
  const sum = { amount: '742.10', note: 'Parts counter' };
  const body = { id: uuid(90), part: 'tailgate_lining', side: '', ...sum };
  expect(await quoted({ line: lineId, ...sum })).toEqual(body);
  // As the service’s page sends it.
  expect(await quoted({ part: 'tailgate_lining', side: '', ...sum })).toEqual(body);
});

test('a quote that is made up of the part and its fitting, or taken from the last one, stays so', async () => {
  const of = { part: 'tailgate_lining', side: '', amount: '', note: '' };
  const fitted = { part_price: '742.00', fitting_hours: '1.2', hourly_rate: '165.00' };
  expect(await quoted({ ...of, ...fitted })).toEqual({ id: uuid(90), ...of, ...fitted });
  expect(await quoted({ ...of, taken_from: uuid(91) })).toEqual({
    id: uuid(90),
    ...of,
    taken_from: uuid(91),
  });
  expect(await quoted(of)).toBeUndefined();
});
