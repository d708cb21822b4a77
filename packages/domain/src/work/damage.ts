/** The parts of an interior that can be repaired, with their names on pages. */
export const vehicleParts = {
  tailgate_lining: 'tailgate lining',
  front_door_panel: 'front door panel',
  rear_door_panel: 'rear door panel',
  quarter_trim: 'quarter trim',
  seat_cushion: 'seat cushion',
  seat_back: 'seat back',
  seat_bolster: 'seat bolster',
  steering_wheel: 'steering wheel',
  dash: 'dash',
  knee_panel: 'knee panel',
  console: 'console',
  armrest: 'armrest',
  headliner: 'headliner',
  carpet: 'carpet',
  pillar_trim: 'pillar trim',
  cargo_trim: 'cargo area trim',
  sill_trim: 'sill trim',
  key_remote: 'key remote',
  other: 'other part',
} as const satisfies Record<string, string>;

export type VehiclePart = keyof typeof vehicleParts;

/** Sides as seen from the driver's seat, facing forward. */
export const partPositions = {
  left: 'left',
  center: 'center',
  right: 'right',
} as const satisfies Record<string, string>;

export type PartPosition = keyof typeof partPositions;

/** What can be wrong with a part, with its name on pages. */
export const damageKinds = {
  cut_or_tear: 'cut or tear',
  burn: 'burn',
  shrink_hole: 'shrink hole',
  wrinkle: 'wrinkle or lifted material',
  scuff: 'scuff or scrape',
  wear: 'wear',
  scratch: 'scratch or gouge',
  drill_hole: 'drill or screw hole',
  crack: 'crack',
  stain: 'spot or stain',
  open_seam: 'open seam',
  missing_material: 'material missing',
  worn_out_buttons: 'worn-out case or buttons',
  other: 'other damage',
} as const satisfies Record<string, string>;

export type DamageKind = keyof typeof damageKinds;

export interface Damage {
  readonly kind: DamageKind;
  readonly part: VehiclePart;
  readonly position: PartPosition | null;
}

/** One line for pages and documents, e.g. “Cut or tear, front door panel, left”. */
export function damageWords({ kind, part, position }: Damage): string {
  const words = [
    damageKinds[kind],
    vehicleParts[part],
    ...(position === null ? [] : [partPositions[position]]),
  ];
  const line = words.join(', ');
  return `${line.charAt(0).toUpperCase()}${line.slice(1)}`;
}
