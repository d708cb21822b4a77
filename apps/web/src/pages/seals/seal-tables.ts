import { sealKinds } from '@grainwright/domain';
import type { PublicKeyView, SealDaysView, SealedThing } from '@grainwright/operations';
import { quietButton } from '../../look/buttons.ts';
import { dayShown, instantShown } from '../../look/figures.ts';
import { dateField } from '../../look/forms.ts';
import { type Html, html } from '../../look/html.ts';
import { statusWord } from '../../look/notices.ts';
import { dataTable, emptyState } from '../../look/tables.ts';
import type { FormProblems } from '../form-problems.ts';

/** Every key of the business, the newest first. */
export function keysTable(keys: readonly PublicKeyView[], timeZone: string): Html {
  return dataTable({
    caption: 'Signing keys',
    captionHidden: true,
    columns: [
      {
        header: 'Key',
        names: true,
        cell: (key) =>
          html`${digestShown(key.keyId)}<br><span class="hint">Public key ${digestShown(key.publicKey)}</span>`,
      },
      { header: 'State', cell: stateWord },
      { header: 'Made', cell: (key) => instantShown(key.madeAt, timeZone) },
      {
        header: 'Replaced',
        cell: (key) => (key.retiredAt === null ? '–' : instantShown(key.retiredAt, timeZone)),
      },
      { header: 'How it began', cell: beginningWords },
    ],
    rows: keys.toReversed(),
    empty: emptyState('No key yet', 'The first key is made with the first seal.'),
  });
}

function stateWord({ state }: PublicKeyView): Html {
  if (state === 'in_use') return statusWord('settled', 'In use');
  return state === 'waiting' ? statusWord('waiting', 'Being introduced') : statusWord('stopped', 'Retired');
}

function beginningWords({ cause, introducedBy }: PublicKeyView): string {
  if (cause === 'first') return 'The first key';
  if (introducedBy === null) return 'Its seal is being put';
  return cause === 'rotated'
    ? `Introduced by the key before it, seal ${introducedBy}`
    : `Introduced itself, seal ${introducedBy}: what keys are made from had changed`;
}

/** The days of a span with what statements print of them. */
export function daysPart({ from, to, view, problems }: DaysAsked, base: string): Html {
  const { errorOf } = problems;
  return html`<form class="filters" method="get" action="${base}">
      ${dateField({ name: 'from', label: 'From', value: from, error: errorOf('from') })}
      ${dateField({ name: 'to', label: 'Through', value: to, error: errorOf('to') })}
      ${quietButton({ label: 'Show' })}
    </form>
    ${
      view !== null &&
      dataTable({
        caption: 'Sealed days',
        captionHidden: true,
        columns: [
          { header: 'Day', names: true, cell: (each) => dayShown(each.day) },
          { header: 'Seals', figure: true, cell: (each) => sealsWords(each.firstNumber, each.size) },
          { header: 'Root', cell: (each) => digestShown(each.root) },
          { header: 'Digest', cell: (each) => digestShown(each.sha256) },
        ],
        rows: view.days,
        empty: emptyState(
          'No sealed day in these days',
          'A day is sealed once it is over, if anything was answered, signed or credited on it.',
        ),
      })
    }`;
}

/** Everything that was sealed in these days, and of what. `workOrders` is where this person’s work orders are. */
export function sealsTable(seals: readonly SealedThing[], workOrders: string, timeZone: string): Html {
  return dataTable({
    caption: 'What was sealed',
    captionHidden: true,
    columns: [
      { header: 'No.', figure: true, cell: ({ number }) => String(number) },
      {
        header: 'What',
        names: true,
        cell: ({ kind, creditNote }) =>
          creditNote === null ? sealKinds[kind] : `${sealKinds[kind]} ${creditNote}`,
      },
      {
        header: 'Work order',
        cell: ({ workOrder }) =>
          workOrder === null
            ? '–'
            : html`<a href="${`${workOrders}/${workOrder.id}`}">WO-${workOrder.number}</a>`,
      },
      { header: 'Sealed', cell: ({ sealedAt }) => instantShown(sealedAt, timeZone) },
      { header: 'Digest', cell: ({ sha256 }) => digestShown(sha256) },
    ],
    rows: seals,
    empty: emptyState(
      'Nothing of yours was sealed in these days',
      'Each approval, each signature on finished work, each rework and each credit note gets a seal.',
    ),
  });
}

export interface DaysAsked {
  readonly from: string;
  readonly to: string;
  /** Null where what was asked for could not be read. */
  readonly view: SealDaysView | null;
  readonly problems: FormProblems;
}

function sealsWords(first: number, size: number): string {
  return size === 1 ? `no. ${first}` : `no. ${first} to ${first + size - 1}`;
}

function digestShown(digest: string): Html {
  return html`<span class="code digest">${digest}</span>`;
}
