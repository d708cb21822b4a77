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

export async function forgetOwner(): Promise<void> {
  await withPhone((database) => database.delete('now', 'owner'));
}

/** A form that was sent from a page while there was no signal, for the app to take up. */
export interface HandedForm {
  readonly path: string;
  readonly fields: readonly (readonly [string, string | File])[];
}

export async function handForm(form: HandedForm): Promise<void> {
  await withPhone((database) => database.put('now', form, 'form'));
}

/** Null where there is none for this address; taken up once. */
export async function takeForm(path: string): Promise<HandedForm | null> {
  const kept: unknown = await withPhone((database) => database.get('now', 'form'));
  if (!isForm(kept) || kept.path !== path) return null;
  await withPhone((database) => database.delete('now', 'form'));
  return kept;
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

function isForm(kept: unknown): kept is HandedForm {
  return typeof kept === 'object' && kept !== null && 'path' in kept && 'fields' in kept;
}
