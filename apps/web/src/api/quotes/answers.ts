import { type FittedPart, formatDecimal, formatMinor } from '@grainwright/domain';
import type { LastQuoteView, QuotedView, QuotesView, QuoteView } from '@grainwright/operations';
import type { z } from 'zod';
import type { quoteAnswer, replacementAnswer } from './quote-schemas.ts';
import type { quotesAnswer } from './schemas.ts';

export function answerQuotes(view: QuotesView): z.infer<typeof quotesAnswer> {
  const { workOrderId, currency, open, parts } = view;
  return {
    work_order_id: workOrderId,
    currency,
    open,
    ...answerQuoted(view, currency),
    parts: parts.map(({ placed, words, quote, last }) => ({
      part: placed.part,
      side: placed.side,
      words,
      quote_id: quote?.id ?? null,
      last: last && answerLast(last, currency),
    })),
  };
}

/** As it stands on a work order and on its quotes. */
export function answerQuoted(
  { quotes, replacement }: QuotedView,
  currency: string,
): { quotes: z.infer<typeof quoteAnswer>[]; replacement: z.infer<typeof replacementAnswer> } {
  return {
    quotes: quotes.map((quote) => answerQuote(quote, currency)),
    replacement: replacement && {
      amount: formatMinor(replacement.minor, currency),
      note: replacement.note,
      unquoted: [...replacement.unquoted],
    },
  };
}

function answerQuote(quote: QuoteView, currency: string): z.infer<typeof quoteAnswer> {
  const { id, placed, words, takenFrom } = quote;
  return {
    id,
    part: placed?.part ?? null,
    side: placed?.side ?? null,
    words,
    ...answerAmounts(quote, currency),
    note: quote.note,
    origin: quote.origin,
    taken_from: takenFrom && {
      work_order_id: takenFrom.workOrderId,
      number: takenFrom.number.toString(),
      given_at: takenFrom.givenAt,
    },
    given_at: quote.givenAt,
    counts: quote.counts,
  };
}

function answerLast(last: LastQuoteView, currency: string) {
  const { id, placed, note, givenAt, workOrderId, number, modelYear } = last;
  return {
    id,
    side: placed?.side ?? null,
    ...answerAmounts(last, currency),
    note,
    given_at: givenAt,
    work_order_id: workOrderId,
    number: number.toString(),
    model_year: modelYear,
  };
}

function answerAmounts(
  { amountMinor, fitted }: { readonly amountMinor: bigint; readonly fitted: FittedPart | null },
  currency: string,
) {
  return {
    amount: formatMinor(amountMinor, currency),
    part_price: fitted && formatMinor(fitted.partMinor, currency),
    fitting_hours: fitted && formatDecimal(fitted.hours),
    hourly_rate: fitted && formatMinor(fitted.hourlyMinor, currency),
  };
}
