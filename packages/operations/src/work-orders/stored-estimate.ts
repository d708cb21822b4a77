import type { StoredEstimate } from '@grainwright/db';
import {
  type EstimatePrice,
  type EstimateRules,
  type EstimateSubject,
  priceEstimate,
} from '@grainwright/domain';
import { fromStoredJson } from '../stored-json.ts';
import { asPricedLine } from './estimate-version.ts';

/** A version's figures again, from the version alone: the price book is not asked, and contacts never see it. */
export function priceStored(estimate: StoredEstimate, subject: EstimateSubject): EstimatePrice {
  const rules = fromStoredJson<EstimateRules>(estimate.version.rules);
  const price = priceEstimate(estimate.lines.map(asPricedLine), rules, subject);
  if (!price.ok) throw new Error(price.problem.detail);
  return price.value;
}
