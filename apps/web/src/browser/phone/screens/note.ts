import { fieldLink, quietButton, quietLink } from '../../../look/buttons.ts';
import { hiddenField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { fieldPage } from '../../../look/layout.ts';
import { notice } from '../../../look/notices.ts';
import { definitionList } from '../../../look/tables.ts';
import type { KeptAction } from '../action.ts';
import { holdsAnswer } from '../needs.ts';
import { kindWords } from '../waiting-words.ts';
import { aboutWords, saidWords, timeOf } from './action-words.ts';
import { type Here, orderPath, workOf } from './screen.ts';
import { signedFacts } from './signed-facts.ts';
import { numberedWork } from './work-words.ts';

export function notePath({ action }: KeptAction): string {
  return `/field/phone/waiting?note=${action.id}`;
}

/** A note, in full: what was done and not sent, to be looked at, saved as a file, sent after all, or removed. */
export function notePage(here: Here, kept: KeptAction): Html {
  const { frame, query, actions } = here;
  const { action, refusal } = kept;
  const isHeld = holdsAnswer(kept, actions);
  const work = workOf(here, action.workOrderId);
  const done = [{ term: 'Done', value: timeOf(here, kept) }];
  return fieldPage({
    ...frame,
    title: `Note: ${kindWords[action.kind]}`,
    heading: kindWords[action.kind],
    lead: work === null ? 'a work order that is not on this phone any more' : numberedWork(work),
    current: null,
    body: html`
      ${!isHeld && query.get('remove') === 'yes' && removeAsked(kept)}
      ${notice('info', 'Not sent; kept on this phone as a note', refusal === null ? undefined : `The office said: ${refusal.detail}`)}
      ${action.kind === 'photo' && picture(here, kept)}
      ${action.kind === 'acceptance' ? signedFacts(action, done) : definitionList([...done, ...saidWords(here, kept)])}
      <div class="buttons">
        ${choice(kept, 'save', 'Save a copy')}
        ${mayBeSent(kept) && choice(kept, 'again', 'Send it after all')}
        ${!isHeld && query.get('remove') !== 'yes' && quietLink({ label: 'Remove it', href: `${notePath(kept)}&remove=yes` })}
        ${work !== null && quietLink({ label: 'Open the work order', href: orderPath(work) })}
      </div>
      ${isHeld && html`<p>It can be removed once the answer to this work was sent or given up.</p>`}`,
    primaryAction: fieldLink({ label: 'Back to what waits', href: '/field/phone/waiting' }),
  });
}

/** What was signed as something else than it is now would be refused again. */
function mayBeSent({ action, refusal }: KeptAction): boolean {
  return action.kind !== 'acceptance' || refusal?.code !== 'shown_changed';
}

function removeAsked(kept: KeptAction): Html {
  const words = 'It is nowhere else. Save a copy first if it may be needed.';
  return html`${notice('problem', 'Remove it from this phone for good?', words)}
    <div class="buttons">${choice(kept, 'remove', 'Remove it for good')}${quietLink({ label: 'Keep it', href: notePath(kept) })}</div>`;
}

function picture(here: Here, kept: KeptAction): Html {
  const { id } = kept.action;
  return html`<figure class="note-picture"><img src="/photos/${id}/original" alt="${aboutWords(here, kept)}"></figure>`;
}

function choice({ action }: KeptAction, choice: 'save' | 'again' | 'remove', label: string): Html {
  return html`<form method="post" action="/field/phone/waiting">
    ${hiddenField('id', action.id)}${hiddenField('choice', choice)}${quietButton({ label })}</form>`;
}

/** All of a note as files: what was said as JSON, the strokes and the signed text with it, and a picture or recording as it is. */
export async function saveCopy({ store, save }: Here, kept: KeptAction): Promise<void> {
  const { action, refusal, file } = kept;
  const name = `${kindWords[action.kind]} ${action.madeAt.slice(0, 16).replaceAll(':', '.')}`;
  const text = JSON.stringify({ ...action, file, refusal }, null, 2);
  save(`${name}.json`, new Blob([text], { type: 'application/json' }));
  const content = file === null ? null : await store.readFile(action.id);
  if (content !== null) save(`${name}.${endingOf(content.type)}`, content);
}

function endingOf(mediaType: string): string {
  const [, kind = 'bin'] = mediaType.split(';')[0]?.split('/') ?? [];
  return kind === 'jpeg' ? 'jpg' : kind === 'quicktime' ? 'mov' : kind;
}
