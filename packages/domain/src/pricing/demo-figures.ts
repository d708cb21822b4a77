import { day } from '../dates.ts';
import { type LineId, toId, type VisitId, type WorkOrderId } from '../ids.ts';
import { decimal } from '../money/decimal.ts';
import { parseMinor } from '../money/money.ts';
import type { ExemptionCertificate, TaxSetup } from '../tax/tax-setup.ts';
import type { Buyer, PriceBook, PriceTerms, Tier } from './price-book.ts';

/**
 * Three months of an invented business: its price book, every priced line, its visits and its invoices.
 * Computed by one program and recomputed to the cent by a second, written apart from the same rules; neither
 * is this code. Common practice of the trade, no published source. Only tests read this file.
 */
const rates = `
VC-S|VC|0|1|140.00|12|yes|Cut or tear in vinyl, up to 1 in
VC-M|VC|1|3|195.00|12|yes|Cut or tear in vinyl, over 1 to 3 in
VC-L|VC|3|6|285.00|12|yes|Cut or tear in vinyl, over 3 to 6 in
BN-S|BN|0|0.5|125.00|12|yes|Burn or shrink hole, vinyl or leather, up to 1/2 in
BN-M|BN|0.5|2|235.00|12|yes|Burn or shrink hole, over 1/2 to 2 in
BN-L|BN|2|5|345.00|12|yes|Burn or shrink area, over 2 to 5 in
WR-1|WR-1|||95.00|5|yes|Wrinkle or lifted vinyl, lay down by heat, per panel area
SC-S|SC|0|3|95.00|15|yes|Scuff or scrape, refinish, up to 3 in
SC-M|SC|3|8|145.00|15|yes|Scuff or scrape, refinish, over 3 to 8 in
LT-S|LT|0|1|150.00|12|yes|Leather tear, up to 1 in
LT-M|LT|1|3|225.00|12|yes|Leather tear, over 1 to 3 in
LT-L|LT|3|6|325.00|12|yes|Leather tear, over 3 to 6 in
LW-P|LW-P|||185.00|20|yes|Leather wear and cracks, one seat bolster
LW-F|LW-F|||295.00|20|yes|Leather wear and cracks, full seat cushion
PU-M|PU|0|3|295.00|15|yes|Urethane or bonded leather, cut out and rebuild, up to 3 in
PU-L|PU|3|6|425.00|15|yes|Urethane or bonded leather, cut out and rebuild, over 3 to 6 in
FB-S|FB|0|0.5|85.00|8|yes|Cloth burn, up to 1/2 in
FB-M|FB|0.5|1.5|125.00|8|yes|Cloth burn, over 1/2 to 1-1/2 in
CP-M|CP|0|2|95.00|10|yes|Carpet burn or hole, up to 2 in
HL-M|HL|0|3|120.00|10|yes|Headliner spot or hole, up to 3 in
SW-S|SW-S|||165.00|10|yes|Steering wheel rim resurface, up to one third of rim
SW-L|SW-L|||285.00|10|yes|Steering wheel rim resurface, whole rim
PL-S|PL-S|0|3|110.00|12|yes|Hard plastic scratch or gouge, up to 3 in
PL-H|PL-H|||135.00|12|yes|Hard plastic drill or screw hole, fill and regrain
DB-M|DB|0|3|265.00|12|yes|Dash vinyl crack, up to 3 in
KF-1|KF-1|||47.00|25|no|Key remote: test, new case and button pad
RI-1|RI-1|||75.00|0|no|Trim panel off and on (R&I), each
CM-1|CM-1|||45.00|30|no|Color mix, not in the formula book
`;

