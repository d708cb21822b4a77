import type { DemoLine } from './work-order.ts';

type Told = DemoLine['line'];
type Picture = NonNullable<DemoLine['picture']>;

/** What is usual for a repair of the price book: how the material is told, how it is mended, how it looks. */
interface Usual {
  readonly told: Told;
  readonly damage: Picture['damage'] | null;
  readonly proof: DemoLine['proof'];
}

/** What the heat test or the eye tells. */
const vinyl = { observation: 'relaxes_and_lies_down' } as const;
const unbacked = { observation: 'shrinks_hole_grows' } as const;
const urethane = { observation: 'nothing_crumbles_or_flakes' } as const;
const burnt = { observation: 'already_burnt' } as const;
const leather = { observation: 'by_eye', looksLike: 'leather' } as const;
const hardPlastic = { observation: 'by_eye', looksLike: 'hard_plastic' } as const;
const fabric = { observation: 'by_eye', looksLike: 'fabric' } as const;
const carpet = { observation: 'by_eye', looksLike: 'carpet' } as const;
const headliner = { observation: 'by_eye', looksLike: 'headliner' } as const;

const cutInVinyl = usual(
  {
    damage: 'cut_or_tear',
    ...vinyl,
    methods: ['heat_flatten', 'fill_cut', 'cold_grain', 'mask', 'adjust_sheen'],
    family: 'Vinyl cut or tear',
  },
  'cut',
  ['after_heat', 'progress'],
);
const burn = usual(
  {
    damage: 'burn',
    ...burnt,
    methods: ['fill_cut', 'cold_grain', 'mask', 'spray_color'],
    family: 'Burn or shrink hole',
  },
  'burn',
);
const shrunk = usual(
  {
    damage: 'shrink_hole',
    ...unbacked,
    methods: ['clear_flexible_filler', 'base_texture', 'sand', 'mask', 'spray_texture'],
    family: 'Burn or shrink hole',
  },
  'shrink_hole',
);
const scuff = usual(
  {
    damage: 'scuff',
    ...hardPlastic,
    methods: ['sand', 'mask', 'spray_texture', 'spray_color'],
    family: 'Scuff or scrape',
  },
  'scuff',
);
const leatherTear = usual(
  {
    damage: 'cut_or_tear',
    ...leather,
    methods: ['fill_cut', 'cold_grain', 'mask', 'spray_color'],
    family: 'Leather tear',
  },
  'tear',
);
const rebuild = usual(
  {
    damage: 'cut_or_tear',
    ...urethane,
    methods: ['cut_out', 'degrease', 'heat_cured_filler', 'sand', 'mask', 'spray_texture'],
    family: 'Urethane rebuild',
  },
  'tear',
);
const clothBurn = usual({ damage: 'burn', ...fabric, methods: ['fill_cut'], family: 'Cloth burn' }, 'burn');

