import type { Face } from './typefaces.ts';

/** How a line of text is set. Sizes in points; `leading` from one baseline to the next. */
export interface TextStyle {
  readonly face: Face;
  readonly size: number;
  readonly leading: number;
  readonly color: string;
}

/** The colors of the pages in light, on white paper. */
export const colors = {
  ink: '#1d1b19',
  quiet: '#6b5f55',
  thread: '#a63d17',
  rule: '#d8cfc4',
  tint: '#f2ece3',
} as const;

const body = { face: 'regular', size: 9.5, leading: 12.5, color: colors.ink } as const;
const small = { face: 'regular', size: 8, leading: 10.5, color: colors.quiet } as const;

export const styles = {
  title: { face: 'semibold', size: 22, leading: 26, color: colors.ink },
  subtitle: { face: 'regular', size: 12, leading: 16, color: colors.ink },
  seller: { face: 'semibold', size: 13, leading: 17, color: colors.ink },
  heading: { face: 'semibold', size: 12, leading: 16, color: colors.ink },
  minor: { face: 'semibold', size: 10, leading: 13, color: colors.ink },
  body,
  strong: { ...body, face: 'semibold' },
  /** Less than the body, in a line with it. */
  aside: { ...body, size: 8.5, color: colors.quiet },
  /** For what is long and is read once. */
  fine: { ...body, size: 8.5, leading: 11 },
  small,
  /** A SHA-256 in hex, on one line beside its name. */
  digest: { ...small, size: 7, leading: 9 },
  columnHeader: { ...small, face: 'semibold' },
  notice: { ...small, color: colors.thread },
  closing: { face: 'semibold', size: 13, leading: 17, color: colors.ink },
  furniture: { face: 'regular', size: 7.5, leading: 10, color: colors.quiet },
} as const satisfies Record<string, TextStyle>;