/** Work order, date, account, code, factor, list after factor, after tier, further percent, net, labor, materials. */
const lines = `
1001,2026-08-03,PL,FB-S,,85.00,46.75,90,42.08,38.71,3.37
1001,2026-08-03,PL,CP-M,,95.00,52.25,100,52.25,47.02,5.23
1002,2026-08-03,PL,VC-M,,195.00,107.25,100,107.25,94.38,12.87
1002,2026-08-03,PL,PL-S,,110.00,60.50,90,54.45,47.92,6.53
1003,2026-08-03,PL,LW-P,,185.00,101.75,100,101.75,81.40,20.35
1004,2026-08-05,BG,WR-1,,95.00,80.75,90,72.68,69.05,3.63
1004,2026-08-05,BG,VC-M,,195.00,165.75,100,165.75,145.86,19.89
1005,2026-08-07,HD,LT-S,perf,187.50,140.63,100,140.63,123.75,16.88
1006,2026-08-11,UF,BN-M,new,258.50,219.73,90,197.76,174.03,23.73
1006,2026-08-11,UF,BN-L,new,379.50,322.58,100,322.58,283.87,38.71
1006,2026-08-11,UF,RI-1,,75.00,63.75,100,63.75,63.75,0.00
1006,2026-08-11,UF,CM-1,,45.00,38.25,100,38.25,26.77,11.48
1007,2026-08-12,RW,LT-M,,225.00,225.00,100,225.00,198.00,27.00
1007,2026-08-12,RW,SC-S,,95.00,95.00,90,85.50,72.67,12.83
1008,2026-08-14,DR,BN-S,,125.00,90.00,100,90.00,79.20,10.80
1008,2026-08-14,DR,BN-S,,125.00,90.00,90,81.00,71.28,9.72
1009,2026-08-14,DR,FB-M,,125.00,106.25,100,106.25,97.75,8.50
1009,2026-08-14,DR,MIN,,18.75,18.75,100,18.75,18.75,0.00
1010,2026-08-18,TR,DB-M,,265.00,145.75,100,145.75,128.26,17.49
1011,2026-08-18,TR,SW-L,,285.00,156.75,90,141.08,126.97,14.11
1011,2026-08-18,TR,LW-F,,295.00,162.25,100,162.25,129.80,32.45
1012,2026-08-18,TR,HL-M,,120.00,66.00,100,66.00,59.40,6.60
1014,2026-08-21,PL,PU-M,,295.00,162.25,100,162.25,137.91,24.34
1015,2026-08-26,HD,PL-H,,135.00,101.25,100,101.25,89.10,12.15
1015,2026-08-26,HD,SC-S,,95.00,71.25,90,64.13,54.51,9.62
1016,2026-09-01,BG,VC-L,,285.00,242.25,100,242.25,213.18,29.07
1016,2026-09-01,BG,WR-1,,95.00,80.75,90,72.68,69.05,3.63
1016,2026-09-01,BG,WR-1,,95.00,80.75,80,64.60,61.37,3.23
1017,2026-09-03,PL,LW-P,,185.00,101.75,100,101.75,81.40,20.35
1017,2026-09-03,PL,LW-P,,185.00,101.75,90,91.58,73.26,18.32
1018,2026-09-03,PL,KF-1,,47.00,25.85,100,25.85,19.39,6.46
1018,2026-09-03,PL,MIN,,39.15,39.15,100,39.15,39.15,0.00
1021,2026-09-09,DR,SC-M,,145.00,123.25,100,123.25,104.76,18.49
1021,2026-09-09,DR,BN-S,,125.00,90.00,90,81.00,71.28,9.72
1022,2026-09-11,RW,SW-S,,165.00,165.00,100,165.00,148.50,16.50
1023,2026-09-15,HD,LT-M,,225.00,168.75,100,168.75,148.50,20.25
1023,2026-09-15,HD,SC-S,,95.00,71.25,90,64.13,54.51,9.62
1024,2026-09-17,TR,VC-M,,195.00,107.25,100,107.25,94.38,12.87
1024,2026-09-17,TR,FB-S,,85.00,46.75,80,37.40,34.41,2.99
1024,2026-09-17,TR,CP-M,,95.00,52.25,90,47.03,42.33,4.70
1025,2026-09-17,TR,PU-L,,425.00,233.75,100,233.75,198.69,35.06
1026,2026-09-22,PL,BN-S,,125.00,68.75,100,68.75,60.50,8.25
1027,2026-09-22,PL,PL-S,,110.00,60.50,90,54.45,47.92,6.53
1027,2026-09-22,PL,PL-H,,135.00,74.25,100,74.25,65.34,8.91
1028,2026-09-29,BG,PL-S,,110.00,93.50,100,93.50,82.28,11.22
1028,2026-09-29,BG,MIN,,31.50,31.50,100,31.50,31.50,0.00
1029,2026-10-02,UF,BN-S,,125.00,106.25,100,106.25,93.50,12.75
1029,2026-10-02,UF,MIN,,18.75,18.75,100,18.75,18.75,0.00
1030,2026-10-06,PL,FB-S,,85.00,46.75,100,46.75,43.01,3.74
1030,2026-10-06,PL,FB-S,,85.00,46.75,90,42.08,38.71,3.37
1031,2026-10-06,PL,BN-S,,125.00,68.75,100,68.75,60.50,8.25
1032,2026-10-06,PL,LW-P,,185.00,101.75,100,101.75,81.40,20.35
1032,2026-10-06,PL,SW-S,,165.00,90.75,90,81.68,73.51,8.17
1032,2026-10-06,PL,PL-S,,110.00,60.50,80,48.40,42.59,5.81
1033,2026-10-06,PL,CP-M,,95.00,52.25,100,52.25,47.02,5.23
1033,2026-10-06,PL,MIN,,12.75,12.75,100,12.75,12.75,0.00
1034,2026-10-06,PL,SC-M,,145.00,79.75,100,79.75,67.79,11.96
1035,2026-10-06,PL,VC-M,,195.00,107.25,100,107.25,94.38,12.87
1035,2026-10-06,PL,PL-H,,135.00,74.25,90,66.83,58.81,8.02
1036,2026-10-06,PL,KF-1,,47.00,25.85,100,25.85,19.39,6.46
1036,2026-10-06,PL,MIN,,39.15,39.15,100,39.15,39.15,0.00
1037,2026-10-14,HD,LT-L,perf,406.25,304.69,100,304.69,268.13,36.56
1037,2026-10-14,HD,LW-P,,185.00,138.75,90,124.88,99.90,24.98
1037,2026-10-14,HD,SC-S,,95.00,71.25,80,57.00,48.45,8.55
1038,2026-10-20,RW,VC-S,,140.00,140.00,100,140.00,123.20,16.80
1038,2026-10-20,RW,MIN,,10.00,10.00,100,10.00,10.00,0.00
1039,2026-10-27,DR,DB-M,,265.00,225.25,100,225.25,198.22,27.03
1039,2026-10-27,DR,SC-S,,95.00,80.75,90,72.68,61.78,10.90
1040,2026-10-29,BG,PU-M,new,324.50,275.83,100,275.83,234.46,41.37
`;

