/**
 * On every field page: makes the phone ready for where there is no signal. It remembers whose phone it is, sends what
 * waits and says so, and asks before somebody signs out with things unsent.
 */
import { keepReady } from './keep-ready.ts';
import { lockPhone } from './lock-phone.ts';
import { keepOwner, ownerOnPage } from './owner.ts';
import { openPhoneStore, type PhoneOwner } from './store.ts';
import { waitingWords } from './waiting-words.ts';

const owner = ownerOnPage();
if (owner !== null && 'indexedDB' in window && 'locks' in navigator) void start(owner);

async function start(phoneOf: PhoneOwner): Promise<void> {
  await keepOwner(phoneOf);
  const store = await openPhoneStore(phoneOf);
  // Away from this device a browser lets pages work without signal over TLS only.
  await navigator.serviceWorker?.register('/field/worker.js', { scope: '/field' }).catch(() => undefined);
  keepReady(store, document.querySelector<HTMLElement>('[data-phone]'));
  for (const form of document.querySelectorAll<HTMLFormElement>('form[action="/sign-out"]'))
    form.addEventListener('submit', (event) => {
      event.preventDefault();
      void signOut(form);
    });

  async function signOut(form: HTMLFormElement): Promise<void> {
    const unsent = waitingWords(await store.listActions());
    const words = `${unsent} not sent yet. They stay on this phone for you, and are sent when you sign in on it again. Sign out?`;
    if (unsent !== '' && !window.confirm(words)) return;
    await lockPhone(phoneOf);
    form.submit();
  }
}
