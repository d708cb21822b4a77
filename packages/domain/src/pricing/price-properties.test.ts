import fc from 'fast-check';
import { expect, test } from 'vitest';
import { brokenIdentities } from '../billing/broken-identities.ts';
import { invoiceLines } from '../billing/invoice.ts';
import {
  type AnyVisit,
  anyTerms,
  anyTier,
  anyVisit,
  priceAnyVisit,
  type VisitPriced,
} from './any-visit.test-support.ts';
import { repriceApproved, type VehiclePrice, vehicleRules } from './price-vehicle.ts';
import { priceVisit } from './price-visit.ts';
import { computedFromTrail, endOfTrail } from './trail-arithmetic.test-support.ts';

const sum = (amounts: readonly bigint[]) => amounts.reduce((a, b) => a + b, 0n);

/** Every amount with its trail: lines and minimum of each vehicle, and what the visit adds. */
function explained({ vehicles, visit }: VisitPriced): readonly { amount: bigint; trail: string }[] {
  const charges = [visit.afterHours, visit.rush, visit.minimum, visit.trip];
  return [
    ...vehicles
      .flatMap((vehicle) => [...vehicle.lines, ...(vehicle.minimum ? [vehicle.minimum] : [])])
      .map(({ netMinor, trail }) => ({ amount: netMinor, trail })),
    ...charges.flatMap((charge) => (charge ? [{ amount: charge.amountMinor, trail: charge.trail }] : [])),
  ];
}

function expectVehicleAddsUp(vehicle: VehiclePrice): void {
  for (const line of vehicle.lines) expect(line.laborMinor + line.materialsMinor).toBe(line.netMinor);
  const parts = [
    ...vehicle.lines.flatMap((line) => [line.netMinor, line.laborMinor, line.materialsMinor]),
    vehicle.minimum?.netMinor ?? 0n,
    vehicle.laborMinor,
    vehicle.materialsMinor,
  ];
  expect(parts.filter((part) => typeof part !== 'bigint' || part < 0n)).toEqual([]);
  const lines = sum(vehicle.lines.map((line) => line.netMinor));
  expect(lines + (vehicle.minimum?.netMinor ?? 0n)).toBe(vehicle.repairsMinor);
  expect(vehicle.laborMinor + vehicle.materialsMinor).toBe(vehicle.repairsMinor);
}

test('no mix of tiers, windows, surcharges and rules makes a negative or undefined price', () => {
  fc.assert(
    fc.property(anyVisit, (written) => {
      const { offered, vehicles, visit, invoice } = priceAnyVisit(written);
      [...offered, ...vehicles].forEach(expectVehicleAddsUp);
      const amounts = [
        visit.repairsMinor,
        visit.afterHours?.amountMinor ?? 0n,
        visit.rush?.amountMinor ?? 0n,
        visit.minimum?.amountMinor ?? 0n,
        visit.trip?.amountMinor ?? 0n,
        ...visit.limitByVehicleMinor,
        invoice.totals.taxMinor,
        invoice.totals.withTaxMinor,
      ];
      expect(amounts.filter((amount) => typeof amount !== 'bigint' || amount < 0n)).toEqual([]);
    }),
  );
});

test('no mix of them makes a total that its trails do not explain', () => {
  fc.assert(
    fc.property(anyVisit, (written) => {
      const priced = priceAnyVisit(written);
      const amounts = explained(priced);
      for (const { amount, trail } of amounts) {
        expect([trail, endOfTrail(trail)]).toEqual([trail, amount]);
        expect([trail, computedFromTrail(trail)]).toEqual([trail, amount]);
      }
      const { totals } = priced.invoice;
      expect(sum(amounts.map(({ amount }) => amount)) + totals.taxMinor).toBe(totals.withTaxMinor);
      const printed = invoiceLines(priced.invoice).map((line) => line.trail);
      const charged = amounts.filter(({ amount }) => amount > 0n).map(({ trail }) => trail);
      expect(charged.filter((trail) => !printed.includes(trail))).toEqual([]);
      expect(brokenIdentities(priced.invoice, written.taxRounding)).toEqual([]);
    }),
  );
});

test('the charges of a visit make its net, and the limits of its vehicles the limit of the visit', () => {
  fc.assert(
    fc.property(anyVisit, (written) => {
      const { vehicles, visit, invoice } = priceAnyVisit(written);
      const afterHours = visit.afterHours?.amountMinor ?? 0n;
      const rush = visit.rush?.amountMinor ?? 0n;
      const once = (visit.minimum?.amountMinor ?? 0n) + (visit.trip?.amountMinor ?? 0n);
      expect(sum(vehicles.map((vehicle) => vehicle.repairsMinor))).toBe(visit.repairsMinor);
      expect(sum(visit.afterHoursByVehicleMinor)).toBe(afterHours);
      expect(sum(visit.rushByVehicleMinor)).toBe(rush);
      expect(visit.limitMinor).toBe(visit.repairsMinor + afterHours + rush);
      expect(sum(visit.limitByVehicleMinor)).toBe(visit.limitMinor);
      expect(visit.netMinor).toBe(visit.limitMinor + once);
      expect(invoice.totals.withoutTaxMinor).toBe(visit.netMinor);
      if (visit.repairsMinor === 0n) expect(visit.netMinor).toBe(0n);
    }),
  );
});

