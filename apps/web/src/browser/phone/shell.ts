/**
 * The phone's own app, which stands in for the field pages where there is no signal: the same addresses and the same
 * parts, made from what the phone has kept. A form is kept as an action instead of being sent.
 */
import { type Day, parseDay } from '@grainwright/domain';
import type { Assets } from '../../look/assets.ts';
import type { FieldFrame } from '../../pages/person.ts';
import { FormValues } from '../../plugins/form-values.ts';
import { type Measured, measureFile } from '../camera/measure.ts';
import { leaveOutWhatIsAsked } from '../camera/refresh-kept.ts';
import { finishedIn } from './finished-there.ts';
import type { KeptForm } from './handed-forms.ts';
import { keepReady } from './keep-ready.ts';
import { keptSnapshot } from './kept-snapshot.ts';
import { awaitingDecision } from './needs.ts';
import { isOutOfDate } from './out-of-date.ts';
import { dropSameForms, readForm, readOwner } from './owner.ts';
import { applyActions, type KeptSnapshot } from './projection.ts';
import { refreshSnapshot } from './refresh-snapshot.ts';
import { acceptanceScreen } from './screens/acceptance.ts';
import { finishScreen } from './screens/finish.ts';
import { newLineScreen } from './screens/line.ts';
import { mendingIn, withoutMended } from './screens/mending.ts';
import { notSignedScreen } from './screens/not-signed.ts';
import { notUsed, sendAgain } from './screens/not-used.ts';
import { keepPhotoScreen, photosScreen } from './screens/photos.ts';
import { quoteScreen } from './screens/quotes.ts';
import type { Here, Screen, Shown } from './screens/screen.ts';
import { startScreen } from './screens/start.ts';
import { todayScreen } from './screens/today.ts';
import { waitingScreen } from './screens/waiting.ts';
import { walkAroundScreen } from './screens/walk-around.ts';
import { estimateScreen, notHere, workOrderScreen } from './screens/work-order.ts';
import { writeUpScreen } from './screens/write-up.ts';
import { nameOf } from './sender.ts';
import { show, showNobody } from './show.ts';
import { openPhoneStore, type PhoneStore } from './store.ts';
import { isTypedHere } from './typed-here.ts';
import { answerWaysOut } from './ways-out.ts';

const screens: readonly Screen[] = [
  todayScreen,
  writeUpScreen,
  newLineScreen,
  workOrderScreen,
  estimateScreen,
  photosScreen,
  keepPhotoScreen,
  quoteScreen,
  startScreen,
  finishScreen,
  acceptanceScreen,
  notSignedScreen,
  waitingScreen,
  walkAroundScreen,
];

void open().catch((error: unknown) => {
  showNobody(
    'This page could not be shown',
    'What this phone has kept is still there. Go back to today’s stops, or open the page again with signal.',
  );
  throw error;
});

async function open(): Promise<void> {
  const element = document.querySelector<HTMLElement>('#phone-app');
  const assets = assetsOn(element);
  if (assets === null) return;
  const owner = await readOwner();
  if (owner === null) return showNobody('Sign in when there is signal', 'Nobody is signed in on this phone.');
  const store = await openPhoneStore(owner);
  const kept = (await keptSnapshot(store)) ?? (await takeAlong(store));
  if (kept === null)
    return showNobody(
      'Nothing taken along yet',
      'Open the field pages once with signal; then they work without.',
    );
  const app: App = {
    store,
    kept,
    assets,
    photoBytesMax: Number(element?.dataset.photoBytesMax),
    path: location.pathname,
    query: new URLSearchParams(location.search),
  };
  const handed = await readForm(app.path, owner);
  if (handed !== null) await takeUp(app, handed);
  else await get(app);
  answerWaysOut({ standsIn: true });
  const ready = keepReady(store, document.querySelector<HTMLElement>('[data-phone]'));
  sendNow = () => void ready.send();
  store.onChange(() => void refreshLive(app));
}

/** Opened before any page could do it. */
async function takeAlong(store: PhoneStore): Promise<KeptSnapshot | null> {
  return (await refreshSnapshot(store)) ? keptSnapshot(store) : null;
}

let sendNow: () => void = () => undefined;

interface App {
  readonly store: PhoneStore;
  readonly kept: KeptSnapshot;
  readonly assets: Assets['urls'];
  readonly photoBytesMax: number;
  readonly path: string;
  readonly query: URLSearchParams;
}

async function get(app: App): Promise<void> {
  const here = await hereOf(app, new Map());
  await follow(app, await shownAt(here));
}

async function shownAt(here: Here): Promise<Shown> {
  const found = screenAt(here.path, (screen) => screen.get !== undefined);
  return (await found?.screen.get?.(here, found.ids)) ?? notHere(here);
}

type Fields = readonly (readonly [string, FormDataEntryValue])[];

/** What a form came to, and whether it is kept as an action now. */
interface Posted {
  readonly here: Here;
  readonly shown: Shown;
  readonly isKept: boolean;
}

async function post(app: App, fields: Fields, path = app.path): Promise<void> {
  await follow(app, (await postedTo(app, fields, { path, sentAt: new Date() })).shown);
}

/** A form that was sent from a page of the service: it goes on being there until it is kept as an action. */
async function takeUp(app: App, { path, fields, at }: KeptForm): Promise<void> {
  const { here, shown, isKept } = await postedTo(app, fields, { path, sentAt: new Date(at) });
  const isUsed = isKept || ('page' in shown && shown.missing !== true);
  await follow(app, isUsed ? shown : notUsed(here));
  if (!isUsed)
    document.querySelector('#send-again')?.addEventListener('click', () => sendAgain(path, fields));
}

