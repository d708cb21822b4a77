import { type Day, displayPercent } from '@grainwright/domain';
import type { PriceBookView } from '@grainwright/operations';
import { dayText, moneyText } from '../../../look/figures.ts';
import { type Html, html } from '../../../look/html.ts';
import { type Dated, inForce } from './dated.ts';

interface Coming {
  readonly from: Day;
  readonly what: string;
  readonly href: string;
  readonly becomes: string;
  /** What stands there until then; null where it is new. */
  readonly now: string | null;
}

/** Every change that starts after the day shown, soonest first; nothing where nothing does. */
export function coming(book: PriceBookView): Html | false {
  const all = [
    ...rates(book),
    ...tiers(book),
    ...tierPrices(book),
    ...contracts(book),
    ...factors(book),
    ...taxes(book),
  ].toSorted((a, b) => (a.from === b.from ? a.what.localeCompare(b.what) : a.from < b.from ? -1 : 1));
  return (
    all.length > 0 &&
    html`<section aria-labelledby="coming"><h2 id="coming">Coming</h2>
    <ul>${all.map(
      ({ from, what, href, becomes, now }) =>
        html`<li><a href="${href}">${what}</a> from <a href="${`/office/price-book?on=${from}`}">${dayText(from)}</a>: ${becomes}${now === null ? ', new' : `, ${now} until then`}</li>`,
    )}</ul></section>`
  );
}

/** Each period that starts after the day, with the one before it. */
function later<Row extends Dated>(
  rows: readonly Row[],
  on: Day,
): readonly { row: Row; before: Row | null }[] {
  const inOrder = rows.toSorted((a, b) => (a.validFrom < b.validFrom ? -1 : 1));
  return inOrder.flatMap((row, index) =>
    row.validFrom > on ? [{ row, before: inOrder[index - 1] ?? null }] : [],
  );
}

function rates({ rates: all, on, currency }: PriceBookView): readonly Coming[] {
  const ending = all.filter((rate) => rate.validTo !== null && rate.validTo >= on && inForce(on)(rate));
  const ofCode = Map.groupBy(all, (rate) => rate.code);
  const starts = [...ofCode].flatMap(([code, rows]) =>
    later(rows, on).map(({ row, before }) => ({
      from: row.validFrom,
      what: `${code}, ${row.repair}`,
      href: `/office/price-book/rates/${code}`,
      becomes: moneyText(row.listMinor, currency),
      now: before === null ? null : moneyText(before.listMinor, currency),
    })),
  );
  const ends = ending
    .filter((rate) => !all.some((other) => other.code === rate.code && other.validFrom > rate.validFrom))
    .flatMap((rate) =>
      rate.validTo === null
        ? []
        : [
            {
              from: rate.validTo,
              what: `${rate.code}, ${rate.repair}`,
              href: `/office/price-book/rates/${rate.code}`,
              becomes: 'its last day',
              now: moneyText(rate.listMinor, currency),
            },
          ],
    );
  return [...starts, ...ends];
}

function tiers({ tiers: all, on }: PriceBookView): readonly Coming[] {
  return all.flatMap((tier) =>
    later(tier.terms, on).map(({ row, before }) => ({
      from: row.validFrom,
      what: `Tier ${tier.name}`,
      href: `/office/price-book/tiers/${tier.code}`,
      becomes: `${displayPercent(row.discountPercent)} off list`,
      now: before === null ? null : displayPercent(before.discountPercent),
    })),
  );
}

function tierPrices({ tierPrices: all, tiers: known, on, currency }: PriceBookView): readonly Coming[] {
  const ofTierAndCode = Map.groupBy(all, ({ tierCode, code }) => `${tierCode} ${code}`);
  return [...ofTierAndCode.values()].flatMap((rows) =>
    later(rows, on).map(({ row }) => ({
      from: row.validFrom,
      what: `${known.find((tier) => tier.code === row.tierCode)?.name ?? row.tierCode} price for ${row.code}`,
      href: `/office/price-book/tiers/${row.tierCode}`,
      becomes: moneyText(row.priceMinor, currency),
      now: null,
    })),
  );
}

function contracts({ contracts: all, on }: PriceBookView): readonly Coming[] {
  return later(all, on).map(({ row }) => ({
    from: row.validFrom,
    what: `Contract “${row.name}” with ${row.accountName}`,
    href: `/office/accounts/${row.accountId}`,
    becomes: `${displayPercent(row.discountPercent)} off list`,
    now: null,
  }));
}

function factors({ factors: all, on }: PriceBookView): readonly Coming[] {
  return all.flatMap((factor) =>
    later(factor.percents, on).map(({ row, before }) => ({
      from: row.validFrom,
      what: `Factor ${factor.name}`,
      href: `/office/price-book/care-factors/${factor.code}`,
      becomes: displayPercent(row.percent),
      now: before === null ? null : displayPercent(before.percent),
    })),
  );
}

function taxes({ taxAreas, on }: PriceBookView): readonly Coming[] {
  return taxAreas.flatMap((area) => {
    const href = `/office/price-book/tax-areas/${encodeURIComponent(area.code)}`;
    const parts = [...Map.groupBy(area.rates, (rate) => rate.component)].flatMap(([component, rows]) =>
      later(rows, on).map(({ row, before }) => ({
        from: row.validFrom,
        what: `Tax ${area.code}, ${component}`,
        href,
        becomes: displayPercent(row.ratePercent),
        now: before === null ? null : displayPercent(before.ratePercent),
      })),
    );
    const words = (taxable: readonly string[]) => (taxable.length === 0 ? 'nothing' : taxable.join(', '));
    const classes = later(area.classes, on).map(({ row, before }) => ({
      from: row.validFrom,
      what: `Tax ${area.code}, what is taxed`,
      href,
      becomes: words(row.taxable),
      now: before === null ? null : words(before.taxable),
    }));
    return [...parts, ...classes];
  });
}
