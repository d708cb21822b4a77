/**
 * On every field page: makes the phone ready for where there is no signal. It remembers whose phone it is, sends what
 * waits and says so, and asks before somebody signs out with things unsent.
 */
import { finishedIn } from './finished-there.ts';
import { keepReady } from './keep-ready.ts';
import { lockPhone } from './lock-phone.ts';
import { awaitingDecision } from './needs.ts';
import { offerForms } from './offer-forms.ts';
import { isOutOfDate } from './out-of-date.ts';
import { keepOwner, listForms, ownerOnPage, readOwner } from './owner.ts';
import { openPhoneStore, type PhoneOwner, type PhoneStore } from './store.ts';
import { isTypedHere } from './typed-here.ts';
import { signOutWords } from './waiting-words.ts';
import { answerWaysOut } from './ways-out.ts';

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
  answerWaysOut({ standsIn: false });
  for (const form of document.querySelectorAll<HTMLFormElement>('form[action="/sign-out"]'))
    form.addEventListener('submit', (event) => {
      event.preventDefault();
      void signOut(form);
    });
  if (place !== null) await offerForms(place, store);
  await showAnewOnceSent(store);

  async function signOut(form: HTMLFormElement): Promise<void> {
    const words = signOutWords(await store.listActions(), (await listForms(phoneOf)).length);
    if (words !== '' && !window.confirm(words)) return;
    await lockPhone(phoneOf);
    form.submit();
  }
}

/** What this page shows is out of date once things have come through that were kept here when it was opened. */
async function showAnewOnceSent(store: PhoneStore): Promise<void> {
  const { pathname: path } = location;
  const before = await store.listActions();
  store.onChange(async () => {
    const now = await store.listActions();
    const held = awaitingDecision(now, finishedIn(await store.readSnapshot()));
    if (navigator.onLine && isOutOfDate({ path, before, now, held }) && !isTypedHere(document))
      location.reload();
  });
}
