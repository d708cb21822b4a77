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

/** The methods of the trade that rules know of. A method not listed here can be told in words. */
export const methods = {
  heat_flatten: traits('lay down by heat', { heatsMaterial: true, hot: true }),
  heat_grain: traits('heat graining', { heatsMaterial: true, hot: true }),
  cold_grain: traits('cold graining', { blends: true }),
  spray_texture: traits('sprayed texture', { sprays: true, blends: true }),
  base_texture: traits('rough base texture'),
  can_texture: traits('all-purpose texture from a can', { sprays: true }),
  fill_cut: traits('fill the cut', { fills: true }),
  clear_flexible_filler: traits('clear flexible filler', { fills: true }),
  heat_cured_filler: traits('heat-cured filler', { fills: true, hot: true }),
  cut_out: traits('cut all loose material away'),
  degrease: traits('degrease', { solvent: true }),
  wear_back: traits('wear the contour back with solvent and pad', { solvent: true }),
  sand: traits('sand'),
  mask: traits('mask'),
  spray_color: traits('spray color', { sprays: true }),
  two_part_coating: traits('two-part coating', { sprays: true }),
  adjust_sheen: traits('adjust the sheen', { sprays: true }),
  re_sew: traits('re-sew a seam'),
  trim_off_and_on: traits('take trim off and put it on'),
} as const satisfies Record<string, MethodTraits>;

export type Method = keyof typeof methods;
