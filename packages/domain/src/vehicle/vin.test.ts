import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { correctedVin, lastEightOf, parseLastEight, parseVin, type ReadVin, withCheckDigit } from './vin.ts';

function read(text: string): ReadVin {
  const parsed = parseVin(text);
  if (!parsed.ok) throw new Error(parsed.problem.detail);
  return parsed.value;
}

function refusal(text: string): string {
  const parsed = parseVin(text);
  if (parsed.ok) throw new Error(`accepted ${parsed.value.vin}`);
  expect(parsed.problem.code).toBe('invalid_vin');
  expect(parsed.problem.field).toBe('vin');
  return parsed.problem.detail;
}

// 49 CFR 565.15(c) Table III.
const transliteration = {
  A: 1,
  B: 2,
  C: 3,
  D: 4,
  E: 5,
  F: 6,
  G: 7,
  H: 8,
  J: 1,
  K: 2,
  L: 3,
  M: 4,
  N: 5,
  P: 7,
  R: 9,
  S: 2,
  T: 3,
  U: 4,
  V: 5,
  W: 6,
  X: 7,
  Y: 8,
  Z: 9,
};

describe('check digit, 49 CFR 565.15(c)', () => {
  test.each([
    ['1G4AH59H45G118341', '49 CFR 565.15(c) Table VI, worked example: 411 = 37 × 11 + 4'],
    ['1M8GDM9AXKP042788', 'vin-info 0.1.2 tests, a check digit of X'],
    ['5N1NJ01CXST000001', 'vin-info 0.1.2 tests, a check digit of X'],
    ['WDBEA30D3HA391172', 'vindecodr 0.1.1, example of valid_check_digit'],
    ['1HGCM82633A004352', 'a public test VIN'],
    ['11111111111111111', 'the weights without position 9 sum to 89 = 8 × 11 + 1'],
    ['00000000000000000', 'sum 0; arithmetic alone accepts it'],
  ])('%s is right (%s)', (vin) => {
    expect(read(vin).warnings).toEqual([]);
  });

  test.each([
    ['3FA6P0HR5DR246490', '5', '4', 'gist 2b8f62cdd06365044c64fa016a02537f, labelled invalid'],
    ['1M8GDM9A1KP042788', '1', 'X', '1M8GDM9AXKP042788 with X replaced by 1'],
  ])('%s is only warned about: position 9 is %s, should be %s (%s)', (vin, found, expected) => {
    const [warning, ...others] = read(vin).warnings;
    expect(others).toEqual([]);
    expect(warning).toMatchObject({ code: 'check_digit', position: 9, found, expected });
    expect(warning?.sentence).toContain(
      `Position 9 is ${found}; for these characters it would be ${expected}.`,
    );
  });

  test.each(Object.entries(transliteration))('the letter %s counts %i (Table III)', (letter, value) => {
    expect(withCheckDigit(`${letter}0000000000000000`)).toBe(
      withCheckDigit(`${value}0000000000000000`).replace(/^./, letter),
    );
  });

  // 49 CFR 565.15(c) Table IV.
  const weights = [8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2];
  test.each(weights.map((weight, index) => [index + 1, weight]))(
    'position %i weighs %i (Table IV)',
    (position, weight) => {
      const vin = withCheckDigit(`${'0'.repeat(position - 1)}1${'0'.repeat(17 - position)}`);
      expect(vin.charAt(8)).toBe(weight === 10 ? 'X' : String(weight));
    },
  );

  test('a computed check digit is never warned about, and computing it twice changes nothing', () => {
    const characters = fc.string({
      unit: fc.constantFrom(...'ABCDEFGHJKLMNPRSTUVWXYZ0123456789'),
      minLength: 17,
      maxLength: 17,
    });
    fc.assert(
      fc.property(characters, (text) => {
        const vin = withCheckDigit(text);
        expect(read(vin).warnings).toEqual([]);
        expect(withCheckDigit(vin)).toBe(vin);
      }),
    );
  });

  test('computing a check digit throws for what is no VIN', () => {
    expect(() => withCheckDigit('0AB')).toThrow('3 characters');
  });
});

