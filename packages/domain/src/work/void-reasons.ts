/** Why a work order is void, with its name on pages. A void keeps its number. */
export const voidReasons = {
  duplicate: 'written up twice',
  vehicle_not_there: 'vehicle not there',
  written_in_error: 'written in error',
  other: 'other reason',
} as const satisfies Record<string, string>;

export type VoidReason = keyof typeof voidReasons;
