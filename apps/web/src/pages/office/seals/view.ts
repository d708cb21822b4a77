import type { Problem } from '@grainwright/domain';
import type { SealsView } from '@grainwright/operations';
import { quietButton } from '../../../look/buttons.ts';
import { dayText, instantShown } from '../../../look/figures.ts';
import { errorSummary, hiddenCsrf, hiddenField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { notice } from '../../../look/notices.ts';
import { sealFrame } from '../../../look/seam.ts';
import { definitionList } from '../../../look/tables.ts';
import { problemsOf } from '../../form-problems.ts';
import type { Frame } from '../../person.ts';
import { type DaysAsked, daysPart, keysTable } from '../../seals/seal-tables.ts';

export interface SealsPage {
  readonly frame: Frame;
  readonly view: SealsView;
  readonly days: DaysAsked;
  /** Of the form; made anew for each page and kept when it comes back. */
  readonly newId: string;
  readonly problem: Problem | null;
}

export function sealsPage({ frame, view, days, newId, problem }: SealsPage): Html {
  const { timeZone } = frame.me.business;
  return officePage({
    ...frame,
    title: 'Seals',
    heading: 'Seals',
    lead: 'Every approval, acceptance, release, credit note and rework is sealed as it happens, and each seal holds on to the one before it. What was sealed can’t be changed, left out or put in later without it showing.',
    current: 'seals',
    body: html`${errorSummary(problemsOf(problem, []).summary)}
      ${standing(view, timeZone)}
      <section><h2>Sealed days</h2>
        <p class="hint">Once a day is over, its seals come under one root. Statements print the newest one, so whoever keeps a statement keeps a proof of everything before it.</p>
        ${daysPart(days, '/office/seals')}</section>
      <section><h2>Signing keys</h2>${keysTable(view.keys, timeZone)}${change({ frame, view, newId })}</section>`,
  });
}

function standing({ seals, lastSealedAt, waiting, lastDay, keys }: SealsView, timeZone: string): Html {
  if (seals === 0 && waiting === 0)
    return notice('info', 'Nothing is sealed yet', 'The first approval or acceptance puts the first seal.');
  const inUse = keys.find(({ state }) => state === 'in_use');
  return html`${
    waiting > 0 &&
    notice(
      'info',
      waiting === 1 ? 'One record waits for its seal' : `${waiting} records wait for their seals`,
      'The background puts them within a minute. Where this stays for longer, see whether it runs, and what its log says.',
    )
  }<section>${sealFrame(
    definitionList([
      { term: 'Seals', value: String(seals) },
      { term: 'Last one', value: lastSealedAt === null ? 'none' : instantShown(lastSealedAt, timeZone) },
      { term: 'Sealed through', value: lastDay === null ? 'no day yet' : dayText(lastDay.day) },
      {
        term: 'Key in use',
        value: inUse === undefined ? 'none' : html`<span class="code digest">${inUse.keyId}</span>`,
      },
    ]),
  )}</section>`;
}

function change({ frame, view, newId }: Pick<SealsPage, 'frame' | 'view' | 'newId'>): Html | false {
  if (view.keys.length === 0) return false;
  return html`<details><summary>Change the signing key</summary>
    <p>Change it where a rule asks for it, or when the key in use may have been seen. Where the database’s password was seen, have the operator change that instead: a new key then begins by itself. The key in use signs one last seal, which names the new one, so that everybody can follow from key to key. What was sealed before stays valid and is checked with the key of its time.</p>
    <form method="post" action="/office/seals/keys">
      ${hiddenCsrf(frame.csrfToken)}${hiddenField('id', newId)}
      ${quietButton({ label: 'Change the key' })}
    </form></details>`;
}
