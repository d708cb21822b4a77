/**
 * Whose phone it is just now: who signed in last on it, as pages say it in `data-phone`. Kept beside the stores, so that
 * the app without signal and the worker know it too; signing out forgets it.
 */
import { openDB } from 'idb';
import { formToTakeUp, type HandedForm, isSameForm, type KeptForm } from './handed-forms.ts';
import { newId } from './new-id.ts';
import { onDisk, roomFor } from './phone-database.ts';
import type { PhoneOwner } from './store.ts';

/** As the page that is shown says; null on a page of nobody's phone. */
export function ownerOnPage(): PhoneOwner | null {
  const [tenantId = '', personId = ''] =
    document.querySelector<HTMLElement>('[data-phone]')?.dataset.phone?.split('.') ?? [];
  return tenantId === '' || personId === '' ? null : { tenantId, personId };
}

export async function keepOwner(owner: PhoneOwner): Promise<void> {
  const { tenantId, personId } = owner;
  await withPhone((database) => database.put('now', { tenantId, personId }, 'owner'));
}

export async function readOwner(): Promise<PhoneOwner | null> {
  const kept: unknown = await withPhone((database) => database.get('now', 'owner'));
  return isOwner(kept) ? kept : null;
}

/** Nobody is signed in now. What was not sent stays for whom it is of, also the forms that were handed on. */
export async function forgetOwner(): Promise<void> {
  await withPhone(async (database) => {
    const transaction = database.transaction('now', 'readwrite');
    const owner: unknown = await transaction.store.get('owner');
    if (owner !== undefined) await transaction.store.put(owner, 'owner before');
    await transaction.store.delete('owner');
    await transaction.done;
  });
}

/** Later, nobody expects any more that it is taken up by itself. */
const formMilliseconds = 600_000;

/**
 * Keeps a form under the name of whoever uses the phone, or used it last: a page that is still open after its session
 * ended is theirs. It takes the place of the same form sent before, and of no other. Throws `PhoneFullError` where the phone
 * has no room; what was kept before stays.
 */
export async function handForm(form: HandedForm, at: number): Promise<void> {
  const owner = (await readOwner()) ?? (await readOwnerBefore());
  if (owner === null) return;
  const before = (await listForms(owner)).filter((each) => isSameForm(each, form));
  const { path, fields } = form;
  const { tenantId, personId } = owner;
  const kept = { path, fields, tenantId, personId, at, renewedAt: at, isOld: false };
  await withPhone((database) =>
    roomFor(async () => {
      const transaction = database.transaction('now', 'readwrite', onDisk);
      await transaction.store.put(kept, `form ${newId()}`);
      for (const { key } of before) await transaction.store.delete(key);
      await transaction.done;
    }),
  );
}

/** Null where this person has sent none from this address of late. It stays until it is dropped. */
export async function readForm(path: string, owner: PhoneOwner): Promise<KeptForm | null> {
  return formToTakeUp(await listForms(owner), path);
}

/** All that this person has handed on and that is neither an action nor sent nor thrown away. */
export async function listForms(owner: PhoneOwner): Promise<readonly KeptForm[]> {
  return (await allForms()).filter((form) => isOf(form, owner));
}

/** Those that nobody waits for any more are not taken up by themselves. For the worker, whose clock told when they were sent. */
export async function ageForms(now: number): Promise<void> {
  for (const form of await allForms())
    if (!form.isOld && Math.abs(now - form.renewedAt) > formMilliseconds)
      await putForm({ ...form, isOld: true });
}

/** The person says that it is to be taken up after all. Answers whether it is there. */
export async function renewForm(key: string, now: number): Promise<boolean> {
  const form = (await allForms()).find((each) => each.key === key);
  if (form !== undefined) await putForm({ ...form, renewedAt: now, isOld: false });
  return form !== undefined;
}

/** It was kept or has come through; what was handed on before and is the same goes with it. */
export async function dropSameForms(sent: HandedForm, owner: PhoneOwner): Promise<void> {
  for (const form of await listForms(owner)) if (isSameForm(form, sent)) await throwFormAway(form.key);
}

export async function throwFormAway(key: string): Promise<void> {
  await withPhone((database) => database.delete('now', key));
}

async function putForm({ key, ...form }: KeptForm): Promise<void> {
  await withPhone((database) => database.put('now', form, key));
}

function allForms(): Promise<readonly KeptForm[]> {
  return withPhone(async (database) => {
    const forms: KeptForm[] = [];
    let cursor = await database.transaction('now').store.openCursor();
    while (cursor !== null) {
      const form = formIn(String(cursor.key), cursor.value);
      if (form !== null) forms.push(form);
      cursor = await cursor.continue();
    }
    return forms;
  });
}

async function readOwnerBefore(): Promise<PhoneOwner | null> {
  const kept: unknown = await withPhone((database) => database.get('now', 'owner before'));
  return isOwner(kept) ? kept : null;
}

function isOf(form: KeptForm, { tenantId, personId }: PhoneOwner): boolean {
  return form.tenantId === tenantId && form.personId === personId;
}

async function withPhone<T>(
  work: (database: Awaited<ReturnType<typeof openPhone>>) => Promise<T>,
): Promise<T> {
  const database = await openPhone();
  try {
    return await work(database);
  } finally {
    database.close();
  }
}

function openPhone() {
  return openDB('grainwright-phone', 1, { upgrade: (made) => void made.createObjectStore('now') });
}

function isOwner(kept: unknown): kept is PhoneOwner {
  if (typeof kept !== 'object' || kept === null || !('tenantId' in kept) || !('personId' in kept))
    return false;
  return typeof kept.tenantId === 'string' && typeof kept.personId === 'string';
}

function formIn(key: string, kept: unknown): KeptForm | null {
  if (!isOwner(kept) || !('path' in kept && 'fields' in kept && 'at' in kept)) return null;
  const { tenantId, personId, path, fields, at } = kept;
  if (typeof path !== 'string' || typeof at !== 'number' || !isFields(fields)) return null;
  const renewedAt = 'renewedAt' in kept && typeof kept.renewedAt === 'number' ? kept.renewedAt : at;
  return {
    key,
    path,
    fields,
    tenantId,
    personId,
    at,
    renewedAt,
    isOld: 'isOld' in kept && kept.isOld === true,
  };
}

function isFields(kept: unknown): kept is HandedForm['fields'] {
  return Array.isArray(kept) && kept.every((each) => Array.isArray(each) && each.length === 2);
}
