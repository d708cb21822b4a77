import type { RegionInput } from '@grainwright/domain';
import type { CoveringView } from '@grainwright/operations';
import type { FormValues } from '../../../plugins/forms.ts';

/** A part to cover as it stands in the form, in percent; all four empty: none. */
export interface TypedRegion {
  readonly kind: string;
  readonly left: string;
  readonly top: string;
  readonly width: string;
  readonly height: string;
}

export interface CoveringForm {
  readonly id: string;
  readonly regions: readonly TypedRegion[];
  readonly reason: string;
}

const sides = ['left', 'top', 'width', 'height'] as const;

/** What stands now is what a new covering begins with. */
export function formShown(id: string, standing: CoveringView | null): CoveringForm {
  const percent = (hundredths: number) => String(hundredths / 100);
  return {
    id,
    regions: (standing?.regions ?? []).map(({ kind, left, top, width, height }) => ({
      kind,
      left: percent(left),
      top: percent(top),
      width: percent(width),
      height: percent(height),
    })),
    reason: '',
  };
}

export function formTyped(form: FormValues): CoveringForm {
  const [kinds, ...columns] = [form.all('kind'), ...sides.map((side) => form.all(side))];
  const regions = (kinds ?? []).map((kind, row) => {
    const [left = '', top = '', width = '', height = ''] = columns.map((column) => column[row]?.trim() ?? '');
    return { kind, left, top, width, height };
  });
  return {
    id: form.text('id').toLowerCase(),
    regions: regions.filter((region) => sides.some((side) => region[side] !== '')),
    reason: form.text('reason'),
  };
}

/** What is no number is told by the rule: a part of the picture is from 0 to 100 percent. */
export function regionsOf({ regions }: CoveringForm): readonly RegionInput[] {
  const number = (text: string) =>
    /^\d{1,3}([.,]\d+)?$/.test(text) ? Number(text.replace(',', '.')) : Number.NaN;
  return regions.map(({ kind, left, top, width, height }) => ({
    kind,
    left: number(left),
    top: number(top),
    width: number(width),
    height: number(height),
  }));
}
