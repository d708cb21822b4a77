import { expect, test } from 'vitest';
import { decimal } from '../money/decimal.ts';
import { clashesIn, compareLists, inListOrder, type ListedRate, sizeGapsIn } from './price-list.ts';

/** `VC-S 0–1`: a code with its sizes in one family; without sizes nothing is measured. */
function rate(words: string, given: Partial<ListedRate> = {}): ListedRate {
  const [code = '', sizes] = words.split(' ');
  const [over, to] = sizes?.split('–') ?? [];
  return {
    code,
    repair: code,
    family: 'Vinyl',
    overInches: over === undefined ? null : decimal(over),
    toInches: to === undefined ? null : decimal(to),
    part: null,
    material: null,
    listMinor: 10000n,
    materialsPercent: decimal('12'),
    takesFurtherRepair: true,
    repairsDamage: true,
    ...given,
  };
}

const clashes = (...rows: readonly ListedRate[]) =>
  clashesIn(rows).map(({ earlier, later, over }) => [rows[earlier]?.code, rows[later]?.code, over]);
const gaps = (...rows: readonly ListedRate[]) =>
  sizeGapsIn(rows).map(({ below, above }) => [below.code, above.code]);

// The boundary belongs to the lower band: 0 to 1 and 1 to 3 have no size in common. Common practice, no source.
test('bands that meet neither clash nor leave a gap', () => {
  const rows = [rate('S 0–1'), rate('M 1–3'), rate('L 3–6')];
  expect([clashes(...rows), gaps(...rows)]).toEqual([[], []]);
});

test('bands of one family that overlap clash, each with the first it overlaps', () => {
  expect(clashes(rate('S 0–1'), rate('M 0.5–3'), rate('L 2–6'))).toEqual([
    ['S', 'M', 'sizes'],
    ['M', 'L', 'sizes'],
  ]);
});

test('where nothing is measured, a family has one rate', () => {
  expect(clashes(rate('A'), rate('B'))).toEqual([['A', 'B', 'sizes']]);
  expect(clashes(rate('A 0–1'), rate('B'))).toEqual([['A', 'B', 'sizes']]);
});

test('rates for another part, material or family are out of each other’s way', () => {
  expect(
    clashes(
      rate('A 0–1'),
      rate('B 0–1', { part: 'dash' }),
      rate('C 0–1', { material: 'leather' }),
      rate('D 0–1', { part: 'dash', material: 'leather' }),
      rate('E 0–1', { family: 'Leather' }),
    ),
  ).toEqual([]);
  expect(clashes(rate('A 0–1', { part: 'dash' }), rate('B 0–2', { part: 'dash' }))).toEqual([
    ['A', 'B', 'sizes'],
  ]);
});

test('a code stands once', () => {
  expect(clashes(rate('A 0–1'), rate('B', { family: 'Cloth' }), rate('A 1–3'))).toEqual([['A', 'A', 'code']]);
});

test('sizes that no rate of the family covers are a gap, in whichever order they stand', () => {
  expect(gaps(rate('L 3.5–6'), rate('S 0–1'), rate('M 1–3'))).toEqual([['M', 'L']]);
  expect(gaps(rate('S 0–1'), rate('M 2–3', { part: 'dash' }))).toEqual([]);
});

test('a list is shown by family, the smallest size first', () => {
  const rows = [rate('M 1–3'), rate('Z', { family: 'Cloth' }), rate('S 0–1'), rate('A 10–12')];
  expect(inListOrder(rows).map(({ code }) => code)).toEqual(['Z', 'S', 'M', 'A']);
});

test('two lists differ by what changed, what is new and what ends; 12 and 12.000 are the same', () => {
  const before = [rate('A 0–1'), rate('B 1–3'), rate('C 3–6')];
  const after = [
    rate('A 0–1', { materialsPercent: decimal('12.000') }),
    rate('B 1–3', { listMinor: 11000n }),
    rate('D 3–6'),
  ];
  const { changed, added, ended } = compareLists(before, after);
  expect(changed.map(({ before: was, after: is }) => [was.code, was.listMinor, is.listMinor])).toEqual([
    ['B', 10000n, 11000n],
  ]);
  expect([added, ended].map((rows) => rows.map(({ code }) => code))).toEqual([['D'], ['C']]);
});
