import 'fake-indexeddb/auto';
import { expect, test } from 'vitest';
import { FormValues } from '../../../plugins/form-values.ts';
import type { PhoneAction } from '../action.ts';
import { acceptanceScreen } from './acceptance.ts';
import { finishScreen } from './finish.ts';
import {
  blurred,
  lineId,
  order,
  type Phone,
  phoneWith,
  photoIds,
  photoOf,
  started,
  uuid,
} from './here.test-support.ts';
import { newLineScreen } from './line.ts';
import type { Here, Screen, Shown } from './screen.ts';
import { waitingScreen } from './waiting.ts';

const photographed = [
  ...started,
  photoOf('before', photoIds.before),
  photoOf('after_heat', photoIds.afterHeat),
  photoOf('after', photoIds.after),
];
const afterIsBlurred = { [photoIds.after]: blurred };

const worked = {
  described: 'yes',
  line: lineId,
  [`methods-${lineId}`]: ['mask', 'heat_flatten', 'fill_cut', 'cold_grain'],
  [`layers-${lineId}`]: '3',
};
const overrideId = uuid(60);
const good = {
  ...worked,
  [`keep-id-${photoIds.after}`]: overrideId,
  [`keep-${photoIds.after}`]: 'The ruler can be read.',
};

function pageOf(shown: Shown | undefined): string {
  if (shown === undefined || !('page' in shown)) throw new Error(`no page: ${JSON.stringify(shown)}`);
  return shown.page.toString();
}

async function get(screen: Screen, here: Here): Promise<string> {
  return pageOf(await screen.get?.(here, [order]));
}

async function post(screen: Screen, here: Here, fields: object): Promise<Shown | undefined> {
  return screen.post?.(here, new FormValues(fields), [order]);
}

async function kindsOn({ store }: Phone): Promise<readonly string[]> {
  return (await store.listActions()).map(({ action }) => action.kind);
}

test('a warned photo is asked about when work is finished without signal, and its reason is sent with it', async () => {
  const phone = await phoneWith(photographed, afterIsBlurred);
  const page = await get(finishScreen, await phone.here());
  expect(page).toContain('This photo looks blurred.');
  expect(page).toContain(`name="keep-${photoIds.after}"`);
  expect(page).not.toContain(`name="keep-${photoIds.before}"`);

  expect(pageOf(await post(finishScreen, await phone.here(), worked))).toContain('This photo looks blurred.');
  expect(await kindsOn(phone)).not.toContain('finish');

  await post(finishScreen, await phone.here(), good);
  expect((await phone.store.listActions()).at(-1)?.action).toMatchObject({
    kind: 'finish',
    body: {
      photo_reasons: [
        { override_id: overrideId, photo_id: photoIds.after, reason: 'The ruler can be read.' },
      ],
    },
  });
});

test('a photo that was taken again, or has its reason already, is not asked about', async () => {
  const again = [...photographed, photoOf('after', uuid(24), { retake_of: photoIds.after })];
  const retaken = await phoneWith(again, afterIsBlurred);
  expect(await get(finishScreen, await retaken.here())).not.toContain('looks blurred');
  const frame = { id: uuid(25), workOrderId: order, madeAt: '2026-08-05T10:01:00-05:00' };
  const reason: PhoneAction = {
    ...frame,
    kind: 'photo_reason',
    body: { photo_id: photoIds.after, reason: 'dark' },
  };
  const told = await phoneWith([...photographed, reason], afterIsBlurred);
  expect(await get(finishScreen, await told.here())).not.toContain('looks blurred');
});

test('a size that does not fit the rate that was chosen is said before it is sent', async () => {
  const [written, line, ...rest] = photographed;
  if (written === undefined || line?.kind !== 'line') throw new Error('the story begins with them');
  const chosen: PhoneAction = { ...line, body: { ...line.body, rate_code: 'cut-large' } };
  const phone = await phoneWith([written, chosen, ...rest]);
  const page = pageOf(await post(finishScreen, await phone.here(), worked));
  expect(page).toContain('measured 2.2 in, but billed as over 3 to 6 in.');
  expect(await kindsOn(phone)).not.toContain('finish');
});