describe('characters and length', () => {
  // 49 CFR 565 and ISO 3779 exclude I, O and Q; the first VIN is labelled so in gist 2b8f62cdd06365044c64fa016a02537f.
  test.each([
    ['3FA6P0HR5DR24649O', 'Position 17 is the letter O, probably 0.'],
    ['IHGCM82633A004352', 'Position 1 is the letter I, probably 1.'],
    ['1HGCM8Q633A004352', 'Position 7 is the letter Q, probably 0 or 9.'],
    ['1hgcm82633ao04352', 'Position 12 is the letter O, probably 0.'],
    ['1HGCM82633A*04352', 'Position 12 is “*”.'],
  ])('%s is refused: %s', (vin, sentence) => {
    expect(refusal(vin)).toContain(sentence);
  });

  test('every wrong letter is named, not only the first', () => {
    expect(refusal('IHGCM82633AOO4352')).toContain('Position 1 is the letter I');
    expect(refusal('IHGCM82633AOO4352')).toContain('Position 13 is the letter O');
  });

  // 16 and 18 characters made from a public test VIN.
  test.each([
    ['1HGCM82633A00435', '16 characters; a VIN has 17 (1 missing)'],
    ['1HGCM82633A0043521', '18 characters; a VIN has 17 (1 too much)'],
    ['', '0 characters'],
  ])('the length of “%s” is told', (vin, sentence) => {
    expect(refusal(vin)).toContain(sentence);
  });

  test('spaces, dashes and small letters are taken as typed', () => {
    expect(read(' 1hgcm-82633–a 004352 ').vin).toBe('1HGCM82633A004352');
  });

  // SAE J1877 (2025): Code 39 with the data identifier I before the 17 characters.
  test('one data identifier I before 17 scanned characters is dropped, a second one is not', () => {
    expect(read('I1HGCM82633A004352').vin).toBe('1HGCM82633A004352');
    expect(refusal('II1HGCM82633A004352')).toContain('Position 1 is the letter I');
  });
});

describe('model year, 49 CFR 565.15(d)(1) and Table VII', () => {
  const codes = [...'ABCDEFGHJKLMNPRSTVWXY123456789'];
  test.each(codes.map((code, index) => [code, 1980 + index, 2010 + index]))(
    'code %s is %i after a digit in position 7 and %i after a letter',
    (code, first, second) => {
      expect(read(`0AAAAA1A0${code}A000001`).modelYear).toBe(first);
      expect(read(`0AAAAAAA0${code}A000001`).modelYear).toBe(second);
    },
  );

  test.each(['U', 'Z', '0'])('%s is no year code, so there is no year', (code) => {
    expect(read(`0AAAAA1A0${code}A000001`).modelYear).toBeNull();
  });

  test('seventeen zeros pass the arithmetic and still have no year', () => {
    expect(read('00000000000000000').modelYear).toBeNull();
  });
});

// The VINs are those of the check digit's own tests, with a letter that no VIN has where a digit was meant.
describe('what was probably meant', () => {
  test.each([
    ['IM8GDM9AXKP042788', '1M8GDM9AXKP042788'],
    ['1M8GDM9AXKPO42788', '1M8GDM9AXKP042788'],
    ['IHGCM82633AOO4352', '1HGCM82633A004352'],
    ['SNINJOICXSTOOOOO1', null],
    ['5NINJOICXSTOOOOO1', '5N1NJ01CXST000001'],
    ['1HGCM82633AQ04352', '1HGCM82633A004352'],
  ])('%s was meant to be %s', (typed, meant) => {
    expect(correctedVin(typed)).toBe(meant);
    const parsed = parseVin(typed);
    const detail = parsed.ok ? '' : parsed.problem.detail;
    expect(detail.includes('has the check digit that fits')).toBe(meant !== null);
    if (meant !== null) expect(detail).toContain(meant);
  });

  test('nothing is proposed where the check digit fits no reading, and nothing where no letter is wrong', () => {
    expect(correctedVin('IHGCM82633A004353')).toBeNull();
    expect(correctedVin('1HGCM82633A004352')).toBeNull();
    expect(correctedVin('1HGCM82633A*04352')).toBeNull();
    expect(correctedVin('O')).toBeNull();
  });
});

// 49 CFR 565.15(a).
test('a maker of few vehicles is named by positions 1 to 3 and 12 to 14, any other by 1 to 3', () => {
  expect(read('1HGCM82633A004352').makerIdentifier).toBe('1HG');
  expect(read('0A9CM82633AXYZ352').makerIdentifier).toBe('0A9XYZ');
});

describe('last 8', () => {
  test('is accepted alone, and is the end of its VIN', () => {
    expect(parseLastEight(' 3a-004352 ')).toEqual({ ok: true, value: '3A004352' });
    expect(lastEightOf(read('1HGCM82633A004352').vin)).toBe('3A004352');
  });

  test.each([
    ['3A00435', 'That is 7 characters.'],
    ['3A0O4352', 'Position 4 is the letter O, probably 0.'],
  ])('“%s” is refused: %s', (text, sentence) => {
    const parsed = parseLastEight(text);
    expect(parsed).toMatchObject({ ok: false, problem: { code: 'invalid_vin', field: 'lastEight' } });
    expect(parsed.ok ? '' : parsed.problem.detail).toContain(sentence);
  });
});
