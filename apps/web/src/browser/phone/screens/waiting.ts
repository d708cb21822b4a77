import { actionLink, fieldButton, quietButton, quietLink } from '../../../look/buttons.ts';
import { hiddenField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { fieldPage } from '../../../look/layout.ts';
import { notice, statusWord } from '../../../look/notices.ts';
import { definitionList, emptyState } from '../../../look/tables.ts';
import type { KeptAction } from '../action.ts';
import { finishedIn } from '../finished-there.ts';
import { awaitingDecision, awaitsFinishAnew } from '../needs.ts';
import { kindWords } from '../waiting-words.ts';
import { aboutWords, kilobytes, saidWords, timeOf } from './action-words.ts';
import { mendForm, mendPath } from './mend-form.ts';
import { notePage, notePath, saveCopy } from './note.ts';
import { type Here, orderPath, type Screen, workOf } from './screen.ts';
import { serverHasOf } from './server-has.ts';
import { serverSays } from './server-says.ts';
import { numberedWork } from './work-words.ts';

/**
 * What waits on this phone, each with where it stands; what the server did not take, to be mended or decided; and what is
 * not sent any more, to be looked at.
 */
export const waitingScreen: Screen = {
  path: /^\/field\/phone\/waiting\/?$/,
  get: async (here) => {
    const form = here.mending === null ? null : await mendForm(here, here.mending);
    if (form !== null) return form;
    const note = here.actions.find(
      ({ action, state }) => action.id === here.query.get('note') && state === 'dropped',
    );
    return { page: note === undefined ? waitingPage(here) : notePage(here, note) };
  },
  post: async (here, form) => {
    const id = form.text('id');
    const kept = here.actions.find(({ action }) => action.id === id);
    if (kept !== undefined && form.text('choice') === 'save') {
      await saveCopy(here, kept);
      return { page: notePage(here, kept) };
    }
    if (kept !== undefined) await decide(here, kept, form.text('choice'));
    here.send();
    return { goTo: '/field/phone/waiting' };
  },
};

async function decide({ store, actions }: Here, { action }: KeptAction, choice: string): Promise<void> {
  if (choice === 'again') await store.markWaiting(action.id);
  if (choice === 'another' && (action.kind === 'write_up' || action.kind === 'line'))
    await store.amendAction({ ...action, body: { ...action.body, another_damage: true } });
  if (choice === 'remove') await store.removeNote(action.id);
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
  const finishedThere = finishedIn(here.day);
  const held = awaitingDecision(actions, finishedThere);
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
                ? 'All that you did on this phone has reached the office.'
                : 'All else has reached the office.',
            )
          : html`<ol class="waiting">${waiting.map((kept) => entry(here, kept, whyHeld(here, kept, held)))}</ol>`
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

/** Why it does not go out by itself, and what can be done; null where it does. */
function whyHeld(here: Here, kept: KeptAction, held: readonly KeptAction[]): Html | null {
  if (!held.includes(kept)) return null;
  if (!awaitsFinishAnew(kept, here.actions, finishedIn(here.day)))
    return html`<p>It waits for what was not taken of this work order.</p>`;
  const finish = `/field/work-orders/${kept.action.workOrderId}/finish`;
  return html`<p>It waits for the end of work, which was given up: finish the work again, here or in the office, or give this up as well.</p>
    <div class="buttons">${quietLink({ label: 'Finish the work again', href: finish })}
      ${decision(kept, 'drop', dropWords)}</div>`;
}

const dropWords = 'Do not send it; keep it as a note';

function entry(here: Here, kept: KeptAction, why: Html | null = null): Html {
  return html`<li>
    <span><b>${kindWords[kept.action.kind]}</b> ${aboutWords(here, kept)}</span>
    <span class="hint">${timeOf(here, kept)}${kept.lastTry !== null && html`. Last try: ${kept.lastTry}`}</span>
    ${kept.state === 'waiting' && progress(kept)}
    ${why}
    ${kept.state === 'dropped' && html`<span>${quietLink({ label: 'Open the note', href: notePath(kept) })}</span>`}
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
  const mend = signed ? null : mendPath(here, kept);
  const there = serverHasOf(kept);
  return html`<section class="conflict">
    <h2>${kindWords[action.kind]}: not taken</h2>
    ${notice('problem', refusal?.detail ?? 'The service did not take it.', work === null ? aboutWords(here, kept) : html`<a href="${orderPath(work)}">${numberedWork(work)}</a>, as this phone has it`)}
    <div class="side-by-side">
      <div><h3>On this phone</h3>${definitionList([{ term: 'Done', value: timeOf(here, kept) }, ...saidWords(here, kept)])}</div>
      <div><h3>In the office now</h3>${definitionList(serverSays(kept.serverHas))}
        ${there !== null && html`<p>${quietLink({ label: there.isAnother ? `Open ${there.words} on the server` : 'See it on the server', href: `/field/work-orders/${there.id}?see=server` })}</p>`}</div>
    </div>
    ${signed && html`<p>What was signed stays what was shown then. To have it accepted as it is now, show it again and ask for a new answer; this one is kept as a note.</p>`}
    <div class="buttons">
      ${mend !== null && actionLink(mend)}
      ${twice && decision(kept, 'another', 'It is another damage: send it')}
      ${!signed && !twice && decision(kept, 'again', 'Send it again as it is')}
      ${decision(kept, 'drop', action.kind === 'write_up' ? 'Do not send it or what hangs on it; keep it as notes' : dropWords)}
    </div>
  </section>`;
}

function decision({ action }: KeptAction, choice: 'again' | 'another' | 'drop', label: string): Html {
  return html`<form method="post" action="/field/phone/waiting">
    ${hiddenField('id', action.id)}${hiddenField('choice', choice)}${quietButton({ label })}</form>`;
}