test('an end of work that was refused is mended in its place, filled with what was typed', async () => {
  const phone = await phoneWith(photographed);
  await post(finishScreen, await phone.here(), { ...worked, technician_minutes: '45', airbag_lamp: 'off' });
  const before = (await phone.store.listActions()).at(-1);
  if (before === undefined) throw new Error('it was kept');
  const detail = 'This photo shows something that only the office found.';
  await phone.store.markConflict(before.action.id, { status: 409, code: 'contradiction', detail }, {});

  const list = pageOf(await waitingScreen.get?.(await phone.here(), []));
  const address = `/field/phone/waiting?mend=${before.action.id}`;
  expect(list).toContain(`href="${address}"`);
  expect(list).toContain(`href="/field/work-orders/${order}?see=server"`);
  const form = pageOf(await waitingScreen.get?.(await phone.here(address), []));
  expect(form).toContain(detail);
  expect(form).toContain('value="45"');
  expect(form).toMatch(
    new RegExp(`name="layers-${lineId}"[^>]*value="3"|value="3"[^>]*name="layers-${lineId}"`),
  );

  await post(finishScreen, await phone.here(address), { ...worked, [`layers-${lineId}`]: '4' });
  const after = (await phone.store.listActions()).at(-1);
  expect(after).toMatchObject({
    order: before.order,
    state: 'waiting',
    refusal: null,
    action: {
      id: before.action.id,
      madeAt: before.action.madeAt,
      body: { work: [{ line_id: lineId, layers: '4' }] },
    },
  });
  expect(await phone.store.listActions()).toHaveLength(photographed.length + 1);
});

test('what was signed after a refused end of work stays, and mending the end does not need it', async () => {
  const { phone, id } = await signedPhone();
  const finish = (await phone.store.listActions()).find(({ action }) => action.kind === 'finish');
  if (finish === undefined) throw new Error('it was finished');
  await phone.store.markConflict(finish.action.id, { status: 409, code: 'contradiction', detail: 'x' }, null);
  const address = `/field/phone/waiting?mend=${finish.action.id}`;
  expect(pageOf(await waitingScreen.get?.(await phone.here(address), []))).toContain('Finish work');
  await post(finishScreen, await phone.here(address), worked);
  const states = (await phone.store.listActions()).map(({ action, state }) => [action.id, state]);
  expect(states.slice(-2)).toEqual([
    [finish.action.id, 'waiting'],
    [id, 'waiting'],
  ]);
});

const strokes = [
  [
    { x: 10, y: 20, t: 0 },
    { x: 60, y: 45, t: 40 },
  ],
];

async function answered(phone: Phone, more: object = {}): Promise<Shown | undefined> {
  const page = await get(acceptanceScreen, await phone.here());
  const digest = /name="shown_digest" value="([0-9a-f]{64})"/.exec(page)?.[1];
  return post(acceptanceScreen, await phone.here(), {
    id: uuid(70),
    shown_digest: digest,
    outcome: 'accepted',
    signer_name: 'Ines Halloran',
    signer_role: 'vehicle_owner',
    signature: JSON.stringify(strokes),
    confirmed: 'yes',
    ...more,
  });
}

async function signedPhone(): Promise<{ readonly phone: Phone; readonly id: string }> {
  const phone = await phoneWith(photographed);
  await post(finishScreen, await phone.here(), worked);
  await answered(phone);
  return { phone, id: uuid(70) };
}

test('an address that mail can’t go to is refused on the phone, in the server’s words', async () => {
  const phone = await phoneWith(photographed);
  await post(finishScreen, await phone.here(), worked);
  const page = pageOf(await answered(phone, { signer_email: 'ann@gmail' }));
  expect(page).toContain('“ann@gmail” is not an e-mail address. Write one like office@example.com.');
  expect(await kindsOn(phone)).not.toContain('acceptance');
});

test('a refused signature is mended beside what was signed, which stays as it was', async () => {
  const { phone, id } = await signedPhone();
  const detail = 'Ines Halloran signed as the vehicle’s owner, but belongs to the account that pays.';
  const refusal = { status: 409, code: 'contradiction', detail, field: 'override_reason' };
  await phone.store.markConflict(id, refusal, null);
  const address = `/field/phone/waiting?mend=${id}`;
  const form = pageOf(await waitingScreen.get?.(await phone.here(address), []));
  expect(form).toContain(detail);
  expect(form).toContain('name="override_reason"');
  expect(form).toContain('d="M10 20 L60 45"');
  expect(form).not.toContain('name="outcome"');

  const wrong = await post(acceptanceScreen, await phone.here(address), { signer_email: 'ann@gmail' });
  expect(pageOf(wrong)).toContain('is not an e-mail address');
  const fields = { signer_email: 'ines@example.com', override_reason: 'She owns this one herself.' };
  await post(acceptanceScreen, await phone.here(address), fields);
  expect((await phone.store.listActions()).at(-1)).toMatchObject({
    state: 'waiting',
    action: {
      id,
      body: {
        ...fields,
        signer_name: 'Ines Halloran',
        outcome: 'accepted',
        signature: { kind: 'drawn', strokes },
      },
    },
  });
});

