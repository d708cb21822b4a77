import type { StoredEstimate } from '@grainwright/db';
import { type EstimatePrice, type EstimateSubject, priceEstimate } from '@grainwright/domain';
import { storedRules } from '../stored-prices.ts';
import { asPricedLine } from './estimate-version.ts';

/** A version's figures again, from the version alone: the price book is not asked, and contacts never see it. */
export function priceStored(estimate: StoredEstimate, subject: EstimateSubject): EstimatePrice {
  const rules = storedRules(estimate.version.rules);
  const price = priceEstimate(estimate.lines.map(asPricedLine), rules, subject);
  if (!price.ok) throw new Error(price.problem.detail);
  return price.value;
}
