import { materials, splitLine, vehicleParts } from '@grainwright/domain';
import type { PriceDraftView } from '@grainwright/operations';
import { moneyText } from '../../../look/figures.ts';
import { type FieldError, fieldId } from '../../../look/forms.ts';
import { attributes, type Html, html } from '../../../look/html.ts';
import { inputName, type RowInput, type TypedList, type TypedRow } from './typed-list.ts';

interface Cell {
  readonly name: RowInput;
  readonly label: string;
  readonly width: 'sign' | 'short' | 'word' | 'words';
  readonly figure?: boolean;
  /** The id of a datalist. */
  readonly list?: string;
}

const textCells: readonly Cell[] = [
  { name: 'code', label: 'Code', width: 'short' },
  { name: 'repair', label: 'Repair', width: 'words' },
  { name: 'over', label: 'Over', width: 'sign', figure: true },
  { name: 'to', label: 'Up to', width: 'sign', figure: true },
  { name: 'part', label: 'Part', width: 'word', list: 'parts' },
  { name: 'material', label: 'Material', width: 'word', list: 'materials' },
];
const priceCells: readonly Cell[] = [
  { name: 'list', label: 'List price', width: 'short', figure: true },
  { name: 'share', label: 'Materials %', width: 'sign', figure: true },
];
const familyCell: Cell = { name: 'family', label: 'Family', width: 'word', list: 'families' };
const columnCount = 15;

export interface RowsTable {
  readonly draft: PriceDraftView;
  readonly list: TypedList;
  readonly problems: readonly FieldError[];
}

/** The whole list in one table, every cell an input. It scrolls within itself where the screen is narrow. */
export function rowsTable({ draft, list, problems }: RowsTable): Html {
  const errors = new Map(problems.map(({ field, message }) => [field, message]));
  const inForce = new Map(draft.inForce.map((rate) => [rate.code, rate]));
  const stored = new Map(draft.rates.map((rate) => [rate.code, rate]));
  return html`<div class="table-frame table-frame--scroll" role="region" tabindex="0" aria-label="The list">
    <table class="table table--inputs">
      <caption class="heard">The list</caption>
      <thead><tr>
        <th scope="col">Ends</th>
        ${textCells.map(head)}
        <th scope="col" class="figure">Until then</th>
        ${priceCells.map(head)}
        <th scope="col" class="figure">Labor</th><th scope="col" class="figure">Materials</th>
        <th scope="col">Further repair</th><th scope="col">Damage</th>
        ${head(familyCell)}
      </tr></thead>
      <tbody>${list.rows.map((row, index) => {
        const before = inForce.get(row.code);
        const now = before === undefined ? '' : moneyText(before.listMinor, draft.currency);
        const rate = stored.get(row.code);
        const split = rate === undefined ? null : splitLine(rate.listMinor, rate.materialsPercent);
        const amount = (minor: bigint | undefined) =>
          minor === undefined ? '' : moneyText(minor, draft.currency);
        const cell = (each: Cell) => inputCell(each, row, index, errors.get(inputName(each.name, index)));
        return html`${groupHead(list.rows, index)}<tr ${attributes({ class: row.ends && 'ends' })}>
          <td>${box('ends', 'Ends', row.ends, row, index)}</td>
          ${textCells.map(cell)}
          <td class="figure">${now}</td>
          ${priceCells.map(cell)}
          <td class="figure">${amount(split?.laborMinor)}</td><td class="figure">${amount(split?.materialsMinor)}</td>
          <td>${box('further', 'Takes part in further repairs', row.further, row, index)}</td>
          <td>${box('damage', 'Mends damage', row.damage, row, index)}</td>
          ${cell(familyCell)}
        </tr>`;
      })}</tbody>
    </table>
  </div>
  ${datalist('parts', Object.values(vehicleParts))}${datalist('materials', Object.values(materials))}
  ${datalist(
    'families',
    [...new Set(list.rows.map((row) => row.family))].filter((family) => family !== ''),
  )}`;
}

function head({ label, figure }: Cell): Html {
  return html`<th ${attributes({ scope: 'col', class: figure && 'figure' })}>${label}</th>`;
}

/** The family stands over its rows; rows that nothing is written in yet are new ones. */
function groupHead(rows: readonly TypedRow[], index: number): Html | false {
  const [row, before] = [rows[index], rows[index - 1]];
  if (row === undefined) return false;
  const isNew = isEmpty(row);
  const starts = before === undefined || before.family !== row.family || isEmpty(before) !== isNew;
  const words = isNew ? 'New rows' : row.family || 'Without a family';
  return starts && html`<tr class="group"><th scope="colgroup" colspan="${columnCount}">${words}</th></tr>`;
}

function isEmpty(row: TypedRow): boolean {
  return row.code === '' && row.family === '' && row.repair === '' && row.list === '';
}

function inputCell(
  { name, label, width, figure, list }: Cell,
  row: TypedRow,
  index: number,
  error: string | undefined,
): Html {
  const id = fieldId({ name: inputName(name, index) });
  const own = {
    id,
    name,
    type: 'text',
    value: row[name],
    'aria-label': `${label}, ${rowWords(row, index)}`,
    'aria-invalid': error === undefined ? undefined : 'true',
    'aria-describedby': error === undefined ? undefined : `${id}-error`,
    autocomplete: 'off',
    class: figure ? `figure ${width}` : width,
    inputmode: figure ? 'decimal' : undefined,
    list,
  };
  return html`<td><input ${attributes(own)}>${error !== undefined && html`<p class="error" id="${id}-error">${error}</p>`}</td>`;
}

function box(name: string, label: string, checked: boolean, row: TypedRow, index: number): Html {
  const words = `${label}, ${rowWords(row, index)}`;
  const own = { type: 'checkbox', name, value: String(index), checked, 'aria-label': words };
  return html`<label class="box"><input ${attributes(own)}></label>`;
}

function rowWords({ code }: TypedRow, index: number): string {
  return code === '' ? `row ${index + 1}` : code;
}

function datalist(id: string, words: readonly string[]): Html {
  return html`<datalist id="${id}">${words.map((word) => html`<option value="${word}"></option>`)}</datalist>`;
}
