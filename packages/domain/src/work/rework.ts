/** What came back of a repair, with its name on pages. Common practice, no published source. */
export const reworkReasons = {
  finish: 'finish',
  color: 'color',
  texture: 'texture',
  came_loose: 'came loose',
  other: 'something else',
} as const satisfies Record<string, string>;

export type ReworkReason = keyof typeof reworkReasons;
