import { expect, test } from 'vitest';
import { lampContradictions, readLamp } from './airbag-lamp.ts';

// Common practice, no source: the state of the lamp is recorded before and after.
test('a lamp that came on during the work is found, and can stay with a reason', () => {
  expect(lampContradictions('off', 'on')).toMatchObject([{ code: 'airbag_lamp_came_on', weight: 'reason' }]);
});

test('a lamp that was on already, went out, or was not looked at contradicts nothing', () => {
  expect(lampContradictions('on', 'on')).toEqual([]);
  expect(lampContradictions('on', 'off')).toEqual([]);
  expect(lampContradictions(null, 'on')).toEqual([]);
  expect(lampContradictions('off', null)).toEqual([]);
});

test('the lamp is on, off, or nobody looked', () => {
  expect(readLamp(' on ', 'airbag_lamp')).toEqual({ ok: true, value: 'on' });
  expect(readLamp('', 'airbag_lamp')).toEqual({ ok: true, value: null });
  expect(readLamp('blinking', 'airbag_lamp')).toMatchObject({ ok: false, problem: { field: 'airbag_lamp' } });
});
