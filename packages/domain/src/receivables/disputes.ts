/** Why a part of an invoice is not paid, with its name on pages. */
export const disputeReasons = {
  disputed: 'not agreed with',
  discount_taken: 'discount taken',
  error: 'error on the invoice',
  unknown: 'no reason given',
} as const satisfies Record<string, string>;
export type DisputeReason = keyof typeof disputeReasons;

/** What the business said to it: the amount stands, or it was credited. */
export const disputeAnswers = {
  upheld: 'the amount stands',
  credited: 'credited',
} as const satisfies Record<string, string>;
export type DisputeAnswer = keyof typeof disputeAnswers;
