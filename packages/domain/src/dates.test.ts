import { expect, test } from 'vitest';
import { parseDay, parseMonth } from './dates.ts';

test('a day and a month are of the years 1900 to 2200, which every calendar of the trade fits in', () => {
  for (const text of ['0000-01-01', '0001-01-01', '1899-12-31', '2201-01-01'])
    expect(parseDay(text, 'day')).toMatchObject({
      ok: false,
      problem: { code: 'invalid_date', field: 'day' },
    });
  for (const text of ['0000-01', '1899-12', '2201-01', '9999-12'])
    expect(parseMonth(text)).toMatchObject({ ok: false, problem: { code: 'invalid_date', field: 'month' } });
  expect(parseDay('1900-01-01')).toEqual({ ok: true, value: '1900-01-01' });
  expect(parseDay('2200-12-31')).toEqual({ ok: true, value: '2200-12-31' });
  expect(parseMonth('2200-12')).toEqual({ ok: true, value: '2200-12' });
});

// ISO 8601 and the Gregorian calendar: 2000 was a leap year, 1900 was none.
test('a day is one of the calendar', () => {
  expect(parseDay('2000-02-29').ok).toBe(true);
  for (const text of ['1900-02-29', '2026-02-30', '2026-13-01', '26-01-01', ''])
    expect(parseDay(text)).toMatchObject({ ok: false, problem: { code: 'invalid_date' } });
});