/** Date, account, technician, miles, after hours, walk-in, work orders, outcomes. */
const visits = `
2026-08-03,PL,T1,8,no,no,1001 1002 1003,billed billed billed
2026-08-05,BG,T2,12,no,no,1004,billed
2026-08-07,HD,T1,14,no,no,1005,billed
2026-08-11,UF,T3,26,no,no,1006,billed
2026-08-12,RW,T2,0,no,yes,1007,billed
2026-08-14,DR,T3,9,no,no,1008 1009,billed billed
2026-08-18,TR,T1,24,no,no,1010 1011 1012,billed billed billed
2026-08-21,PL,T2,8,no,no,1013 1014,void_duplicate billed
2026-08-26,HD,T1,14,no,no,1015,billed
2026-09-01,BG,T2,12,no,no,1016,billed
2026-09-03,PL,T1,8,no,no,1017 1018 1019,billed billed no_show_fee
2026-09-08,UF,T3,26,no,no,1020,rework
2026-09-09,DR,T3,9,no,no,1021,billed
2026-09-11,RW,T2,0,no,yes,1022,billed
2026-09-15,HD,T1,14,yes,no,1023,billed
2026-09-17,TR,T2,24,no,no,1024 1025,billed declined
2026-09-22,PL,T1,8,no,no,1026 1027,billed billed
2026-09-29,BG,T2,12,no,no,1028,billed
2026-10-02,UF,T3,26,no,no,1029,billed
2026-10-06,PL,T1,8,no,no,1030 1031 1032 1033 1034 1035 1036,billed billed billed billed billed billed billed
2026-10-14,HD,T1,14,yes,no,1037,billed
2026-10-20,RW,T2,0,no,yes,1038,billed
2026-10-27,DR,T3,9,no,no,1039,held
2026-10-29,BG,T2,12,no,no,1040,undecided
`;

/**
 * Number, date, account, due, work orders, repairs, labor, materials, after-hours, trip, fee, tax, state, local,
 * tax base, exempt, total; amounts in cents.
 */
