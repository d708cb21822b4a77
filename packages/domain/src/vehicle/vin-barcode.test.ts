import { describe, expect, test } from 'vitest';
import { vinFromBarcode } from './vin-barcode.ts';

/** 49 CFR 565.15(c) Table VI, worked example; and two that vin-info 0.1.2 tests with, whose check digit is X. */
const vins = ['1G4AH59H45G118341', '1M8GDM9AXKP042788', '5N1NJ01CXST000001'];

describe.each(vins)('a bar code with %s', (vin) => {
  // ISO/IEC 16388: asterisks start and stop a Code 39 symbol. ANSI MH10.8.2 (ISO/IEC 15418): identifier I, a VIN.
  test.each([
    ['as it stands', vin],
    ['after the data identifier I', `I${vin}`],
    ['between the asterisks of Code 39', `*${vin}*`],
    ['between asterisks and after the identifier', `*I${vin}*`],
    ['with what a scanner adds at the end', `${vin}\r\n`],
  ])('%s is that VIN, and nothing is doubted', (_how, payload) => {
    expect(vinFromBarcode(payload)).toMatchObject({ ok: true, value: { vin, warnings: [] } });
  });
});

test('a check digit that does not fit is noticed', () => {
  // 1M8GDM9AXKP042788 with its check digit X replaced.
  const read = vinFromBarcode('I1M8GDM9A1KP042788');
  expect(read).toMatchObject({ ok: true, value: { warnings: [{ code: 'check_digit', expected: 'X' }] } });
});

test.each([
  'I',
  '',
  '0123456789',
  'HTTPS://EXAMPLE.COM/A-LONG-ADDRESS-THAT-NOBODY-WANTS-TO-READ',
  'II1M8GDM9AXKP042788',
])('another bar code is told apart: “%s”', (payload) => {
  expect(vinFromBarcode(payload)).toMatchObject({
    ok: false,
    problem: { code: 'invalid_vin', field: 'vin' },
  });
});
