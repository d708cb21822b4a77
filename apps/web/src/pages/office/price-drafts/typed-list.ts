import {
  inListOrder,
  type ListedRate,
  materials,
  type PriceDraftId,
  type Problem,
  vehicleParts,
} from '@grainwright/domain';
import {
  asWritten,
  type ListRowInput,
  type PriceDraftView,
  type SavePriceDraftInput,
} from '@grainwright/operations';
import type { FormValues } from '../../../plugins/forms.ts';

/** The inputs of a row that hold text, with the column of the list that each is. */
export const rowInputs = {
  code: 'code',
  repair: 'repair',
  family: 'family',
  over: 'over_inches',
  to: 'to_inches',
  part: 'part',
  material: 'material',
  list: 'list',
  share: 'materials_percent',
} as const;
export type RowInput = keyof typeof rowInputs;
const inputNames = Object.keys(rowInputs) as readonly RowInput[];

/** A row as it stands in the form. */
export interface TypedRow extends Readonly<Record<RowInput, string>> {
  readonly further: boolean;
  readonly damage: boolean;
  /** Not in the new list. */
  readonly ends: boolean;
}

/** The whole form, so that nothing typed is lost when it comes back. */
export interface TypedList {
  readonly name: string;
  readonly countsFrom: string;
  readonly revision: number;
  readonly rows: readonly TypedRow[];
}

const emptyRow: TypedRow = {
  code: '',
  repair: '',
  family: '',
  over: '',
  to: '',
  part: '',
  material: '',
  list: '',
  share: '',
  further: true,
  damage: true,
  ends: false,
};
const emptyRows = 3;

/** A form with room for more rows. */
export function withRoom(list: TypedList, rows = emptyRows): TypedList {
  return { ...list, rows: [...list.rows, ...Array.from({ length: rows }, () => emptyRow)] };
}

/** The draft as it is stored; what it leaves out of the list in force stands there as ending. */
export function listShown(draft: PriceDraftView): TypedList {
  const ending = new Set(draft.change.ended.map(({ code }) => code));
  const rows = inListOrder<ListedRate>([...draft.rates, ...draft.change.ended]);
  return {
    name: draft.name,
    countsFrom: draft.countsFrom,
    revision: draft.revision,
    rows: rows.map((rate) => rowShown(rate, draft.currency, ending.has(rate.code))),
  };
}

export function rowShown(rate: ListedRate, currency: string, ends: boolean): TypedRow {
  const written = asWritten(rate, currency);
  return {
    code: written.code,
    repair: written.repair,
    family: written.family,
    over: written.overInches ?? '',
    to: written.toInches ?? '',
    part: rate.part === null ? '' : vehicleParts[rate.part],
    material: rate.material === null ? '' : materials[rate.material],
    list: written.list,
    share: written.materialsPercent,
    further: written.takesFurtherRepair,
    damage: written.repairsDamage,
    ends,
  };
}

/** Each text stands once for every row; of a checkbox the browser sends the numbers of those that are checked. */
export function listTyped(form: FormValues): TypedList {
  const texts = new Map(inputNames.map((name) => [name, form.all(name)]));
  const checked = (name: string) => new Set(form.all(name));
  const [further, damage, ends] = [checked('further'), checked('damage'), checked('ends')];
  const rows = form.all('code').map((_code, index): TypedRow => {
    const text = (name: RowInput) => texts.get(name)?.[index]?.trim() ?? '';
    const number = String(index);
    return {
      code: text('code').toUpperCase(),
      repair: text('repair'),
      family: text('family'),
      over: text('over'),
      to: text('to'),
      part: text('part'),
      material: text('material'),
      list: text('list'),
      share: text('share'),
      further: further.has(number),
      damage: damage.has(number),
      ends: ends.has(number),
    };
  });
  return {
    name: form.text('name'),
    countsFrom: form.text('counts_from'),
    revision: Number(form.text('revision')) || 0,
    rows,
  };
}

/** The rows that are the new list, by their places in the form: not those that end, nor those left empty. */
function sentRows(list: TypedList): readonly { readonly index: number; readonly row: TypedRow }[] {
  return list.rows
    .map((row, index) => ({ index, row }))
    .filter(({ row }) => !row.ends && inputNames.some((name) => row[name] !== ''));
}

export function inputOf(draftId: PriceDraftId, list: TypedList): SavePriceDraftInput {
  const { name, countsFrom, revision } = list;
  return { draftId, name, countsFrom, revision, rates: sentRows(list).map(({ row }) => rateOf(row)) };
}

function rateOf(row: TypedRow): ListRowInput {
  const optional = (text: string) => (text === '' ? null : text);
  return {
    code: row.code,
    repair: row.repair,
    family: row.family,
    overInches: optional(row.over),
    toInches: optional(row.to),
    part: optional(row.part),
    material: optional(row.material),
    list: row.list,
    materialsPercent: row.share,
    takesFurtherRepair: row.further,
    repairsDamage: row.damage,
  };
}

/** The name of a row's input in links and labels: `list-12`. */
export function inputName(name: string, index: number): string {
  return `${name}-${index}`;
}

/** What is to be corrected, each with the input it belongs to; null where it belongs to none. */
export function listProblems(
  list: TypedList,
  problem: Problem | null,
): readonly { readonly field: string | null; readonly message: string }[] {
  if (problem === null) return [];
  const places = sentRows(list).map(({ index }) => index);
  const errors = problem.errors ?? [{ field: problem.field ?? '', detail: problem.detail }];
  return errors.map(({ field, detail }) => ({ field: inputOfField(field, places), message: detail }));
}

function inputOfField(field: string, places: readonly number[]): string | null {
  if (field === 'name' || field === 'counts_from') return field;
  const [, number, column] = /^rates\.(\d+)\.(\w+)$/.exec(field) ?? [];
  const index = places[Number(number)];
  const input = inputNames.find((name) => rowInputs[name] === column);
  return index === undefined || input === undefined ? null : inputName(input, index);
}

/** Rows that stand otherwise in the draft than in the form, as somebody else saved them. */
export function storedOtherwise(
  draft: PriceDraftView,
  list: TypedList,
): readonly { readonly stored: ListedRate; readonly typed: TypedRow | null }[] {
  const typed = new Map(list.rows.filter((row) => !row.ends).map((row) => [row.code, row]));
  return draft.rates.flatMap((stored) => {
    const row = typed.get(stored.code) ?? null;
    const shown = rowShown(stored, draft.currency, false);
    const same = row !== null && JSON.stringify(row) === JSON.stringify(shown);
    return same ? [] : [{ stored, typed: row }];
  });
}
