import fc from 'fast-check';
import { expect, test } from 'vitest';
import { exceededLimits, exceededWords, type StandingLimits, standingWords } from './standing-approval.ts';

// The agreed demo figures: a lot with 250.00 a vehicle and 1,200.00 a visit, invented; common practice, no source.
const lot: StandingLimits = { perVehicleMinor: 25000n, perVisitMinor: 120000n, perMonthMinor: null };

test('a vehicle at 305.53 is 55.53 over a limit of 250.00 a vehicle, and the words say so', () => {
  const sums = { vehicleMinor: 30553n, visitMinor: 99902n, monthMinor: 99902n };
  const passed = exceededLimits(lot, sums);
  expect(passed).toEqual([{ limit: 'vehicle', limitMinor: 25000n, reachedMinor: 30553n, overMinor: 5553n }]);
  expect(passed.map((each) => exceededWords(each, 'USD'))).toEqual([
    'this vehicle comes to $305.53, $55.53 over the limit of $250.00 a vehicle',
  ]);
  expect(standingWords(lot, 'USD')).toBe('up to $250.00 a vehicle and $1,200.00 a visit');
});

test('an amount exactly at a limit is within it, and a cent more is not', () => {
  const at = { vehicleMinor: 25000n, visitMinor: 120000n, monthMinor: 120000n };
  expect(exceededLimits(lot, at)).toEqual([]);
  expect(exceededLimits(lot, { ...at, visitMinor: 120001n }).map((each) => each.limit)).toEqual(['visit']);
});

test('all limits that are given have to hold, whatever they are', () => {
  const amount = fc.bigInt({ min: 0n, max: 10_000_000n });
  const limit = fc.option(fc.bigInt({ min: 1n, max: 10_000_000n }), { nil: null });
  const limits = fc.record({ perVehicleMinor: limit, perVisitMinor: limit, perMonthMinor: limit });
  const sums = fc.record({ vehicleMinor: amount, visitMinor: amount, monthMinor: amount });
  fc.assert(
    fc.property(limits, sums, (given, reached) => {
      const covered = exceededLimits(given, reached).length === 0;
      const within = (max: bigint | null, minor: bigint) => max === null || minor <= max;
      expect(covered).toBe(
        within(given.perVehicleMinor, reached.vehicleMinor) &&
          within(given.perVisitMinor, reached.visitMinor) &&
          within(given.perMonthMinor, reached.monthMinor),
      );
    }),
  );
});
