import { expect, test } from 'vitest';
import { balanced } from '../ledger/journal.ts';
import { cents, demoJournal } from './demo-receivables.ts';

test('every entry of the demo balances', () => {
  expect(demoJournal().filter((entry) => !balanced(entry.lines))).toEqual([]);
});

// The demo's check values: sales tax by month and area, state and local, credit notes taken off.
test.each([
  ['2026-08', 'kestrel_valley', '1.18', '0.29'],
  ['2026-08', 'port_orrin', '70.56', '12.83'],
  ['2026-09', 'kestrel_valley', '2.36', '0.59'],
  ['2026-09', 'port_orrin', '22.79', '4.14'],
  ['2026-10', 'kestrel_valley', '0.00', '0.00'],
  ['2026-10', 'port_orrin', '18.10', '3.29'],
])('the tax payable of %s in %s is %s and %s', (month, area, state, local) => {
  const taxMinor = (component: string) =>
    demoJournal()
      .filter((entry) => entry.occurredOn.startsWith(month))
      .flatMap((entry) => entry.lines)
      .filter((line) => line.taxArea === area && line.taxComponent === component)
      .reduce((sum, line) => sum - line.amountMinor, 0n);
  expect([taxMinor('state'), taxMinor('local')]).toEqual([cents(state), cents(local)]);
});

test('no deposit is still held at the end of the demo', () => {
  const held = demoJournal()
    .flatMap((entry) => entry.lines)
    .filter((line) => line.account === 'deposits_held');
  expect(held.reduce((sum, line) => sum + line.amountMinor, 0n)).toBe(0n);
});
