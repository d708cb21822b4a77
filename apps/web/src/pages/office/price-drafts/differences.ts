import {
  differingColumns,
  displayPercent,
  type ListedRate,
  materials,
  vehicleParts,
} from '@grainwright/domain';
import type { PriceDraftView } from '@grainwright/operations';
import { money } from '../../../look/figures.ts';
import { type Html, html } from '../../../look/html.ts';
import { dataTable, emptyState } from '../../../look/tables.ts';
import { bandWords } from '../price-book/band-words.ts';

interface Difference {
  readonly code: string;
  readonly repair: string;
  readonly what: string;
  readonly beforeMinor: bigint | null;
  readonly afterMinor: bigint | null;
}

/** What a draft does to the list in force on its day: what changes, what is new, what ends. */
export function differences(draft: PriceDraftView): Html {
  const amount = (minor: bigint | null) => (minor === null ? '' : money(minor, draft.currency));
  return html`<section><h2>What differs from the list in force</h2>${dataTable({
    caption: 'What differs from the list in force',
    captionHidden: true,
    columns: [
      { header: 'Code', names: true, cell: (row: Difference) => html`<span class="code">${row.code}</span>` },
      { header: 'Repair', cell: (row) => row.repair },
      { header: 'What', cell: (row) => row.what },
      { header: 'Until then', figure: true, cell: (row) => amount(row.beforeMinor) },
      { header: 'From then on', figure: true, cell: (row) => amount(row.afterMinor) },
      { header: 'Difference', figure: true, cell: (row) => amount(difference(row)) },
    ],
    rows: differencesOf(draft),
    empty: emptyState('Nothing differs', 'The list is the one that is in force on that day.'),
  })}</section>`;
}

function difference({ beforeMinor, afterMinor }: Difference): bigint | null {
  return beforeMinor === null || afterMinor === null ? null : afterMinor - beforeMinor;
}

const yesOrNo = (is: boolean) => (is ? 'yes' : 'no');

/** What a column holds, by the words of the page; the list price has columns of its own. */
const columns: readonly {
  readonly of: readonly (keyof ListedRate)[];
  readonly label: string;
  readonly words: (rate: ListedRate) => string;
}[] = [
  { of: ['repair'], label: 'repair', words: ({ repair }) => `“${repair}”` },
  { of: ['family'], label: 'family', words: ({ family }) => `“${family}”` },
  { of: ['overInches', 'toInches'], label: 'size', words: bandWords },
  { of: ['part'], label: 'part', words: ({ part }) => (part === null ? 'any' : vehicleParts[part]) },
  {
    of: ['material'],
    label: 'material',
    words: ({ material }) => (material === null ? 'any' : materials[material]),
  },
  {
    of: ['materialsPercent'],
    label: 'materials share',
    words: ({ materialsPercent }) => displayPercent(materialsPercent),
  },
  {
    of: ['takesFurtherRepair'],
    label: 'further repair',
    words: ({ takesFurtherRepair }) => yesOrNo(takesFurtherRepair),
  },
  { of: ['repairsDamage'], label: 'mends damage', words: ({ repairsDamage }) => yesOrNo(repairsDamage) },
];

/** E.g. “changes: materials share 12 % → 15 %, part any → dash; at the same price”. */
function changeWords(before: ListedRate, after: ListedRate): string {
  const differing = differingColumns(before, after);
  const named = columns
    .filter(({ of }) => of.some((column) => differing.includes(column)))
    .map(({ label, words }) => `${label} ${words(before)} → ${words(after)}`);
  const price = differing.includes('listMinor') ? [] : ['at the same price'];
  return named.length === 0 ? 'changes' : [`changes: ${named.join(', ')}`, ...price].join('; ');
}

function differencesOf({ change }: PriceDraftView): readonly Difference[] {
  const changed = change.changed.map(({ before, after }) => ({
    code: after.code,
    repair: after.repair,
    what: changeWords(before, after),
    beforeMinor: before.listMinor,
    afterMinor: after.listMinor,
  }));
  const added = change.added.map(({ code, repair, listMinor }) => ({
    code,
    repair,
    what: 'is new',
    beforeMinor: null,
    afterMinor: listMinor,
  }));
  const ended = change.ended.map(({ code, repair, listMinor }) => ({
    code,
    repair,
    what: 'ends, priced by hand from then on',
    beforeMinor: listMinor,
    afterMinor: null,
  }));
  return [...changed, ...added, ...ended].toSorted((a, b) => (a.code < b.code ? -1 : 1));
}