test('repairs stay between the vehicle’s minimum and its cap, and a visit reaches its minimum', () => {
  fc.assert(
    fc.property(anyVisit, (written) => {
      const { vehicles, visit } = priceAnyVisit(written);
      const { vehicleMinimumMinor, vehicleCapMinor, visitMinimumMinor } = written.tier;
      for (const { repairsMinor } of vehicles.filter((vehicle) => vehicle.repairsMinor > 0n)) {
        expect(repairsMinor >= vehicleMinimumMinor).toBe(true);
        if (vehicleCapMinor !== null) expect(repairsMinor <= vehicleCapMinor).toBe(true);
      }
      if (visit.repairsMinor > 0n)
        expect(visit.repairsMinor + (visit.minimum?.amountMinor ?? 0n) >= visitMinimumMinor).toBe(true);
    }),
  );
});

test('each line under a cap is lowered in proportion, to the cent', () => {
  fc.assert(
    fc.property(anyVisit, (written) => {
      const priced = priceAnyVisit(written);
      const free = priceAnyVisit({ ...written, tier: { ...written.tier, vehicleCapMinor: null } });
      priced.offered.forEach((vehicle, place) => {
        const { capMinor } = vehicle;
        const uncapped = free.offered[place]?.lines ?? [];
        const all = sum(uncapped.map((line) => line.netMinor));
        if (capMinor === undefined) {
          expect(vehicle.lines).toEqual(uncapped);
          return;
        }
        expect(sum(vehicle.lines.map((line) => line.netMinor))).toBe(capMinor);
        vehicle.lines.forEach((line, index) => {
          const exact = capMinor * (uncapped[index]?.netMinor ?? 0n);
          const off = line.netMinor * all - exact;
          expect(off < all && off > -all).toBe(true);
        });
      });
    }),
  );
});

// What the database holds an account's answer to: see check_account_answer.
test('without the lines declined the others cost no more than each by itself, and no less than offered but for a cent under a cap', () => {
  fc.assert(
    fc.property(anyVisit, (written) => {
      const { offered, vehicles } = priceAnyVisit(written);
      vehicles.forEach((vehicle, place) => {
        for (const line of vehicle.lines) {
          const before = offered[place]?.lines.find((each) => each.lineId === line.lineId);
          const least = (before?.netMinor ?? 0n) - (written.tier.vehicleCapMinor === null ? 0n : 1n);
          expect(line.netMinor >= least && line.netMinor <= line.beforeFurtherMinor).toBe(true);
        }
      });
    }),
  );
});

test('one more line never lowers what a vehicle’s repairs or a limit come to; only a trip may be waived by it', () => {
  fc.assert(
    fc.property(anyVisit, (written) => {
      const { offered, vehicles, visit } = priceAnyVisit(written);
      const all = priceVisit(offered, written.facts, written.tier, written.terms);
      vehicles.forEach((vehicle, place) => {
        expect(vehicle.repairsMinor <= (offered[place]?.repairsMinor ?? 0n)).toBe(true);
      });
      const withoutTrip = ({ netMinor, trip }: typeof visit) => netMinor - (trip?.amountMinor ?? 0n);
      expect(visit.limitMinor <= all.limitMinor).toBe(true);
      expect(withoutTrip(visit) <= withoutTrip(all)).toBe(true);
    }),
  );
});

test('a version prices again to the same, once and twice', () => {
  fc.assert(
    fc.property(anyVisit, (written) => {
      const { offered } = priceAnyVisit(written);
      offered.forEach((vehicle, place) => {
        const rules = vehicleRules(written.tier, written.terms, written.vehicles[place]?.rework);
        const ids = vehicle.lines.map((line) => line.lineId);
        const again = repriceApproved({ lines: vehicle.lines, rules }, ids);
        expect(again).toEqual({ ok: true, value: vehicle });
      });
    }),
  );
});

test('the trip costs what the first zone says that reaches the place, and beyond the last one its miles', () => {
  const somewhere = fc.bigInt(0n, 2_000n);
  const justAt = fc.option(fc.nat(3));
  fc.assert(
    fc.property(anyTerms, anyTier, somewhere, justAt, (terms, tier, anywhere, zone) => {
      const tenths = (zone === null ? undefined : terms.tripZones[zone]?.upToMiles.digits) ?? anywhere;
      const facts = { miles: { digits: tenths, scale: 1 }, afterHours: false, rush: false, walkIn: false };
      const never: AnyVisit['tier'] = { ...tier, tripWaivedFromMinor: null };
      const amount = priceVisit([{ repairsMinor: 100n }], facts, never, terms).trip?.amountMinor;
      const reaching = terms.tripZones.filter(({ upToMiles }) => upToMiles.digits >= tenths);
      const last = terms.tripZones.at(-1);
      const beyond = (from: bigint) =>
        tenths > from ? (2n * terms.mileMinor * (tenths - from) + 10n) / 20n : 0n;
      const expected =
        reaching[0]?.amountMinor ??
        (last === undefined
          ? terms.tripMinor + beyond(terms.milesIncluded.digits)
          : last.amountMinor + beyond(last.upToMiles.digits));
      expect(amount).toBe(expected);
    }),
  );
});
