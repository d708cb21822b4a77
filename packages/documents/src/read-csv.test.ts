import fc from 'fast-check';
import { expect, test } from 'vitest';
import { csv } from './csv.ts';
import { readCsv } from './read-csv.ts';

const rowsOf = (text: string) => {
  const read = readCsv(text);
  if (!read.ok) throw new Error(read.problem.detail);
  return [read.value.header, ...read.value.rows.map((row) => row.cells)];
};
const refusal = (text: string) => {
  const read = readCsv(text);
  return read.ok ? null : read.problem.detail;
};

// The examples are those of RFC 4180, section 2, rules 1 to 7.
test.each([
  ['a line break after the last line', 'a,b,c\r\nzzz,yyy,xxx\r\n'],
  ['none after the last line', 'a,b,c\r\nzzz,yyy,xxx'],
  ['cells in quotes', '"a","b","c"\r\nzzz,"yyy",xxx'],
  ['lines that end in LF alone', 'a,b,c\nzzz,yyy,xxx\n'],
  ['a byte order mark', '\uFEFFa,b,c\r\nzzz,yyy,xxx\r\n'],
])('reads %s', (_what, text) => {
  expect(rowsOf(text)).toEqual([
    ['a', 'b', 'c'],
    ['zzz', 'yyy', 'xxx'],
  ]);
});

test('reads line breaks, commas and doubled quotes inside quotes', () => {
  expect(rowsOf('a,b,c\r\n"aaa","b\r\nbb","c,c""c"\r\n')).toEqual([
    ['a', 'b', 'c'],
    ['aaa', 'b\r\nbb', 'c,c"c'],
  ]);
});

test('counts rows as a spreadsheet does, a line break in a cell or an empty row notwithstanding', () => {
  const read = readCsv('a,b\n"x\ny",1\n\n,\nz,2\n');
  expect(read.ok && read.value.rows).toEqual([
    { number: 2, cells: ['x\ny', '1'] },
    { number: 5, cells: ['z', '2'] },
  ]);
});

test('rows of another length are the reader’s to judge', () => {
  expect(rowsOf('a,b\n1\n1,2,3\n')).toEqual([['a', 'b'], ['1'], ['1', '2', '3']]);
});

test('semicolons and tabs are told apart from commas', () => {
  expect(refusal('code;repair;list\nVC-M;Cut;195,00\n')).toContain('separated by semicolons');
  expect(refusal('code\trepair\tlist\n')).toContain('separated by tabs');
});

test.each(['a,b\n1,"x\n2,y\n', 'a,b\n1,x"y\n', 'a,b\n"x"y,2\n'])(
  'a quotation mark out of place is refused with its line: %j',
  (text) => {
    expect(refusal(text)).toMatch(/^Line [23] has a quotation mark out of place/);
  },
);

test('an empty text has no header', () => {
  expect(refusal('')).toContain('names of the columns');
  expect(refusal('\uFEFF\r\n1,2')).toContain('names of the columns');
});

test('what was written is read back, whatever people type; what looks like a formula stays text', () => {
  const cell = fc
    .string({ unit: fc.constantFrom('a', '"', ',', '\r', '\n', '=', '+', '-', '@', 'é', ' '), minLength: 1 })
    .filter((text) => text.trim() !== '');
  fc.assert(
    fc.property(fc.array(fc.tuple(cell, cell), { minLength: 1, maxLength: 6 }), (written) => {
      expect(rowsOf(csv(['x', 'y'], written)).slice(1)).toEqual(written);
    }),
  );
});
