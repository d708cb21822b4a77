/** What a method does that rules and cautions ask about. */
interface MethodTraits {
  readonly label: string;
  /** Warms the material itself, to flatten it or to re-grain it. */
  readonly heatsMaterial: boolean;
  /** Brings heat at all, also where only a filler is cured with it. */
  readonly hot: boolean;
  readonly fills: boolean;
  readonly sprays: boolean;
  /** Fades the repair into the grain around it. */
  readonly blends: boolean;
  readonly solvent: boolean;
}

function traits(label: string, which: Partial<Omit<MethodTraits, 'label'>> = {}): MethodTraits {
  return {
    label,
    heatsMaterial: false,
    hot: false,
    fills: false,
    sprays: false,
    blends: false,
    solvent: false,
    ...which,
  };
}

/**
 * The methods of the trade that rules know of, in the order of work: clean and mask, cut out, heat, fill, sand,
 * grain, color, sheen. A method not listed here can be told in words.
 */
export const methods = {
  trim_off_and_on: traits('take trim off and put it on'),
  degrease: traits('degrease', { solvent: true }),
  mask: traits('mask'),
  cut_out: traits('cut all loose material away'),
  wear_back: traits('wear the contour back with solvent and pad', { solvent: true }),
  heat_flatten: traits('lay down by heat', { heatsMaterial: true, hot: true }),
  re_sew: traits('re-sew a seam'),
  fill_cut: traits('fill the cut', { fills: true }),
  clear_flexible_filler: traits('clear flexible filler', { fills: true }),
  heat_cured_filler: traits('heat-cured filler', { fills: true, hot: true }),
  sand: traits('sand'),
  base_texture: traits('rough base texture'),
  heat_grain: traits('heat graining', { heatsMaterial: true, hot: true }),
  cold_grain: traits('cold graining', { blends: true }),
  spray_texture: traits('sprayed texture', { sprays: true, blends: true }),
  can_texture: traits('all-purpose texture from a can', { sprays: true }),
  spray_color: traits('spray color', { sprays: true }),
  two_part_coating: traits('two-part coating', { sprays: true }),
  adjust_sheen: traits('adjust the sheen', { sprays: true }),
} as const satisfies Record<string, MethodTraits>;

export type Method = keyof typeof methods;