const invoices = `
INV-2001,2026-08-03,PL,2026-08-13,1001 1002 1003,35778,30943,4835,0,0,0,0,0,0,0,True,35778
INV-2002,2026-08-05,BG,2026-08-20,1004,23843,21491,2352,0,4500,0,147,118,29,2352,False,28490
INV-2003,2026-08-07,HD,2026-09-06,1005,14063,12375,1688,0,4500,0,0,0,0,0,True,18563
INV-2004,2026-08-11,UF,2026-08-26,1006,62234,54842,7392,0,900,0,4103,3472,631,63134,False,67237
INV-2005,2026-08-12,RW,2026-08-12,1007,31050,27067,3983,0,0,0,2019,1708,311,31050,False,33069
INV-2006,2026-08-14,DR,2026-09-13,1008 1009,29600,26698,2902,0,4500,0,2217,1876,341,34100,False,36317
INV-2007,2026-08-18,TR,2026-09-02,1010 1011 1012,51508,44443,7065,0,600,0,0,0,0,0,True,52108
INV-2008,2026-08-21,PL,2026-08-31,1014,16225,13791,2434,0,4500,0,0,0,0,0,True,20725
INV-2009,2026-08-26,HD,2026-09-25,1015,16538,14361,2177,0,4500,0,0,0,0,0,True,21038
INV-2010,2026-09-01,BG,2026-09-16,1016,37953,34360,3593,0,4500,0,225,180,45,3593,False,42678
INV-2011,2026-09-03,PL,2026-09-13,1017 1018,25833,21320,4513,0,4500,5500,0,0,0,0,True,35833
INV-2012,2026-09-09,DR,2026-10-09,1021,20425,17604,2821,0,4500,0,1620,1371,249,24925,False,26545
INV-2013,2026-09-11,RW,2026-09-11,1022,16500,14850,1650,0,0,0,1073,908,165,16500,False,17573
INV-2014,2026-09-15,HD,2026-10-15,1023,23288,20301,2987,6000,4500,0,0,0,0,0,True,33788
INV-2015,2026-09-17,TR,2026-10-02,1024,19168,17112,2056,0,5100,0,0,0,0,0,True,24268
INV-2016,2026-09-22,PL,2026-10-02,1026 1027,19745,17376,2369,0,4500,0,0,0,0,0,True,24245
INV-2017,2026-09-29,BG,2026-10-14,1028,12500,11378,1122,0,4500,0,70,56,14,1122,False,17070
INV-2018,2026-10-02,UF,2026-10-17,1029,12500,11225,1275,0,5400,0,1164,985,179,17900,False,19064
INV-2019,2026-10-06,PL,2026-10-16,1030 1031 1032 1033 1034 1035 1036,77324,67901,9423,0,0,0,0,0,0,0,True,77324
INV-2020,2026-10-14,HD,2026-11-13,1037,48657,41648,7009,12164,0,0,438,350,88,7009,False,61259
INV-2021,2026-10-20,RW,2026-10-20,1038,15000,13320,1680,0,0,0,975,825,150,15000,False,15975
`;

const always = { from: day('2026-01-01'), to: null };

export const demoTerms: PriceTerms = {
  inForce: always,
  furtherRepairPercents: [decimal('100'), decimal('90'), decimal('80')],
  tripMinor: 4500n,
  milesIncluded: decimal('20'),
  mileMinor: 150n,
  tripZones: [],
  afterHoursPercent: decimal('25'),
  afterHoursMinimumMinor: 6000n,
  rushPercent: decimal('0'),
  rushMinimumMinor: 0n,
  depositFromMinor: 20000n,
  depositPercent: decimal('50'),
  depositStepMinor: 1000n,
};

export const demoBook: PriceBook = {
  rates: rows(rates, '|').map(
    ([code = '', family = '', over, to, list, materials = '', further, repair = '']) => ({
      code,
      repair,
      family,
      band: over && to ? { overInches: decimal(over), toInches: decimal(to) } : null,
      part: null,
      material: null,
      listMinor: cents(list),
      materialsPercent: decimal(materials),
      takesFurtherRepair: further === 'yes',
      inForce: always,
    }),
  ),
  factors: [
    { code: 'new', name: 'new car', percent: decimal('110'), inForce: always },
    { code: 'perf', name: 'perforated leather', percent: decimal('125'), inForce: always },
    { code: 'soft', name: 'soft-touch plastic', percent: decimal('120'), inForce: always },
    { code: 'tpu', name: 'TPU', percent: decimal('110'), inForce: always },
  ],
  terms: [demoTerms],
};

export const demoTiers = {
  retail: tier('retail', '0', 15000n, null),
  trade: tier('trade', '15', 12500n, 40000n),
  dealer: tier('dealer', '25', 9500n, 40000n),
  lot: tier('lot', '45', 6500n, 30000n),
};

const setupA: TaxSetup = {
  areaCode: 'A',
  areaName: 'Kestrel Valley',
  inForce: always,
  components: [
    { name: 'state', ratePercent: decimal('5.00') },
    { name: 'local', ratePercent: decimal('1.25') },
  ],
  taxableClasses: ['materials'],
};
const setupB: TaxSetup = {
  areaCode: 'B',
  areaName: 'Port Orrin',
  inForce: always,
  components: [
    { name: 'state', ratePercent: decimal('5.50') },
    { name: 'local', ratePercent: decimal('1.00') },
  ],
  taxableClasses: ['labor', 'materials', 'trip', 'fee'],
};

