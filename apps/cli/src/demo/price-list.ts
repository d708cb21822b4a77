import type { AccountId } from '@grainwright/domain';
import {
  type Actor,
  addAccountPrice,
  addCareFactor,
  addRates,
  addTaxArea,
  addTier,
  type Services,
  setPriceTerms,
} from '@grainwright/operations';
import { must } from './must.ts';

/**
 * The invented price book “2026 list”: code, family, over and up to so many inches, list price in USD, materials
 * percent, whether the further-repair rule applies, whether it mends damage, and the repair. Invented figures of
 * common practice, no published source.
 */
const list = `
VC-S|Vinyl cut or tear|0|1|140.00|12|yes|yes|Cut or tear in vinyl, up to 1 in
VC-M|Vinyl cut or tear|1|3|195.00|12|yes|yes|Cut or tear in vinyl, over 1 to 3 in
VC-L|Vinyl cut or tear|3|6|285.00|12|yes|yes|Cut or tear in vinyl, over 3 to 6 in
BN-S|Burn or shrink hole|0|0.5|125.00|12|yes|yes|Burn or shrink hole, vinyl or leather, up to 1/2 in
BN-M|Burn or shrink hole|0.5|2|235.00|12|yes|yes|Burn or shrink hole, over 1/2 to 2 in
BN-L|Burn or shrink hole|2|5|345.00|12|yes|yes|Burn or shrink area, over 2 to 5 in
WR-1|Wrinkle|||95.00|5|yes|yes|Wrinkle or lifted vinyl, lay down by heat, per panel area
SC-S|Scuff or scrape|0|3|95.00|15|yes|yes|Scuff or scrape, refinish, up to 3 in
SC-M|Scuff or scrape|3|8|145.00|15|yes|yes|Scuff or scrape, refinish, over 3 to 8 in
LT-S|Leather tear|0|1|150.00|12|yes|yes|Leather tear, up to 1 in
LT-M|Leather tear|1|3|225.00|12|yes|yes|Leather tear, over 1 to 3 in
LT-L|Leather tear|3|6|325.00|12|yes|yes|Leather tear, over 3 to 6 in
LW-P|Leather wear, bolster|||185.00|20|yes|yes|Leather wear and cracks, one seat bolster
LW-F|Leather wear, cushion|||295.00|20|yes|yes|Leather wear and cracks, full seat cushion
PU-M|Urethane rebuild|0|3|295.00|15|yes|yes|Urethane or bonded leather, cut out and rebuild, up to 3 in
PU-L|Urethane rebuild|3|6|425.00|15|yes|yes|Urethane or bonded leather, cut out and rebuild, over 3 to 6 in
FB-S|Cloth burn|0|0.5|85.00|8|yes|yes|Cloth burn, up to 1/2 in
FB-M|Cloth burn|0.5|1.5|125.00|8|yes|yes|Cloth burn, over 1/2 to 1-1/2 in
CP-M|Carpet burn|0|2|95.00|10|yes|yes|Carpet burn or hole, up to 2 in
HL-M|Headliner|0|3|120.00|10|yes|yes|Headliner spot or hole, up to 3 in
SW-S|Steering wheel, a third|||165.00|10|yes|yes|Steering wheel rim resurface, up to one third of rim
SW-L|Steering wheel, whole|||285.00|10|yes|yes|Steering wheel rim resurface, whole rim
PL-S|Hard plastic scratch|0|3|110.00|12|yes|yes|Hard plastic scratch or gouge, up to 3 in
PL-H|Hard plastic hole|||135.00|12|yes|yes|Hard plastic drill or screw hole, fill and regrain
DB-M|Dash crack|0|3|265.00|12|yes|yes|Dash vinyl crack, up to 3 in
KF-1|Key remote|||47.00|25|no|no|Key remote: test, new case and button pad
RI-1|Trim off and on|||75.00|0|no|no|Trim panel off and on (R&I), each
CM-1|Color mix|||45.00|30|no|no|Color mix, not in the formula book
`;

