import {
  noticeDays,
  type Problem,
  periodWords,
  type RetentionKind,
  type RetentionPeriod,
  retentionKinds,
  shortestDays,
} from '@grainwright/domain';
import type { KindRetention, RetentionView } from '@grainwright/operations';
import { actionButton, quietButton } from '../../../look/buttons.ts';
import { dayShown, instantShown } from '../../../look/figures.ts';
import {
  dateField,
  errorSummary,
  hiddenCsrf,
  hiddenField,
  selectField,
  textField,
} from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { dataTable, emptyState } from '../../../look/tables.ts';
import { choicesOf } from '../../field/choices.ts';
import { problemsOf } from '../../form-problems.ts';
import type { Frame } from '../../person.ts';
import { workOrderNumber } from '../../work-order/state-words.ts';
import { standingHolds } from './holds-part.ts';
import { setWords, sizeText, switchForm, type TypedSwitch } from './switch-part.ts';

export interface RuleForm {
  readonly id: string;
  readonly kind: string;
  /** Empty: for good. */
  readonly period: string;
  readonly unit: string;
  readonly reason: string;
}

export interface RetentionPage {
  readonly frame: Frame;
  readonly view: RetentionView;
  readonly form: RuleForm;
  readonly turn: TypedSwitch;
  readonly problem: Problem | null;
}

/** How long things are kept, what would go, and what went. */
export function retentionView(page: RetentionPage): Html {
  const { frame, view } = page;
  return officePage({
    ...frame,
    title: 'Retention',
    heading: 'Retention',
    lead: view.isOn
      ? 'What its rule lets go is deleted once a day.'
      : 'Nothing is deleted: the rules are not switched on.',
    current: 'retention',
    body: html`
      <p class="hint">How long records must be kept, and how long they may be, is a matter of local law: a licensed adviser decides.</p>
      <section>${rules(page)}</section>
      ${ruleForm(page)}
      ${switchForm(page)}
      <section>${standingHolds(page)}</section>
      <section>${due(page)}</section>
      <section>${deleted(page)}</section>`,
  });
}

function keepsWords(keeps: RetentionPeriod | null): string {
  return keeps === null ? 'for good' : periodWords(keeps);
}

const counted: Readonly<Record<RetentionKind, string>> = {
  photos: 'the end of the work order',
  recordings: 'the end of the work order',
  documents: 'the day of issue',
  mails: 'the day it was sent, or the end of the work order it is about',
};

function rules({ frame, view }: RetentionPage): Html {
  return dataTable({
    caption: 'How long things are kept',
    rows: view.kinds,
    empty: html``,
    columns: [
      { header: 'What', names: true, cell: ({ kind }) => capital(retentionKinds[kind]) },
      { header: 'Kept', cell: ({ keeps }) => keepsWords(keeps) },
      { header: 'From', cell: ({ kind }) => counted[kind] },
      { header: 'Why', cell: ({ set }) => set && setWords(set, frame.me.business.timeZone) },
      { header: 'Waits', cell: ({ waits }) => waits && waitsWords(waits, frame.me.business.timeZone) },
    ],
  });
}

function waitsWords(
  { keeps, from, setBy, setAt, reason }: NonNullable<KindRetention['waits']>,
  timeZone: string,
): Html {
  return html`${keepsWords(keeps)}, from ${instantShown(from, timeZone)} on <span class="hint">(${setWords({ by: setBy, at: setAt, reason }, timeZone)})</span>`;
}

function capital(words: string): string {
  return `${words.charAt(0).toUpperCase()}${words.slice(1)}`;
}