export interface DemoAccount {
  readonly buyer: Buyer;
  readonly setup: TaxSetup;
  readonly certificates: readonly ExemptionCertificate[];
}

const accounts: Readonly<Record<string, DemoAccount>> = {
  BG: account(demoTiers.trade, setupA),
  UF: account(demoTiers.trade, setupB),
  PL: account(demoTiers.lot, setupA, '2027-06-30'),
  HD: account(demoTiers.dealer, setupA, '2026-09-30'),
  DR: {
    ...account(demoTiers.trade, setupB),
    buyer: {
      tier: demoTiers.trade,
      tierPrices: [],
      contracts: [],
      accountPrices: [{ code: 'BN-S', priceMinor: 9000n, inForce: { from: day('2026-07-01'), to: null } }],
    },
  },
  TR: account(demoTiers.lot, setupA, '2027-03-31'),
  RW: account(demoTiers.retail, setupB),
};

export const demoLines = rows(lines, ',').map(
  ([
    workOrder = '',
    date = '',
    accountKey = '',
    code = '',
    factor,
    list,
    tiered,
    percent = '',
    net,
    labor,
    materials,
  ]) => ({
    workOrder,
    date: day(date),
    account: accountKey,
    code,
    factors: factor ? [factor] : [],
    afterFactorMinor: cents(list),
    beforeFurtherMinor: cents(tiered),
    furtherPercent: decimal(percent),
    netMinor: cents(net),
    laborMinor: cents(labor),
    materialsMinor: cents(materials),
  }),
);

export const demoVisits = rows(visits, ',').map(
  ([
    date = '',
    accountKey = '',
    technician = '',
    miles = '',
    afterHours,
    walkIn,
    workOrders = '',
    outcomes = '',
  ]) => ({
    date: day(date),
    account: accountKey,
    technician,
    miles: decimal(miles),
    afterHours: afterHours === 'yes',
    walkIn: walkIn === 'yes',
    workOrders: workOrders
      .split(' ')
      .map((number, index) => ({ number, outcome: outcomes.split(' ')[index] })),
  }),
);

export const demoInvoices = rows(invoices, ',').map((cells) => {
  const [number = '', date = '', accountKey = '', , workOrders = ''] = cells;
  const at = (index: number) => BigInt(cells[index] ?? '');
  return {
    number,
    date: day(date),
    account: accountKey,
    workOrders: workOrders.split(' '),
    repairsMinor: at(5),
    laborMinor: at(6),
    materialsMinor: at(7),
    afterHoursMinor: at(8),
    tripMinor: at(9),
    feeMinor: at(10),
    taxMinor: at(11),
    stateMinor: at(12),
    localMinor: at(13),
    baseMinor: at(14),
    totalMinor: at(16),
  };
});

export function demoAccount(key: string): DemoAccount {
  const found = accounts[key];
  if (!found) throw new Error(`no account ${key}`);
  return found;
}

/** An id that is the same in every run. */
export function demoLineId(number: number): LineId {
  return toId<LineId>(demoUuid(number));
}

export function demoWorkOrderId(number: number): WorkOrderId {
  return toId<WorkOrderId>(demoUuid(number));
}

export function demoVisitId(number: number): VisitId {
  return toId<VisitId>(demoUuid(number));
}

function demoUuid(number: number): string {
  return `00000000-0000-4000-8000-${number.toString().padStart(12, '0')}`;
}

function tier(
  name: string,
  discount: string,
  vehicleMinimumMinor: bigint,
  tripWaivedFromMinor: bigint | null,
): Tier {
  const limits = { vehicleMinimumMinor, vehicleCapMinor: null, visitMinimumMinor: 0n, tripWaivedFromMinor };
  return { code: name, name, discountPercent: decimal(discount), ...limits };
}

function account(buyerTier: Tier, setup: TaxSetup, certificateTo?: string): DemoAccount {
  const valid = certificateTo ? { from: day('2026-01-01'), to: day(certificateTo) } : null;
  return {
    buyer: { tier: buyerTier, tierPrices: [], contracts: [], accountPrices: [] },
    setup,
    certificates: valid ? [{ kind: 'resale', number: `R-${certificateTo}`, valid }] : [],
  };
}

function rows(text: string, separator: string): string[][] {
  return text
    .trim()
    .split('\n')
    .map((row) => row.split(separator));
}

function cents(text: string | undefined): bigint {
  const parsed = parseMinor(text ?? '');
  if (!parsed.ok) throw new Error(parsed.problem.detail);
  return parsed.value;
}