export const priceListFrom = '2026-01-01';

const tiers = [
  { code: 'retail', name: 'Retail', discountPercent: '0', vehicleMinimum: '150.00', tripWaivedFrom: null },
  { code: 'trade', name: 'Trade', discountPercent: '15', vehicleMinimum: '125.00', tripWaivedFrom: '400.00' },
  {
    code: 'dealer',
    name: 'Dealer',
    discountPercent: '25',
    vehicleMinimum: '95.00',
    tripWaivedFrom: '400.00',
  },
  { code: 'lot', name: 'Lot', discountPercent: '45', vehicleMinimum: '65.00', tripWaivedFrom: '300.00' },
] as const;

const factors = [
  { code: 'new', name: 'New car', percent: '110' },
  { code: 'perf', name: 'Perforated leather', percent: '125' },
  { code: 'soft', name: 'Soft-touch plastic', percent: '120' },
  { code: 'tpu', name: 'TPU', percent: '110' },
] as const;

const terms = {
  furtherRepairPercents: ['100', '90', '80'],
  trip: '45.00',
  milesIncluded: '20',
  mile: '1.50',
  afterHoursPercent: '25',
  afterHoursMinimum: '60.00',
  depositFrom: '200.00',
  depositPercent: '50',
  depositStep: '10.00',
} as const;

const taxAreas = [
  {
    code: 'A',
    name: 'Kestrel Valley',
    taxable: ['materials'],
    components: [
      { name: 'State', ratePercent: '5.00' },
      { name: 'Local', ratePercent: '1.25' },
    ],
  },
  {
    code: 'B',
    name: 'Port Orrin',
    taxable: ['labor', 'materials', 'trip', 'fee'],
    components: [
      { name: 'State', ratePercent: '5.50' },
      { name: 'Local', ratePercent: '1.00' },
    ],
  },
] as const;

/** Writes the whole price book, the tiers and both tax areas, as the owner would; without a floor unless said otherwise. */
export async function writePriceList(
  services: Services,
  owner: Actor,
  { floorPercent = null }: { readonly floorPercent?: string | null } = {},
): Promise<void> {
  const dated = { validFrom: priceListFrom, validTo: null };
  for (const area of taxAreas)
    must(await addTaxArea(services, owner, { id: services.newId(), ...area, ...dated }));
  for (const tier of tiers) must(await addTier(services, owner, tier));
  for (const factor of factors) must(await addCareFactor(services, owner, factor));
  must(await setPriceTerms(services, owner, { id: services.newId(), ...terms, floorPercent, ...dated }));
  must(
    await addRates(services, owner, {
      rates: listRates().map((rate) => ({ id: services.newId(), ...rate, ...dated })),
    }),
  );
}

/** One account's own price for a repair, from the first day of the price list unless said otherwise. */
export async function writeAccountPrice(
  services: Services,
  owner: Actor,
  price: {
    accountId: AccountId;
    code: string;
    price: string;
    reason?: string;
    validFrom?: string;
    validTo?: string | null;
  },
): Promise<void> {
  const usual = {
    id: services.newId(),
    reason: 'agreed with the account',
    validFrom: priceListFrom,
    validTo: null,
  };
  must(await addAccountPrice(services, owner, { ...usual, ...price }));
}

function listRates() {
  return list
    .trim()
    .split('\n')
    .map((row) => {
      const [
        code = '',
        family = '',
        over = '',
        to = '',
        price = '',
        materials = '',
        further = '',
        mends = '',
        repair = '',
      ] = row.split('|');
      return {
        code,
        family,
        overInches: over === '' ? null : over,
        toInches: to === '' ? null : to,
        part: null,
        material: null,
        list: price,
        materialsPercent: materials,
        takesFurtherRepair: further === 'yes',
        repairsDamage: mends === 'yes',
        repair,
      };
    });
}
