/** What follows the price itself in a line's trail. */
const steps =
  /^priced by hand: .* → (\d[\d.]*, (?:(?:first repair|further repair|as issued) [\d.]+ %|no further-repair discount|rework without charge) → \d[\d.]*)$/s;
const priceAlone = /^priced by hand: .* → (\d[\d.]*)$/s;

/** What stands on documents where others have the code of a rate; it does not say how the price was made. */
export const unratedCode = 'OTHER';

/** A line's code as everybody may read it: earlier versions stored one that told that the price was made by hand. */
export function shownCode(stored: string): string {
  return stored === 'HAND' ? unratedCode : stored;
}

/**
 * A trail as everybody may read it. Trails of prices by hand that were stored earlier begin with the reason, which is
 * the business's own; what follows the price stays. Any other trail stays as it is.
 */
export function shownTrail(stored: string): string {
  const found = steps.exec(stored) ?? priceAlone.exec(stored);
  return found?.[1] === undefined ? stored : `price for this repair ${found[1]}`;
}
