import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { canonicalJson, type JsonValue } from './canonical-json.ts';

/** What no typed caller can pass, but a careless one might. */
function parsed(text: string): JsonValue {
  return JSON.parse(text);
}

// RFC 8785 test data of cyberphone/json-canonicalization@19d51d7 (Apache-2.0): testdata/input and output,
// with the SHA-256 of the output's UTF-8 bytes.
test.each([
  [
    'arrays',
    '[56, {"d": true, "10": null, "1": [ ]}]',
    '[56,{"1":[],"10":null,"d":true}]',
    '099601b171cafed97c333f8878d68e7f8c8f795412adb34b2fdcf0e7c7beac42',
  ],
  [
    'french',
    '{"peach": "This sorting order", "p\\u00e9ch\\u00e9": "is wrong according to French", "p\\u00eache": "but canonicalization MUST", "sin": "ignore locale"}',
    '{"peach":"This sorting order","péché":"is wrong according to French","pêche":"but canonicalization MUST","sin":"ignore locale"}',
    'd99d0ebdcb0033cb858cfa830ae46bc0fb3309413b271f1da828c89901a27ed5',
  ],
  [
    'structures',
    '{"1": {"f": {"f": "hi", "F": 5}, "\\n": 56.0}, "10": {}, "": "empty", "a": {}, "111": [{"e": "yes", "E": "no"}], "A": {}}',
    '{"":"empty","1":{"\\n":56,"f":{"F":5,"f":"hi"}},"10":{},"111":[{"E":"no","e":"yes"}],"A":{},"a":{}}',
    '605f65004ec2db7692522a0852c22f1c989e036d547e88963d1a3143cf3195d5',
  ],
  [
    'unicode',
    '{"Unnormalized Unicode": "A\\u030a"}',
    '{"Unnormalized Unicode":"A\u030a"}',
    '0d99aad92a125196ff887876643fd3206786a84ddce2cee52ba4ad256d2381d3',
  ],
  [
    'values',
    '{"numbers": [333333333.33333329, 1E30, 4.50, 2e-3, 0.000000000000000000000000001], "string": "\\u20ac$\\u000F\\u000aA\'\\u0042\\u0022\\u005c\\\\\\"\\/", "literals": [null, true, false]}',
    '{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],"string":"€$\\u000f\\nA\'B\\"\\\\\\\\\\"/"}',
    '2d5e01a318d0f0879ab568c4be289c8b1f64ef8921a53c6277d5e069978baacb',
  ],
  [
    'weird',
    '{"\\u20ac": "Euro Sign", "\\r": "Carriage Return", "\\u000a": "Newline", "1": "One", "\\u0080": "Control\\u007f", "\\ud83d\\ude02": "Smiley", "\\u00f6": "Latin Small Letter O With Diaeresis", "\\ufb33": "Hebrew Letter Dalet With Dagesh", "</script>": "Browser Challenge"}',
    '{"\\n":"Newline","\\r":"Carriage Return","1":"One","</script>":"Browser Challenge","\u0080":"Control\u007f","ö":"Latin Small Letter O With Diaeresis","€":"Euro Sign","😂":"Smiley","\ufb33":"Hebrew Letter Dalet With Dagesh"}',
    '6af595a9aa80110b964b4de3f82a05fa6ae7423005019bacfa2620dddc4e94d1',
  ],
])('RFC 8785 test data: %s', (_name, input, output, sha256) => {
  const text = canonicalJson(parsed(input));
  expect(text).toBe(output);
  expect(createHash('sha256').update(text, 'utf8').digest('hex')).toBe(sha256);
});

// RFC 8785 section 3.2.2.3 and appendix B.
test.each([
  [0, '0'],
  [-0, '0'],
  [5e-324, '5e-324'],
  [9007199254740992, '9007199254740992'],
  [1e21, '1e+21'],
  [1e-7, '1e-7'],
])('the number %d is written %s', (number, text) => {
  expect(canonicalJson(number)).toBe(text);
});

const loop: Record<string, unknown> = {};
loop.self = { loop };

test.each<[string, unknown]>([
  ['undefined', undefined],
  ['a member that is undefined', { a: undefined }],
  ['an element that is undefined', [undefined]],
  ['a hole in an array', new Array(2)],
  ['a bigint', { totalMinor: 28490n }],
  ['NaN', [Number.NaN]],
  ['infinity', Number.POSITIVE_INFINITY],
  ['a symbol', Symbol('x')],
  ['a function', () => 1],
  ['a date', { at: new Date(0) }],
  ['a map', new Map([['a', 1]])],
  ['a lone surrogate in a text', '\ud800'],
  ['a lone surrogate in a key', { '\udc00': 1 }],
  ['an object that contains itself', loop],
])('%s throws instead of being left out or changed', (_what, value) => {
  // @ts-expect-error the type refuses these; the check is for callers that got around it
  expect(() => canonicalJson(value)).toThrow();
});

test('the same value used twice is no loop', () => {
  const point = { x: 1 };
  expect(canonicalJson([point, point])).toBe('[{"x":1},{"x":1}]');
});

test('the order of members never matters, and the text reads back as the same value', () => {
  fc.assert(
    fc.property(fc.dictionary(fc.string({ unit: 'grapheme' }), fc.jsonValue()), (value) => {
      const text = canonicalJson(parsed(JSON.stringify(value)));
      const reversed = Object.fromEntries(Object.entries(parsed(text) ?? {}).reverse());
      expect(canonicalJson(reversed)).toBe(text);
      expect(JSON.stringify(parsed(text), null, 1)).toBe(
        JSON.stringify(JSON.parse(canonicalJson(parsed(text))), null, 1),
      );
    }),
  );
});