/** By the code that the price book comes to; where it has size bands, the measured inches have to fit. */
const usually = {
  'VC-S': cutInVinyl,
  'VC-M': cutInVinyl,
  'VC-L': cutInVinyl,
  'BN-S': burn,
  'BN-M': shrunk,
  'BN-L': shrunk,
  'WR-1': usual(
    { damage: 'wrinkle', ...vinyl, methods: ['heat_flatten', 'cold_grain'], family: 'Wrinkle' },
    'wrinkle',
    ['after_heat'],
  ),
  'SC-S': scuff,
  'SC-M': scuff,
  'LT-S': leatherTear,
  'LT-M': leatherTear,
  'LT-L': leatherTear,
  'LW-P': usual(
    { damage: 'wear', ...leather, methods: ['degrease', 'sand', 'mask', 'spray_color'], rateCode: 'LW-P' },
    'wear',
  ),
  'LW-F': usual(
    { damage: 'wear', ...leather, methods: ['degrease', 'sand', 'mask', 'spray_color'], rateCode: 'LW-F' },
    'wear',
  ),
  'PU-M': rebuild,
  'PU-L': rebuild,
  'FB-S': clothBurn,
  'FB-M': clothBurn,
  'CP-M': usual({ damage: 'burn', ...carpet, methods: ['fill_cut'], family: 'Carpet burn' }, 'burn'),
  'HL-M': usual(
    { damage: 'stain', ...headliner, methods: ['degrease', 'mask', 'spray_color'], family: 'Headliner' },
    'scuff',
  ),
  'SW-S': usual(
    { damage: 'wear', ...leather, methods: ['degrease', 'sand', 'mask', 'spray_color'], rateCode: 'SW-S' },
    'wear',
  ),
  'SW-L': usual(
    { damage: 'wear', ...leather, methods: ['degrease', 'sand', 'mask', 'spray_color'], rateCode: 'SW-L' },
    'wear',
  ),
  'PL-S': usual(
    {
      damage: 'scratch',
      ...hardPlastic,
      methods: ['fill_cut', 'sand', 'mask', 'spray_texture'],
      family: 'Hard plastic scratch',
    },
    'scuff',
  ),
  'PL-H': usual(
    {
      damage: 'drill_hole',
      ...hardPlastic,
      methods: ['fill_cut', 'sand', 'mask', 'spray_texture'],
      rateCode: 'PL-H',
    },
    'burn',
  ),
  'DB-M': usual(
    {
      damage: 'crack',
      ...unbacked,
      methods: ['clear_flexible_filler', 'base_texture', 'sand', 'mask', 'spray_texture'],
      family: 'Dash crack',
    },
    'crack',
  ),
  'KF-1': usual({ damage: 'worn_out_buttons', methods: [], rateCode: 'KF-1' }, null),
  'RI-1': usual({ damage: 'other', methods: ['trim_off_and_on'], rateCode: 'RI-1' }, null, []),
  'CM-1': usual({ damage: 'other', methods: ['mask', 'spray_color'], rateCode: 'CM-1' }, null, []),
} as const satisfies Record<string, Usual>;

export type RepairCode = keyof typeof usually;

/** Where on the vehicle, how large, and what else is worth writing down of one repair. */
export interface Place {
  readonly part: string;
  readonly side?: 'left' | 'right' | 'center';
  readonly inches?: string;
  readonly factor?: 'new' | 'perf';
  readonly note?: string;
  readonly visibleWhen?: string;
  readonly trim?: Picture['trim'];
  readonly declined?: string;
  /** What differs from the usual way of this repair. */
  readonly told?: Told;
  readonly damage?: Picture['damage'];
  readonly lifted?: boolean;
}

/** A line of the demo: the usual way of a repair at a place. */
export function repair(code: RepairCode, place: Place): DemoLine {
  const { told, damage, proof }: Usual = usually[code];
  const drawn = place.damage ?? damage;
  return {
    line: {
      ...told,
      part: place.part,
      ...(place.side === undefined ? {} : { side: place.side }),
      ...(place.inches === undefined ? {} : { measuredInches: place.inches }),
      ...(place.factor === undefined ? {} : { factorCode: place.factor }),
      ...(place.note === undefined ? {} : { note: place.note }),
      ...(place.visibleWhen === undefined ? {} : { visibleWhen: place.visibleWhen }),
      ...place.told,
    },
    picture: drawn === null ? null : pictureOf(place, drawn),
    proof,
    ...(place.declined === undefined ? {} : { declined: place.declined }),
  };
}

function pictureOf(place: Place, damage: Picture['damage']): Picture {
  return {
    part: drawnParts[place.part] ?? 'door_panel',
    trim: place.trim ?? 'charcoal',
    damage,
    inches: Number(place.inches ?? '1.5'),
    ...(place.lifted === undefined ? {} : { lifted: place.lifted }),
  };
}

/** The pictures that can be drawn stand for more parts than they are of. */
const drawnParts: Readonly<Record<string, Picture['part']>> = {
  tailgate_lining: 'tailgate_lining',
  cargo_trim: 'tailgate_lining',
  quarter_trim: 'quarter_trim',
  pillar_trim: 'quarter_trim',
  seat_bolster: 'seat_bolster',
  seat_cushion: 'seat_bolster',
  seat_back: 'seat_bolster',
  steering_wheel: 'steering_wheel',
  dash: 'dash',
  console: 'dash',
};

function usual(told: Told, damage: Usual['damage'], proof: Usual['proof'] = ['progress']): Usual {
  return { told, damage, proof };
}
