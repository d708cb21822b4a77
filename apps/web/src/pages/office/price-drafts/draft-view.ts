import { formatDecimal, type Problem, type SizeGap } from '@grainwright/domain';
import type { PriceDraftView } from '@grainwright/operations';
import { actionButton, quietButton, quietLink } from '../../../look/buttons.ts';
import { fieldGroup } from '../../../look/field-group.ts';
import { dayText, instantShown, moneyText } from '../../../look/figures.ts';
import { dateField, errorSummary, hiddenCsrf, hiddenField, textField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { notice } from '../../../look/notices.ts';
import type { Frame } from '../../person.ts';
import { differences } from './differences.ts';
import { listTable } from './list-table.ts';
import { rowsTable } from './rows-view.ts';
import { listProblems, storedOtherwise, type TypedList } from './typed-list.ts';

export interface DraftPage {
  readonly frame: Frame;
  readonly draft: PriceDraftView;
  readonly list: TypedList;
  readonly problem: Problem | null;
  readonly saved: boolean;
}

export function draftPath(id: string, part = ''): string {
  return `/office/price-book/drafts/${id}${part === '' ? '' : `/${part}`}`;
}

/** One price list in the making: its name, its day and all of its rows. One that was ended is only read. */
export function draftPage(page: DraftPage): Html {
  const { frame, draft } = page;
  return officePage({
    ...frame,
    title: draft.name,
    heading: draft.name,
    lead: lead(draft),
    beside: quietLink({ label: 'All price lists', href: '/office/price-book/drafts' }),
    current: 'price-book',
    wide: true,
    body: draft.state === 'open' ? openDraft(page) : endedDraft(draft),
  });
}

function lead(draft: PriceDraftView): Html {
  const { state, countsFrom, endedAt, endedByName, timeZone } = draft;
  const when = endedAt === null ? '' : instantShown(endedAt, timeZone);
  if (state === 'published')
    return html`${endedByName} put it into force on ${when}; it counts from ${dayText(countsFrom)}.`;
  if (state === 'discarded') return html`${endedByName} discarded it on ${when}.`;
  return html`Counts from ${dayText(countsFrom)} once it is put into force; until then it changes nothing. Started by ${draft.startedByName}.`;
}

function openDraft(page: DraftPage): Html {
  const { frame, draft, list, problem } = page;
  const problems = listProblems(list, problem);
  const errorOf = (name: string) => problems.find(({ field }) => field === name)?.message;
  return html`${page.saved && notice('done', 'Saved', savedWords(draft))}
    ${movedNotice(frame, draft, list.revision)}
    ${notToComeNotice(draft)}
    ${problem?.code === 'shown_changed' ? overtaken(draft, list) : errorSummary(problems)}
    ${notTakenNotice(draft)}
    ${gapsNotice(draft.gaps)}
    <div class="buttons">
      ${quietLink({ label: 'What would change', href: draftPath(draft.id, 'trial') })}
      ${quietLink({ label: 'Read a CSV in', href: draftPath(draft.id, 'csv') })}
      ${quietLink({ label: 'This list as CSV', href: draftPath(draft.id, 'list.csv') })}
      ${quietLink({ label: 'Put it into force, or discard it', href: draftPath(draft.id, 'publish') })}
    </div>
    <form method="post" action="${draftPath(draft.id)}" novalidate>
      ${hiddenCsrf(frame.csrfToken)}${hiddenField('revision', String(list.revision))}
      ${fieldGroup('The list', [
        textField({
          name: 'name',
          label: 'Name',
          value: list.name,
          error: errorOf('name'),
          maxLength: 80,
          required: true,
        }),
        dateField({
          name: 'counts_from',
          label: 'Counts from',
          value: list.countsFrom,
          error: errorOf('counts_from'),
          required: true,
        }),
      ])}
      ${rowsTable({ draft, list, problems })}
      <p class="hint">“Ends” takes a row out of the new list: from its first day on that repair is priced by hand. Labor and materials are those of what was saved last. Sizes in inches; without a part or material a rate is for any.</p>
      <div class="buttons">${actionButton({ label: 'Save the list' })}
        ${quietButton({ label: 'More empty rows', name: 'action', value: 'add' })}</div>
    </form>`;
}

function savedWords({ change }: PriceDraftView): string {
  const { changed, added, ended } = change;
  const parts = [
    `${changed.length} ${changed.length === 1 ? 'row differs' : 'rows differ'} from the list in force`,
    ...(added.length === 0 ? [] : [`${added.length} new`]),
    ...(ended.length === 0 ? [] : [`${ended.length} ending`]),
  ];
  return `${parts.join(', ')}.`;
}

/** The price book went on while the draft was made: what it has now, and a way to go on from there. */
export function movedNotice(frame: Frame, draft: PriceDraftView, revision: number): Html | false {
  const { moved, inForce, currency } = draft;
  if (moved.length === 0) return false;
  const now = new Map(inForce.map((rate) => [rate.code, rate]));
  const words = (code: string) => {
    const rate = now.get(code);
    return rate === undefined ? 'no price' : moneyText(rate.listMinor, currency);
  };
  return notice(
    'problem',
    'The price book changed since this list was begun',
    html`<ul>${moved.map((code) => html`<li><span class="code">${code}</span>: ${words(code)} on ${dayText(draft.countsFrom)} now</li>`)}</ul>
      <p>The column “Until then” shows what stands there now.</p>
      <form method="post" action="${draftPath(draft.id, 'go-on')}">
        ${hiddenCsrf(frame.csrfToken)}${hiddenField('revision', String(revision))}${hiddenField('book', draft.book)}
        ${quietButton({ label: 'Seen: go on with this list' })}
      </form>`,
  );
}

/** Only a list of a day that is still to come can be put into force. */
export function notToComeNotice({ state, countsFrom, today }: PriceDraftView): Html | false {
  return (
    state === 'open' &&
    countsFrom <= today &&
    notice(
      'problem',
      'Its day is not to come any more',
      `It counts from ${dayText(countsFrom)}. Give it a later day before you put it into force.`,
    )
  );
}

/** Somebody saved meanwhile: what they saved, beside what was typed, which the next save puts in its place. */
function overtaken(draft: PriceDraftView, list: TypedList): Html {
  const other = storedOtherwise(draft, list);
  const shown = other.slice(0, 30);
  return notice(
    'problem',
    'Somebody else saved this list meanwhile',
    html`<p>Yours was not saved; all you typed stands below. Where the list has something else now:</p>
      <ul>${shown.map(({ stored, typed }) => html`<li><span class="code">${stored.code}</span>: ${moneyText(stored.listMinor, draft.currency)}, ${stored.repair}; yours: ${typed === null ? 'not in the list' : typed.list}</li>`)}</ul>
      ${other.length > shown.length && html`<p>And ${other.length - shown.length} rows more.</p>`}
      <p>Saving again puts yours in the place of all of it.</p>`,
  );
}

export function notTakenNotice({ notTaken }: PriceDraftView): Html | false {
  return (
    notTaken.length > 0 &&
    notice(
      'problem',
      'Codes that can’t come back',
      html`<ul>${notTaken.map(({ code, detail }) => html`<li><span class="code">${code}</span>: ${detail}</li>`)}</ul>
      <p>The list can’t be put into force with them. Give these repairs codes that have not been used.</p>`,
    )
  );
}

function gapsNotice(gaps: readonly SizeGap[]): Html | false {
  return (
    gaps.length > 0 &&
    notice(
      'info',
      gaps.length === 1 ? 'One gap between sizes' : `${gaps.length} gaps between sizes`,
      html`<ul>${gaps.map(({ below, above }) => html`<li>${below.family}: nothing over ${below.toInches && formatDecimal(below.toInches)} to ${above.overInches && formatDecimal(above.overInches)} in, between <span class="code">${below.code}</span> and <span class="code">${above.code}</span>. Such a repair is priced by hand.</li>`)}</ul>`,
    )
  );
}

function endedDraft(draft: PriceDraftView): Html {
  return html`<div class="buttons">
      ${quietLink({ label: 'This list as CSV', href: draftPath(draft.id, 'list.csv') })}
      ${quietLink({ label: 'The price book of that day', href: `/office/price-book?on=${draft.countsFrom}` })}
    </div>
    ${draft.state === 'discarded' && differences(draft)}
    <section><h2>Its rows</h2>${listTable(draft)}</section>`;
}
