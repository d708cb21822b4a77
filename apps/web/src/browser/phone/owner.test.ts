import 'fake-indexeddb/auto';
import { beforeEach, expect, test } from 'vitest';
import { lockPhone } from './lock-phone.ts';
import { dropForm, dropOldForms, forgetOwner, handForm, keepOwner, readForm, readOwner } from './owner.ts';

const mine = { tenantId: 'tenant', personId: 'one' };
const theirs = { tenantId: 'tenant', personId: 'two' };
const minute = 60_000;
const form = { path: '/field/write-up', fields: [['make', 'Ostra']] } as const;

beforeEach(async () => {
  await forgetOwner();
  await keepOwner(mine);
});

test('a handed form stays until it is dropped, and each address has its own', async () => {
  const other = { path: '/field/work-orders/1/photos', fields: [['purpose', 'before']] } as const;
  await handForm(form, 0);
  await handForm(other, 0);
  expect(await readForm(form.path, mine)).toMatchObject(form);
  expect(await readForm(form.path, mine)).toMatchObject(form);
  await dropForm(form.path);
  expect(await readForm(form.path, mine)).toBeNull();
  expect(await readForm(other.path, mine)).toMatchObject(other);
});

test('a handed form is taken up for whoever sent it only, and within minutes', async () => {
  await handForm(form, 0);
  expect(await readForm(form.path, theirs)).toBeNull();
  expect(await readForm(form.path, { ...mine, tenantId: 'another' })).toBeNull();
  await dropOldForms(10 * minute);
  expect(await readForm(form.path, mine)).toMatchObject(form);
  await dropOldForms(11 * minute);
  expect(await readForm(form.path, mine)).toBeNull();
  expect(await readOwner()).toEqual(mine);
});

test('signing out takes the handed forms with it; with nobody signed in none is kept', async () => {
  await handForm(form, 0);
  await lockPhone(mine);
  expect(await readOwner()).toBeNull();
  await handForm({ ...form, path: '/field' }, 0);
  await keepOwner(mine);
  expect(await readForm(form.path, mine)).toBeNull();
  expect(await readForm('/field', mine)).toBeNull();
});

test('somebody else’s session that ended does not sign out who uses the phone now', async () => {
  await lockPhone(theirs);
  expect(await readOwner()).toEqual(mine);
});
