import type { PriceDraftRow, RateRow } from '@grainwright/db';
import type { Day, JsonValue } from '@grainwright/domain';
import { fromStoredJson, toStoredJson } from '../stored-json.ts';
import { contentDigest } from '../work-orders/first-request.ts';

type KnownPeriod = Pick<RateRow, 'id' | 'code' | 'validTo'>;

/** What the price book holds from a day on, to be kept with a draft: by it a change behind the draft's back is noticed. */
export function draftBase(rates: readonly RateRow[], today: Day): JsonValue {
  return toStoredJson(lastingFrom(rates, today).map(({ id, code, validTo }) => ({ id, code, validTo })));
}

/** The codes that were changed, ended or added in the price book since the draft began, for its first day or later. */
export function codesMovedSince(
  { base, countsFrom }: Pick<PriceDraftRow, 'base' | 'countsFrom'>,
  rates: readonly RateRow[],
): readonly string[] {
  const then = lastingFrom(fromStoredJson<readonly KnownPeriod[]>(base), countsFrom);
  const now = lastingFrom(rates, countsFrom);
  const words = ({ id, validTo }: KnownPeriod) => `${id} ${validTo ?? ''}`;
  const [known, there] = [new Set(then.map(words)), new Set(now.map(words))];
  const moved = [
    ...then.filter((period) => !there.has(words(period))),
    ...now.filter((period) => !known.has(words(period))),
  ];
  return [...new Set(moved.map(({ code }) => code))].toSorted();
}

/** What identifies the price book from a day on, as somebody was shown it. */
export function bookDigest(rates: readonly RateRow[], from: Day): string {
  return contentDigest(
    lastingFrom(rates, from)
      .map(({ id, validTo }) => `${id} ${validTo ?? ''}`)
      .toSorted(),
  );
}

function lastingFrom<Row extends KnownPeriod>(rates: readonly Row[], day: Day): readonly Row[] {
  return rates.filter(({ validTo }) => validTo === null || validTo >= day);
}
