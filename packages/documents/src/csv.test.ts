import fc from 'fast-check';
import { expect, test } from 'vitest';
import { csv } from './csv.ts';

// The examples are those of RFC 4180, section 2, rules 1 to 7.
test('lines end in CRLF, the last one too', () => {
  expect(csv(['field_name', 'other'], [['aaa', 'bbb']])).toBe('field_name,other\r\naaa,bbb\r\n');
});

test('cells with a line break, a quote or a comma are quoted, and quotes inside are doubled', () => {
  expect(csv(['a', 'b', 'c'], [['aaa', 'b\r\nbb', 'ccc']])).toBe('a,b,c\r\naaa,"b\r\nbb",ccc\r\n');
  expect(csv(['a', 'b', 'c'], [['aaa', 'b"bb', 'c,cc']])).toBe('a,b,c\r\naaa,"b""bb","c,cc"\r\n');
});

// The characters are those of OWASP, “CSV Injection”.
test.each(['=1+1', '+1', '-1', '@SUM(A1)', '\tx', '\rx'])(
  'text that a spreadsheet would run gets an apostrophe: %j',
  (text) => {
    const [, line = ''] = csv(['a'], [[text]]).split(/\r\n/);
    expect(line.replace('"', '').startsWith("'")).toBe(true);
  },
);

test('a negative figure stays a number', () => {
  expect(csv(['a'], [[{ figure: '-63.75' }]])).toBe('a\r\n-63.75\r\n');
});

test('what is no figure is refused as one, and so is a row of another length', () => {
  expect(() => csv(['a'], [[{ figure: '=1' }]])).toThrow('not a figure');
  expect(() => csv(['a'], [['b', 'c']])).toThrow('2 cells');
});

test('what was written is read back, whatever people type', () => {
  const cell = fc.string({ unit: fc.constantFrom('a', '"', ',', '\r', '\n', '=', 'é', ' ') });
  const rows = fc.array(fc.tuple(cell, cell), { maxLength: 6 });
  fc.assert(
    fc.property(rows, (written) => {
      const read = readCsv(csv(['x', 'y'], written)).slice(1);
      const withoutApostrophe = read.map((row) => row.map((text) => text.replace(/^'(?=[=\r])/, '')));
      expect(withoutApostrophe).toEqual(written);
    }),
  );
});

/** A reader by RFC 4180, written apart from the writer. */
function readCsv(text: string): string[][] {
  const rows: string[][] = [];
  let row: string[] = [];
  const cells = text.matchAll(/(?:"((?:[^"]|"")*)"|([^",\r\n]*))(,|\r\n)/g);
  for (const [, inQuotes, plain, end] of cells) {
    row.push(inQuotes === undefined ? (plain ?? '') : inQuotes.replaceAll('""', '"'));
    if (end === ',') continue;
    rows.push(row);
    row = [];
  }
  return rows;
}
