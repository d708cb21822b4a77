import { expect, test } from 'vitest';
import { html } from './html.ts';
import { type Column, dataTable, definitionList, emptyState } from './tables.ts';

interface Line {
  readonly code: string;
  readonly hours: number;
}

const columns: readonly Column<Line>[] = [
  { header: 'Code', cell: (line) => line.code, names: true },
  { header: 'Material', cell: () => 'vinyl' },
  { header: 'Hours', cell: (line) => line.hours, figure: true, total: 3 },
];
const rows = [
  { code: 'VC-M', hours: 1 },
  { code: '<b>', hours: 2 },
];
const empty = emptyState('No lines yet', 'Add the first one.');
const table = { caption: 'Lines', columns, rows, empty };

test('a table has a caption, headers of columns, and a header for each row that is named', () => {
  const markup = String(dataTable(table));
  expect(markup).toContain('>Lines</caption>');
  expect(markup.match(/scope="col"/g)).toHaveLength(3);
  expect(markup).toMatch(/<th [^>]*scope="row"[^>]*><span class="cell">VC-M</);
});

test('a cell is escaped like any text', () => {
  expect(String(dataTable(table))).toContain('&lt;b&gt;');
});

test('figures stand to the right in the head, the body and the totals', () => {
  const markup = String(dataTable(table));
  expect(markup.match(/class="figure"/g)).toHaveLength(4);
});

test('the label of the totals takes the columns before the first total', () => {
  expect(String(dataTable({ ...table, totalsLabel: 'All' }))).toMatch(/<th [^>]*colspan="2"[^>]*>All<\/th>/);
});

test('a table without totals has no foot', () => {
  expect(String(dataTable({ ...table, columns: columns.slice(0, 2) }))).not.toContain('<tfoot>');
});

test('every cell names its column, for the narrow screen', () => {
  expect(String(dataTable(table)).match(/data-label="Hours"/g)).toHaveLength(3);
});

test('a table that scrolls is a region that takes the focus', () => {
  expect(String(dataTable({ ...table, narrow: 'scroll' }))).toMatch(
    /role="region" tabindex="0" aria-label="Lines"/,
  );
});

test('the caption of a table that scrolls stands above it and is heard once', () => {
  const markup = String(dataTable({ ...table, narrow: 'scroll' }));
  expect(markup).toMatch(/^<p class="table-caption" aria-hidden="true">Lines<\/p><div /);
  expect(markup).toContain('<caption class="heard">Lines</caption>');
  expect(String(dataTable(table))).not.toContain('table-caption');
});

test('without rows the empty words stand instead', () => {
  expect(String(dataTable({ ...table, rows: [] }))).toBe(String(empty));
});

test('terms and values stay together', () => {
  expect(String(definitionList([{ term: 'Due', value: html`<b>today</b>` }]))).toContain(
    '<div><dt>Due</dt><dd><b>today</b></dd></div>',
  );
});