async function postedTo(
  app: App,
  fields: Fields,
  { path, sentAt }: Pick<Here, 'path' | 'sentAt'>,
): Promise<Posted> {
  const files = new Map(
    fields.flatMap(([name, value]) => (value instanceof File ? [[name, value] as const] : [])),
  );
  let isKept = false;
  const there = { ...(await hereOf(app, files)), sentAt };
  // What was to be mended has come through or was decided meanwhile, in another window.
  if (app.query.has('mend') && there.mending === null) return { here: there, shown: toWaiting, isKept };
  const keepAction: PhoneStore['keepAction'] = async (action, file) => {
    const kept = await app.store.keepAction(action, file);
    isKept = true;
    return kept;
  };
  const here = { ...there, path, store: { ...app.store, keepAction } };
  const found = screenAt(path, (screen) => screen.post !== undefined);
  const shown = (await found?.screen.post?.(here, formOf(fields), found.ids)) ?? notHere(here);
  if (isKept) await dropSameForms({ path, fields }, app.store.owner);
  return { here, shown: here.mending !== null && 'goTo' in shown ? toWaiting : shown, isKept };
}

const toWaiting: Shown = { goTo: '/field/phone/waiting' };

/** A field sent more than once keeps all its values. */
function formOf(fields: Fields): FormValues {
  const texts = fields.filter(([, value]) => typeof value === 'string');
  const names = new Set(texts.map(([name]) => name));
  return new FormValues(
    Object.fromEntries(
      [...names].map((name) => [name, texts.filter(([each]) => each === name).map(([, value]) => value)]),
    ),
  );
}

async function follow(app: App, shown: Shown): Promise<void> {
  if ('goTo' in shown) {
    location.assign(shown.goTo);
    return;
  }
  await show(shown.page, (path, fields) => post(app, fields, path));
}

function screenAt(path: string, fits: (screen: Screen) => boolean) {
  for (const screen of screens) {
    const match = fits(screen) ? screen.path.exec(path) : null;
    if (match !== null) return { screen, ids: match.slice(1) };
  }
  return null;
}

async function hereOf(app: App, files: ReadonlyMap<string, File>): Promise<Here> {
  const { store, kept, assets, path, query, photoBytesMax } = app;
  const actions = await store.listActions();
  const promised = (await navigator.storage?.persisted?.()) ?? false;
  const mending = mendingIn(query, actions);
  const day = applyActions(await freshest(store, kept), withoutMended(actions, mending));
  const frame = frameOf(kept, store, assets);
  return {
    owner: store.owner,
    store,
    day,
    actions,
    frame,
    path,
    query,
    sentAt: new Date(),
    promised,
    files,
    send: () => sendNow(),
    mending,
    photoBytesMax,
    measure: measureFile,
    measureKept: (photoId) => measureOnce(store, photoId),
    save,
  };
}

const measuredKept = new Map<string, Promise<Measured | null>>();

/** Pages are shown anew while things are sent; a photo stays as it is. */
function measureOnce(store: PhoneStore, photoId: string): Promise<Measured | null> {
  const known = measuredKept.get(photoId);
  if (known !== undefined) return known;
  const measured = store.readFile(photoId).then((file) => file && measureFile(file));
  measuredKept.set(photoId, measured);
  return measured;
}

function save(name: string, file: Blob): void {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(file);
  link.download = name;
  link.click();
  // Browsers read it after the click.
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}

async function freshest(store: PhoneStore, kept: KeptSnapshot): Promise<KeptSnapshot> {
  return (await keptSnapshot(store)) ?? kept;
}

function frameOf({ snapshot }: KeptSnapshot, { owner }: PhoneStore, assets: Assets['urls']): FieldFrame {
  const { person, business } = snapshot;
  return {
    person: { name: person.name, business: business.name },
    csrfToken: '',
    assets,
    elsewhere: [],
    phoneOf: nameOf(owner),
    me: { name: person.name, role: person.role, pricesByHand: false, today: todayHere(snapshot), business },
  };
}

/** The business’s own day by the phone’s clock: a snapshot may be of yesterday. */
function todayHere({ business, today }: KeptSnapshot['snapshot']): Day {
  const words = new Intl.DateTimeFormat('en-CA', { timeZone: business.timeZone, dateStyle: 'short' }).format(
    new Date(),
  );
  const day = parseDay(words, 'day');
  return day.ok && day.value > today ? day.value : today;
}

/** What waits moves on while a page is looked at; what somebody types in stays as it is. */
async function refreshLive(app: App): Promise<void> {
  const now = await app.store.listActions();
  const held = awaitingDecision(now, finishedIn(await app.store.readSnapshot()));
  // Whatever came through: the service’s own page tells more.
  const looked = { path: app.path, before: [], now, held };
  if (navigator.onLine && isOutOfDate(looked) && !isTypedHere(document)) return location.reload();
  if (document.querySelector('[data-live]') === null) return undefined;
  const shown = await shownAt(await hereOf(app, new Map()));
  if (!('page' in shown)) return undefined;
  const fresh = new DOMParser().parseFromString(shown.page.toString(), 'text/html');
  for (const part of document.querySelectorAll<HTMLElement>('[data-live]')) {
    const next = fresh.querySelector(`[data-live="${part.dataset.live}"]`);
    if (next && !part.contains(document.activeElement)) part.replaceChildren(...next.childNodes);
  }
  leaveOutWhatIsAsked();
  return undefined;
}

function assetsOn(element: HTMLElement | null): Assets['urls'] | null {
  const read: unknown = JSON.parse(element?.dataset.assets ?? 'null');
  return isAssets(read) ? read : null;
}

function isAssets(read: unknown): read is Assets['urls'] {
  return (
    typeof read === 'object' && read !== null && Object.values(read).every((url) => typeof url === 'string')
  );
}
