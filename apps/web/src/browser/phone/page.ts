/**
 * On every field page: makes the phone ready for where there is no signal. It remembers whose phone it is, sends what
 * waits and says so, and asks before somebody signs out with things unsent.
 */
import { keepReady } from './keep-ready.ts';
import { lockPhone } from './lock-phone.ts';
import { offerForms } from './offer-forms.ts';
import { keepOwner, listForms, ownerOnPage, readOwner } from './owner.ts';
import { openPhoneStore, type PhoneOwner } from './store.ts';
import { signOutWords } from './waiting-words.ts';

const owner = ownerOnPage();
if (owner !== null && 'indexedDB' in window && 'locks' in navigator) void start(owner);

async function start(phoneOf: PhoneOwner): Promise<void> {
  const before = await readOwner();
  await keepOwner(phoneOf);
  const store = await openPhoneStore(phoneOf);
  // Signing out let go of the pictures that were taken along.
  if (before?.tenantId !== phoneOf.tenantId || before.personId !== phoneOf.personId) await store.noteChange();
  // Away from this device a browser lets pages work without signal over TLS only.
  await navigator.serviceWorker?.register('/field/worker.js', { scope: '/field' }).catch(() => undefined);
  const place = document.querySelector<HTMLElement>('[data-phone]');
  keepReady(store, place);
  for (const form of document.querySelectorAll<HTMLFormElement>('form[action="/sign-out"]'))
    form.addEventListener('submit', (event) => {
      event.preventDefault();
      void signOut(form);
    });
  if (place !== null) await offerForms(place, phoneOf);

  async function signOut(form: HTMLFormElement): Promise<void> {
    const words = signOutWords(await store.listActions(), (await listForms(phoneOf)).length);
    if (words !== '' && !window.confirm(words)) return;
    await lockPhone(phoneOf);
    form.submit();
  }
}