function ruleForm({ frame, form, problem }: RetentionPage): Html {
  const { summary, errorOf } = problemsOf(problem, ['kind', 'period', 'unit', 'reason']);
  const least = Object.entries(shortestDays).map(
    ([kind, days]) => `${retentionKinds[kind as RetentionKind]} ${days.toLocaleString('en-US')} days`,
  );
  return html`<form method="post" action="/office/retention/rules" class="unprinted">
    <h2>Change how long something is kept</h2>
    ${hiddenCsrf(frame.csrfToken)}${hiddenField('id', form.id)}
    <p>A longer time counts at once. A shorter one counts after ${noticeDays} days, so that a mistake can be stopped: set the longer time again.</p>
    ${errorSummary(summary)}
    <div class="field-group field-group--apart">
      ${selectField({ name: 'kind', label: 'What', value: form.kind, choices: choicesOf(retentionKinds), error: errorOf('kind') })}
      ${textField({ name: 'period', label: 'How long', value: form.period, error: errorOf('period'), autocomplete: 'off', maxLength: 6 })}
      ${selectField({
        name: 'unit',
        label: 'Days or years',
        value: form.unit,
        choices: [
          { value: 'years', label: 'years' },
          { value: 'days', label: 'days' },
        ],
        error: errorOf('unit'),
      })}
      ${textField({ name: 'reason', label: 'Why', value: form.reason, required: false, maxLength: 500, autocomplete: 'off', error: errorOf('reason') })}
    </div>
    <p class="hint">How long is a whole number; empty: for good. At the least: ${least.join(', ')}.</p>
    ${actionButton({ label: 'Set it' })}
  </form>`;
}

function due({ view }: RetentionPage): Html {
  const { on, groups, more } = view.due;
  const going = groups.filter(({ held }) => !held);
  const bytes = going.reduce((sum, group) => sum + group.bytes, 0n);
  return html`<h2>What would go</h2>
    <form method="get" action="/office/retention" class="filter">
      ${dateField({ name: 'on', label: 'On', value: on })}
      ${quietButton({ label: 'Look' })}
    </form>
    ${dataTable({
      caption: `What is over on ${on}`,
      captionHidden: true,
      totalsLabel: more ? 'Of those listed; there are more' : 'What would go',
      rows: groups,
      empty: emptyState('Nothing', 'No time is over that day.'),
      columns: [
        {
          header: 'Of',
          names: true,
          cell: ({ workOrderId, workOrderNumber: number, accountId, accountName }) =>
            workOrderId !== null && number !== null
              ? html`<a href="/office/work-orders/${workOrderId}">${workOrderNumber(number)}</a>`
              : accountId === null
                ? 'the business'
                : html`<a href="/office/accounts/${accountId}">${accountName ?? ''}</a>`,
        },
        { header: 'What', cell: ({ kind }) => retentionKinds[kind] },
        { header: 'Kept through', cell: ({ keptThrough }) => dayShown(keptThrough) },
        {
          header: 'Count',
          figure: true,
          cell: ({ count }) => count.toLocaleString('en-US'),
          total: going.reduce((sum, group) => sum + group.count, 0).toLocaleString('en-US'),
        },
        { header: 'Size', figure: true, cell: (group) => sizeText(group.bytes), total: sizeText(bytes) },
        { header: 'Goes', cell: ({ held }) => (held ? 'stays: legal hold' : 'yes') },
      ],
    })}`;
}

function deleted({ frame, view }: RetentionPage): Html {
  return dataTable({
    caption: 'What went, the latest first',
    rows: view.deleted,
    empty: html``,
    columns: [
      { header: 'When', names: true, cell: (row) => instantShown(row.deletedAt, frame.me.business.timeZone) },
      { header: 'What', cell: (row) => retentionKinds[row.kind] },
      {
        header: 'Of',
        cell: (row) =>
          row.workOrderId === null
            ? ''
            : html`<a href="/office/work-orders/${row.workOrderId}">the work order</a>`,
      },
      { header: 'Rule', cell: (row) => keepsWords(row) },
      {
        header: 'Digest',
        cell: (row) =>
          row.files.map((file) => html`<span class="code">${file.what} ${file.sha256.slice(0, 12)}…</span> `),
      },
      { header: 'Size', figure: true, cell: (row) => sizeText(row.bytes) },
      { header: 'Bytes', cell: (row) => (row.removedAt === null ? 'being removed' : 'gone') },
    ],
  });
}
