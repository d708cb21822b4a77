/**
 * Whose phone it is just now: who signed in last on it, as pages say it in `data-phone`. Kept beside the stores, so that
 * the app without signal and the worker know it too; signing out forgets it.
 */
import { openDB } from 'idb';
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

/** Also the forms that were handed on: they are nobody else's. */
export async function forgetOwner(): Promise<void> {
  await withPhone((database) => database.clear('now'));
}

/** A form that was sent from a page while there was no signal, for the app to take up. */
export interface HandedForm {
  readonly path: string;
  readonly fields: readonly (readonly [string, string | File])[];
}

/** With whose it is and when it was sent. */
interface KeptForm extends HandedForm, PhoneOwner {
  /** In milliseconds, by the phone's clock. */
  readonly at: number;
}

/** Later, nobody expects any more that it is still taken up. */
const formMilliseconds = 600_000;

/** Each address has its own, so that one that could not be used yet is not lost to the next. */
export async function handForm(form: HandedForm, at: number): Promise<void> {
  const owner = await readOwner();
  if (owner === null) return;
  const { tenantId, personId } = owner;
  const kept: KeptForm = { ...form, tenantId, personId, at };
  await withPhone((database) => database.put('now', kept, formKey(form.path)));
}

/** Null where this person has sent none from this address. It stays until it is dropped. */
export async function readForm(path: string, owner: PhoneOwner): Promise<HandedForm | null> {
  const kept: unknown = await withPhone((database) => database.get('now', formKey(path)));
  if (!isForm(kept)) return null;
  return kept.tenantId === owner.tenantId && kept.personId === owner.personId ? kept : null;
}

/** Those too old to be taken up go. For the worker, whose clock told when they were sent, before it opens the app. */
export async function dropOldForms(now: number): Promise<void> {
  const kept: readonly unknown[] = await withPhone((database) => database.getAll('now'));
  for (const form of kept)
    if (isForm(form) && Math.abs(now - form.at) > formMilliseconds) await dropForm(form.path);
}

export async function dropForm(path: string): Promise<void> {
  await withPhone((database) => database.delete('now', formKey(path)));
}

function formKey(path: string): string {
  return `form ${path}`;
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

function isForm(kept: unknown): kept is KeptForm {
  return (
    isOwner(kept) &&
    'path' in kept &&
    typeof kept.path === 'string' &&
    'fields' in kept &&
    'at' in kept &&
    typeof kept.at === 'number'
  );
}
