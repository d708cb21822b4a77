import 'fake-indexeddb/auto';
import { beforeEach, expect, test } from 'vitest';
import { lockPhone } from './lock-phone.ts';
import {
  ageForms,
  dropSameForms,
  handForm,
  keepOwner,
  listForms,
  readForm,
  readOwner,
  renewForm,
  throwFormAway,
} from './owner.ts';

const mine = { tenantId: 'tenant', personId: 'one' };
const theirs = { tenantId: 'tenant', personId: 'two' };
const minute = 60_000;
const form = { path: '/field/write-up', fields: [['make', 'Ostra']] } as const;

beforeEach(async () => {
  for (const { key } of [...(await listForms(mine)), ...(await listForms(theirs))]) await throwFormAway(key);
  await keepOwner(mine);
});

test('a handed form stays until it has come through, and each address has its own', async () => {
  const other = { path: '/field/work-orders/1/photos', fields: [['purpose', 'before']] } as const;
  await handForm(form, 0);
  await handForm(other, 0);
  expect(await readForm(form.path, mine)).toMatchObject(form);
  expect(await readForm(form.path, mine)).toMatchObject(form);
  await dropSameForms(form, mine);
  expect(await readForm(form.path, mine)).toBeNull();
  expect(await readForm(other.path, mine)).toMatchObject(other);
});

test('the same form sent again is one; another one from the same address takes nobody’s place', async () => {
  const write = (id: string, make: string) => ({
    path: form.path,
    fields: [
      ['id', id],
      ['make', make],
    ] as const,
  });
  await handForm(write('1', 'Ostra'), 0);
  await handForm(write('1', 'Ostra Vela'), 1);
  await handForm(write('2', 'Nerith'), 2);
  expect(await listForms(mine)).toHaveLength(2);
  expect(await readForm(form.path, mine)).toMatchObject(write('2', 'Nerith'));
  await dropSameForms(write('2', 'Nerith, corrected'), mine);
  expect(await readForm(form.path, mine)).toMatchObject(write('1', 'Ostra Vela'));
});

test('work ends once: a corrected form of it takes the place of the one before', async () => {
  const path = '/field/work-orders/01990000-0000-7000-8000-000000000001/finish';
  const finish = (minutes: string) => ({ path, fields: [['technician_minutes', minutes]] as const });
  await handForm(finish('45'), 0);
  await handForm(finish('40'), 1);
  expect(await listForms(mine)).toMatchObject([finish('40')]);
  await dropSameForms(finish('35'), mine);
  expect(await listForms(mine)).toEqual([]);
});

test('a handed form is taken up for whoever sent it only', async () => {
  await handForm(form, 0);
  expect(await readForm(form.path, theirs)).toBeNull();
  expect(await readForm(form.path, { ...mine, tenantId: 'another' })).toBeNull();
  await dropSameForms(form, theirs);
  expect(await readForm(form.path, mine)).toMatchObject(form);
});

test('after ten minutes it is not taken up by itself, but stays until the person says so or throws it away', async () => {
  await handForm(form, 0);
  await ageForms(10 * minute);
  expect(await readForm(form.path, mine)).toMatchObject(form);
  await ageForms(11 * minute);
  expect(await readForm(form.path, mine)).toBeNull();
  const [left] = await listForms(mine);
  expect(left).toMatchObject(form);
  const key = left?.key ?? '';
  expect(await renewForm('another', 12 * minute)).toBe(false);
  expect(await renewForm(key, 12 * minute)).toBe(true);
  // It was sent when it was sent, however late it is taken up.
  expect(await readForm(form.path, mine)).toMatchObject({ ...form, at: 0 });
  await throwFormAway(key);
  expect(await listForms(mine)).toEqual([]);
});

test('signing out, and a session that ended, keep the handed forms for whom they are of', async () => {
  await handForm(form, 0);
  await lockPhone(mine);
  expect(await readOwner()).toBeNull();
  // From a page that was still open: whose it is was known last.
  await handForm({ ...form, path: '/field' }, 0);
  await keepOwner(theirs);
  expect(await listForms(theirs)).toEqual([]);
  await keepOwner(mine);
  expect(await readForm(form.path, mine)).toMatchObject(form);
  expect(await readForm('/field', mine)).toMatchObject({ ...form, path: '/field' });
});

test('somebody else’s session that ended does not sign out who uses the phone now', async () => {
  await lockPhone(theirs);
  expect(await readOwner()).toEqual(mine);
});