test('a signature that is kept as a note is shown, saved with its strokes and text, and removed only when asked again', async () => {
  const { phone, id } = await signedPhone();
  await phone.store.markConflict(id, { status: 409, code: 'shown_changed', detail: 'It has changed.' }, null);
  await phone.store.markDropped(id);
  const list = pageOf(await waitingScreen.get?.(await phone.here(), []));
  expect(list).toContain(`href="/field/phone/waiting?note=${id}"`);
  const address = `/field/phone/waiting?note=${id}`;
  const note = pageOf(await waitingScreen.get?.(await phone.here(address), []));
  for (const words of ['Ines Halloran', 'It has changed.', 'd="M10 20 L60 45"', 'acceptance-shown-2'])
    expect(note).toContain(words);
  expect(note).not.toContain('Send it after all');
  expect(note).not.toContain('value="remove"');

  await post(waitingScreen, await phone.here(address), { id, choice: 'save' });
  const [file] = phone.saved.values();
  const saved: unknown = JSON.parse((await file?.text()) ?? '');
  expect(saved).toMatchObject({ id, body: { signature: { kind: 'drawn', strokes } } });
  expect(saved).toHaveProperty('shown', expect.stringContaining('acceptance-shown-2'));

  const asked = pageOf(await waitingScreen.get?.(await phone.here(`${address}&remove=yes`), []));
  expect(asked).toContain('Remove it from this phone for good?');
  await post(waitingScreen, await phone.here(`${address}&remove=yes`), { id, choice: 'remove' });
  expect(await kindsOn(phone)).not.toContain('acceptance');
});

test('a photo that was dropped is saved as its own file, or sent after all', async () => {
  const phone = await phoneWith(photographed);
  await phone.store.markDropped(photoIds.after);
  const address = `/field/phone/waiting?note=${photoIds.after}`;
  const note = pageOf(await waitingScreen.get?.(await phone.here(address), []));
  expect(note).toContain(`src="/photos/${photoIds.after}/original"`);
  await post(waitingScreen, await phone.here(address), { id: photoIds.after, choice: 'save' });
  const [, picture] = [...phone.saved].find(([name]) => name.endsWith('.jpg')) ?? [];
  expect(await picture?.text()).toBe(photoIds.after);
  await post(waitingScreen, await phone.here(address), { id: photoIds.after, choice: 'again' });
  expect((await phone.store.listActions()).at(-1)).toMatchObject({ state: 'waiting' });
});

test('each form comes back as it was filled in, with what the server said beside it', async () => {
  const frame = (id: string) => ({ id, workOrderId: order, madeAt: '2026-08-05T10:05:00-05:00' });
  const quote: PhoneAction = {
    ...frame(uuid(80)),
    kind: 'quote',
    body: { id: uuid(80), part: 'tailgate_lining', side: '', amount: '742.10', note: 'Parts counter' },
  };
  const nobody: PhoneAction = {
    ...frame(uuid(81)),
    kind: 'missing_signature',
    body: { id: uuid(81), why: 'absent', reason: 'Picked up by night', witness: 'Rosalind Amberley' },
  };
  const finish: PhoneAction = { ...frame(uuid(82)), kind: 'finish', body: { work: [] } };
  const phone = await phoneWith([...photographed, quote, finish, nobody]);
  const said = (id: string, field: string) =>
    phone.store.markConflict(
      id,
      { status: 422, code: 'invalid_input', detail: `No to ${field}.`, field },
      {},
    );
  const mends = [
    { id: order, field: 'own_number', shows: ['value="BG-9107"', 'value="0VEEA2C45SK000104"'] },
    { id: lineId, field: 'measured_inches', shows: ['value="2.2"', 'fill_cut'] },
    { id: uuid(13), field: 'airbag_lamp', shows: ['Before you start'] },
    { id: uuid(80), field: 'amount', shows: ['value="742.10"', 'value="Parts counter"'] },
    { id: uuid(81), field: 'witness', shows: ['value="Rosalind Amberley"', 'Picked up by night'] },
  ];
  for (const { id, field, shows } of mends) {
    await said(id, field);
    const address = `/field/phone/waiting?mend=${id}`;
    const form = pageOf(await waitingScreen.get?.(await phone.here(address), []));
    for (const words of [`No to ${field}.`, ...shows]) expect(form).toContain(words);
    await phone.store.markWaiting(id);
  }
});

test('a mended line keeps its id and its place, so that its photos still belong to it', async () => {
  const phone = await phoneWith(photographed);
  const refusal = {
    status: 422,
    code: 'invalid_size',
    detail: 'Measure it again.',
    field: 'measured_inches',
  };
  await phone.store.markConflict(lineId, refusal, {});
  await post(newLineScreen, await phone.here(`/field/phone/waiting?mend=${lineId}`), {
    ...{ step: 'save', line_id: lineId, part: 'tailgate_lining', damage: 'cut_or_tear' },
    ...{ observation: 'relaxes_and_lies_down', methods: ['mask', 'fill_cut'], measured_inches: '2.4' },
    family: 'Vinyl cut or tear',
  });
  expect((await phone.store.listActions())[1]).toMatchObject({
    state: 'waiting',
    action: { id: lineId, kind: 'line', body: { id: lineId, measured_inches: '2.4' } },
  });
});
