import fc from 'fast-check';
import { expect, test } from 'vitest';
import { printable } from './printable.ts';
import { textLines } from './text-lines.ts';
import { typeface } from './typefaces.ts';

const { covers } = typeface('regular');
const shown = (text: string) => printable(text, covers);

test('letters and marks are printed as one letter', () => {
  expect(shown('Zu\u0308rich')).toBe('Zürich');
});

test('characters that turn or hide text are left out', () => {
  expect(shown('pay\u202e 001\u202c\u200b')).toBe('pay 001');
});

test('a full-width letter is printed as the plain one', () => {
  expect(shown('ＲＯ１２')).toBe('RO12');
});

test('what the typeface lacks is printed as its code', () => {
  expect(shown('王小 🙂 A')).toBe('[U+738B U+5C0F] [U+1F642] A');
});

test('nothing that is printed is lacking in the typeface', () => {
  fc.assert(
    fc.property(fc.string({ unit: 'binary' }), (text) => {
      expect([...shown(text)].every((each) => covers(each.codePointAt(0) ?? 0))).toBe(true);
    }),
  );
});

test('the typeface knows what it can draw', () => {
  const drawn = [...'Aé−–…“”€½ŁőễΩЖ'].filter((each) => covers(each.codePointAt(0) ?? 0));
  expect(drawn.join('')).toBe('Aé−–…“”€½ŁőễΩЖ');
  expect(covers(0x738b)).toBe(false);
});

test('lines hold what fits, and no word is lost', () => {
  const letters = (text: string) => text.length;
  expect(textLines('one two three', 7, letters)).toEqual(['one two', 'three']);
  expect(textLines('one\n\ntwo', 7, letters)).toEqual(['one', '', 'two']);
  expect(textLines('stock AB-1234567', 7, letters)).toEqual(['stock', 'AB-', '1234567']);
  const words = fc.array(fc.string({ unit: fc.constantFrom('a', 'b', '-', 'é') }), { maxLength: 12 });
  fc.assert(
    fc.property(words, fc.integer({ min: 1, max: 9 }), (written, width) => {
      const lines = textLines(written.join(' '), width, letters);
      expect(lines.every((line) => line.length <= width)).toBe(true);
      expect(lines.join('').replaceAll(' ', '')).toBe(written.join(''));
    }),
  );
});
