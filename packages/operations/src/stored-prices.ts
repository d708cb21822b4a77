import type { EstimateRules, InvoiceBasis, JsonValue, VisitToBill } from '@grainwright/domain';
import { fromStoredJson } from './stored-json.ts';

/** `Part` of `Whole` may be missing in what was stored before there was such a thing. */
type Earlier<Whole, Part extends keyof Whole> = Omit<Whole, Part> & Partial<Pick<Whole, Part>>;

interface EarlierRules extends Omit<EstimateRules, 'vehicle' | 'visit' | 'tier' | 'terms'> {
  readonly vehicle: Earlier<EstimateRules['vehicle'], 'vehicleCapMinor'>;
  readonly visit: Earlier<EstimateRules['visit'], 'rush'>;
  readonly tier: Earlier<EstimateRules['tier'], 'visitMinimumMinor'>;
  readonly terms: Earlier<EstimateRules['terms'], 'rushPercent' | 'rushMinimumMinor' | 'tripZones'>;
}

/** The rules of an estimate's version. An old one knows neither rush, zones, a visit's minimum nor a cap: it has none. */
export function storedRules(stored: JsonValue): EstimateRules {
  const { vehicle, visit, tier, terms, ...others } = fromStoredJson<EarlierRules>(stored);
  return {
    ...others,
    vehicle: { vehicleCapMinor: null, ...vehicle },
    visit: { rush: false, ...visit },
    tier: { visitMinimumMinor: 0n, ...tier },
    terms: { rushPercent: { digits: 0n, scale: 0 }, rushMinimumMinor: 0n, tripZones: [], ...terms },
  };
}

interface EarlierBasis extends Omit<InvoiceBasis, 'visits'> {
  readonly visits: readonly Earlier<VisitToBill, 'rush' | 'minimum'>[];
}

/** What an invoice was computed from, or what stands of it after its credits. */
export function storedBasis(stored: JsonValue): InvoiceBasis {
  const { visits, ...others } = fromStoredJson<EarlierBasis>(stored);
  return { ...others, visits: visits.map((visit) => ({ rush: null, minimum: null, ...visit })) };
}
