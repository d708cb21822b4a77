import { photoPurposes } from '@grainwright/domain';
import { vehicleWords } from '@grainwright/operations/phone';
import { fieldButton, quietButton, quietLink } from '../../../look/buttons.ts';
import { hiddenField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { fieldPage } from '../../../look/layout.ts';
import { notice, statusWord } from '../../../look/notices.ts';
import { type Definition, definitionList, emptyState } from '../../../look/tables.ts';
import type { KeptAction } from '../action.ts';
import { kindWords } from '../waiting-words.ts';
import { type Here, orderPath, type Screen, workOf } from './screen.ts';
import { serverSays } from './server-says.ts';

/** What waits on this phone, each with where it stands; and what the server did not take, to be decided. */
export const waitingScreen: Screen = {
  path: /^\/field\/phone\/waiting\/?$/,
  get: (here) => ({ page: waitingPage(here) }),
  post: async (here, form) => {
    const id = form.text('id');
    const kept = here.actions.find(({ action }) => action.id === id);
    if (kept !== undefined) await decide(here, kept, form.text('choice'));
    here.send();
    return { goTo: '/field/phone/waiting' };
  },
};

async function decide({ store, actions }: Here, { action }: KeptAction, choice: string): Promise<void> {
  if (choice === 'again') await store.markWaiting(action.id);
  if (choice === 'another' && (action.kind === 'write_up' || action.kind === 'line'))
    await store.markWaiting(action.id, { ...action, body: { ...action.body, another_damage: true } });
  if (choice !== 'drop') return;
  await store.markDropped(action.id);
  if (action.kind !== 'write_up') return;
  // Without the write-up there is nothing that the rest of it could be sent to.
  for (const other of actions)
    if (other.action.workOrderId === action.workOrderId && other.state !== 'sent')
      await store.markDropped(other.action.id);
}

function waitingPage(here: Here): Html {
  const { frame, actions, promised } = here;
  const toDecide = actions.filter(({ state }) => state === 'conflict');
  const waiting = actions.filter(({ state }) => state === 'waiting');
  const notes = actions.filter(({ state }) => state === 'dropped');
  return fieldPage({
    ...frame,
    title: 'What waits',
    heading: 'What waits on this phone',
    current: null,
    body: html`
      <div data-live="waiting">${toDecide.map((kept) => conflict(here, kept))}${
        waiting.length === 0
          ? emptyState(
              'Nothing waits',
              toDecide.length === 0
                ? 'All that was done on this phone has reached the office.'
                : 'All else has reached the office.',
            )
          : html`<ol class="waiting">${waiting.map((kept) => entry(here, kept))}</ol>`
      }
      ${notes.length > 0 && html`<h2>Not sent, kept as notes</h2><ol class="waiting">${notes.map((kept) => entry(here, kept))}</ol>`}</div>
      <h2>How this phone keeps it</h2>
      <p>${promised ? 'The browser has promised to keep it until it is sent, also when room gets short.' : 'The browser may clear it when room gets short. Put this app on the home screen, and it keeps it more surely.'}</p>
      <p>It is sent when a page is open and there is signal; some browsers also send after the page is closed. Signing out keeps it here for you; nobody else who signs in on this phone sees or sends it.</p>
      <details><summary>Put it on the home screen</summary><p>In the browser’s menu choose “Add to Home Screen” or “Install app”. It then opens like an app, with and without signal.</p></details>
      <p>${quietLink({ label: 'Back to today’s stops', href: '/field' })}</p>
      <form id="send-now" method="post" action="/field/phone/waiting">${hiddenField('choice', 'send')}</form>`,
    primaryAction: fieldButton({ label: 'Send now', form: 'send-now' }),
  });
}

function entry(here: Here, kept: KeptAction): Html {
  return html`<li>
    <span><b>${kindWords[kept.action.kind]}</b> ${aboutWords(here, kept)}</span>
    <span class="hint">${timeOf(kept)}${kept.lastTry !== null && html`. Last try: ${kept.lastTry}`}</span>
    ${kept.state === 'waiting' && progress(kept)}
  </li>`;
}

function progress({ file, sentBytes }: KeptAction): Html {
  if (file === null) return statusWord('waiting', 'waits');
  return html`${statusWord('waiting', sentBytes === 0 ? 'waits' : 'partly sent')}
    <progress value="${sentBytes}" max="${file.bytes}" aria-label="Sent of the file"></progress>
    <span class="hint">${kilobytes(sentBytes)} of ${kilobytes(file.bytes)}</span>`;
}

/** Refused: what this phone has, beside what the office has now, and what can be done about it. Nothing is settled by itself. */
function conflict(here: Here, kept: KeptAction): Html {
  const { action, refusal } = kept;
  const work = workOf(here, action.workOrderId);
  const twice = refusal?.code === 'duplicate' && (action.kind === 'write_up' || action.kind === 'line');
  const signed = action.kind === 'acceptance' && refusal?.code === 'shown_changed';
  return html`<section class="conflict">
    <h2>${kindWords[action.kind]}: not taken</h2>
    ${notice('problem', refusal?.detail ?? 'The service did not take it.', work === null ? aboutWords(here, kept) : html`<a href="${orderPath(work)}">${vehicleWords(work.vehicle, work.ownNumber)}</a>`)}
    <div class="side-by-side">
      <div><h3>On this phone</h3>${definitionList([{ term: 'Done', value: timeOf(kept) }, ...phoneSays(kept)])}</div>
      <div><h3>In the office now</h3>${definitionList(serverSays(kept.serverHas))}</div>
    </div>
    ${signed && html`<p>What was signed stays what was shown then. To have it accepted as it is now, show it again and ask for a new answer; this one is kept as a note.</p>`}
    <div class="buttons">
      ${twice && decision(kept, 'another', 'It is another damage: send it')}
      ${!signed && !twice && decision(kept, 'again', 'Send it again, on what is there now')}
      ${decision(kept, 'drop', action.kind === 'write_up' ? 'Do not send it or what hangs on it; keep it as notes' : 'Do not send it; keep it as a note')}
    </div>
  </section>`;
}

function decision({ action }: KeptAction, choice: 'again' | 'another' | 'drop', label: string): Html {
  return html`<form method="post" action="/field/phone/waiting">
    ${hiddenField('id', action.id)}${hiddenField('choice', choice)}${quietButton({ label })}</form>`;
}

function aboutWords(here: Here, { action }: KeptAction): string {
  const work = workOf(here, action.workOrderId);
  const vehicle = work === null ? '' : `of ${vehicleWords(work.vehicle, work.ownNumber)}`;
  const what = action.kind === 'photo' ? purposeWords(action.body.purpose) : '';
  return [what, vehicle].filter((part) => part !== '').join(' ');
}

function purposeWords(purpose: string): string {
  return Object.entries(photoPurposes).find(([key]) => key === purpose)?.[1] ?? purpose;
}

/** As the phone’s own clock told it. */
function timeOf({ action }: KeptAction): string {
  return new Date(action.madeAt).toLocaleString('en-US', { dateStyle: 'medium', timeStyle: 'short' });
}

function kilobytes(bytes: number): string {
  return `${Math.ceil(bytes / 1000).toLocaleString('en-US')} kB`;
}

const shownFields: Readonly<Record<string, string>> = {
  purpose: 'Shows',
  make: 'Make',
  model: 'Model',
  vin: 'VIN',
  own_number: 'Own number',
  part: 'Part',
  damage: 'Damage',
  family: 'Repair',
  measured_inches: 'Measured',
  outcome: 'Answer',
  remark: 'Remark',
  signer_name: 'Signed by',
  why: 'What happened',
  reason: 'Why',
  witness: 'Witness',
  amount: 'Amount',
  note: 'Note',
};

function phoneSays({ action, file }: KeptAction): readonly Definition[] {
  const said = Object.entries(action.body).flatMap(([name, value]) => {
    const term = shownFields[name];
    return term === undefined || typeof value !== 'string' || value === ''
      ? []
      : [{ term, value: value.replaceAll('_', ' ') }];
  });
  return file === null ? said : [...said, { term: 'File', value: kilobytes(file.bytes) }];
}
