import { formatDecimal, type JsonValue } from '@grainwright/domain';
import type { TrailEntry, TrailView } from '@grainwright/operations';
import { quietLink } from '../../look/buttons.ts';
import { sentLaterShown } from '../../look/figures.ts';
import { type Html, html } from '../../look/html.ts';
import { type Stitch, seam } from '../../look/seam.ts';
import { dataTable, emptyState } from '../../look/tables.ts';

export interface TrailShown {
  readonly trail: TrailView;
  readonly business: string;
  readonly timeZone: string;
  /** Of the page itself. */
  readonly path: string;
}

/** Who did what, as a seam; for the staff with what is on record besides. */
export function trailParts({ trail, path, ...place }: TrailShown): Html {
  const { entries, accountName: account } = trail;
  const shown = { ...place, account };
  if (entries.length === 0) return emptyState('Nothing yet', 'What is done from now on shows up here.');
  const isWhole = entries.some(({ internal }) => internal !== null);
  return html`${pageLinks(trail, path)}
    ${seam('Who did what', stitchesOf(entries, shown))}
    ${isWhole && html`<section><h2>On record</h2>${recordTable(entries, shown)}</section>`}
    ${pageLinks(trail, path)}`;
}

/** To what was before and after this page; nothing where all of it stands here. */
function pageLinks({ earlier, later }: TrailView, path: string): Html | null {
  if (earlier === null && later === null) return null;
  return html`<nav class="buttons unprinted" aria-label="Pages of the record">
    ${earlier !== null && quietLink({ label: 'Earlier', href: `${path}?before=${earlier}` })}
    ${later !== null && quietLink({ label: 'Later', href: `${path}?after=${later}` })}
    ${later !== null && quietLink({ label: 'Newest', href: path })}</nav>`;
}

type Shown = Omit<TrailShown, 'trail' | 'path'> & { readonly account: string };

/** The same by the same, one after the other, is one stitch: ten pictures are no ten events. */
function stitchesOf(entries: readonly TrailEntry[], shown: Shown): readonly Stitch[] {
  const runs: TrailEntry[][] = [];
  for (const entry of entries) {
    const last = runs.at(-1)?.at(-1);
    const isMore = last?.action === entry.action && last.by === entry.by && last.side === entry.side;
    if (isMore) runs.at(-1)?.push(entry);
    else runs.push([entry]);
  }
  return runs.flatMap((run) => {
    const [first] = run;
    if (first === undefined) return [];
    const times = run.length === 1 ? '' : `, ${run.length} times`;
    const done = { when: whenShown(first, shown), by: whoWords(first, shown) };
    return [{ label: `${first.words}${times}`, done }];
  });
}

function whenShown({ at, madeOnPhoneAt }: TrailEntry, { timeZone }: Shown): Html {
  return sentLaterShown(at, madeOnPhoneAt, timeZone);
}

function whoWords({ by, side }: TrailEntry, { business, account }: Shown): string {
  if (side === 'vehicle_owner') return 'the vehicle’s owner';
  const of = side === 'business' ? business : account;
  return by === null ? of : `${by}, ${of}`;
}

function recordTable(entries: readonly TrailEntry[], shown: Shown): Html {
  return dataTable({
    caption: 'On record',
    captionHidden: true,
    columns: [
      { header: 'When', cell: (entry) => whenShown(entry, shown) },
      { header: 'What', names: true, cell: ({ words }) => words },
      { header: 'Who', cell: (entry) => whoWords(entry, shown) },
      { header: 'From', cell: ({ internal }) => internal?.fromAddress || '–' },
      { header: 'Link', figure: true, cell: ({ internal }) => chainWords(internal?.chainNumber ?? null) },
      { header: 'Detail', cell: ({ internal }) => detailShown(internal?.detail ?? null) },
    ],
    rows: entries,
    empty: emptyState('Nothing yet', 'What is done from now on shows up here.'),
  });
}

/** Its place in the chain of audit records. */
function chainWords(number: number | null): string {
  return number === null ? 'not yet chained' : String(number);
}

/** What was before and after, a fact a line; what says nothing is left out. */
function detailShown(detail: JsonValue): Html | string {
  const facts = factsOf('', detail);
  if (facts.length === 0) return '–';
  return html`<details class="trail-detail"><summary>Show</summary>
    <ul>${facts.map(({ name, value }) => html`<li>${name !== '' && html`<b>${name}</b> `}${value}</li>`)}</ul>
  </details>`;
}

interface Fact {
  readonly name: string;
  readonly value: string;
}

function factsOf(name: string, value: JsonValue): readonly Fact[] {
  if (value === null || value === '') return [];
  const figure = figureOf(value);
  if (figure !== null) return [{ name, value: figure }];
  if (typeof value !== 'object') return [{ name, value: String(value) }];
  const below = (part: string) =>
    [
      name,
      part
        .replaceAll('_', ' ')
        .replace(/([a-z])([A-Z])/g, '$1 $2')
        .toLowerCase(),
    ]
      .filter((each) => each !== '')
      .join(', ');
  return Object.entries(value).flatMap(([key, each]) =>
    factsOf(Array.isArray(value) ? below(String(Number(key) + 1)) : below(key), each),
  );
}

/** An amount or an exact decimal as it is kept on record, written out as people do; null for anything else. */
function figureOf(value: JsonValue): string | null {
  if (value === null || typeof value !== 'object' || Array.isArray(value)) return null;
  const { bigint, digits, scale, ...others } = value as Readonly<Record<string, JsonValue>>;
  if (Object.keys(others).length > 0) return null;
  if (digits === undefined && scale === undefined) return wholeOf(bigint)?.toString() ?? null;
  const whole = digits === undefined ? null : (wholeOf(digits) ?? figureOfDigits(digits));
  return bigint === undefined && whole !== null && typeof scale === 'number'
    ? formatDecimal({ digits: whole, scale })
    : null;
}

function figureOfDigits(digits: JsonValue): bigint | null {
  const text = figureOf(digits);
  return text === null ? null : wholeOf(text);
}

function wholeOf(value: JsonValue | undefined): bigint | null {
  const isWhole = typeof value === 'string' ? /^-?\d{1,40}$/.test(value) : Number.isInteger(value);
  return isWhole ? BigInt(String(value)) : null;
}
