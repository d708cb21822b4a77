import { expect, test } from 'vitest';
import { checkSignatureMark, type SignatureMark, type Stroke } from './signature-mark.ts';

const stroke: Stroke = [
  { x: 10, y: 20.5, t: 1_785_938_400_000 },
  { x: 40, y: 18, t: 1_785_938_400_016 },
];
const drawn = (strokes: readonly Stroke[]): SignatureMark => ({ kind: 'drawn', strokes });
const typed = (name: string, confirmed = true): SignatureMark => ({ kind: 'typed', name, confirmed });

test('strokes are kept as they were drawn', () => {
  expect(checkSignatureMark(drawn([stroke, stroke]))).toEqual({ ok: true, value: drawn([stroke, stroke]) });
});

test('a typed and confirmed name is a signature too', () => {
  expect(checkSignatureMark(typed('  Orrin   Vasek '))).toEqual({ ok: true, value: typed('Orrin Vasek') });
});

test.each<[string, SignatureMark, string]>([
  ['an empty field', drawn([]), 'signature_missing'],
  ['empty strokes', drawn([[], []]), 'signature_missing'],
  ['a single dot', drawn([[{ x: 1, y: 1, t: 0 }], [{ x: 1, y: 1, t: 9 }]]), 'signature_missing'],
  ['an empty name', typed('  '), 'signature_missing'],
  ['a name that was not confirmed', typed('Orrin Vasek', false), 'signature_missing'],
  ['a name without end', typed('a'.repeat(101)), 'invalid_input'],
  ['too many strokes', drawn(Array.from({ length: 201 }, () => stroke)), 'invalid_input'],
  [
    'too many points',
    drawn([Array.from({ length: 10_001 }, (_, t) => ({ x: t % 100, y: 1, t }))]),
    'invalid_input',
  ],
  ['a point far outside', drawn([[...stroke, { x: 1e9, y: 0, t: 0 }]]), 'invalid_input'],
  ['a point that is not a number', drawn([[...stroke, { x: Number.NaN, y: 0, t: 0 }]]), 'invalid_input'],
  ['a time before all time', drawn([[...stroke, { x: 0, y: 0, t: -1 }]]), 'invalid_input'],
])('%s is refused', (_what, mark, code) => {
  expect(checkSignatureMark(mark)).toMatchObject({ ok: false, problem: { code } });
});
