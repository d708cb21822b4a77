import { readPriceBook } from '@grainwright/operations';
import { type Account, must } from '../support/world.ts';

/** Ids of the business's price book. They are the same for all of its accounts. */
export async function bookOf({ business }: Account) {
  const book = must(await readPriceBook(business.world.services, business.owner));
  const [rate, ratePeriod] = book.rates;
  const [terms] = book.terms;
  const [taxArea] = book.taxAreas;
  const tierTerms = book.tiers[0]?.terms[0];
  const carePercent = book.factors[0]?.percents[0];
  const taxRate = taxArea?.rates[0];
  const taxClasses = taxArea?.classes[0];
  if (!rate || !ratePeriod || !terms || !taxArea) throw new Error('the price book is empty');
  if (!tierTerms || !carePercent || !taxRate || !taxClasses) throw new Error('the price book is empty');
  return {
    rate: rate.id,
    ratePeriod: ratePeriod.id,
    terms: terms.id,
    taxArea: taxArea.id,
    tierTerms: tierTerms.id,
    carePercent: carePercent.id,
    taxRate: taxRate.id,
    taxClasses: taxClasses.id,
  };
}
