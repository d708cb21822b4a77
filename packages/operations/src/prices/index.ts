/** What others may ask of prices. */
export { acceptPriceBookChanges } from './accept-price-book-changes.ts';
export { addAccountPrice } from './add-account-price.ts';
export { addCareFactor } from './add-care-factor.ts';
export { type AddContractInput, addContract } from './add-contract.ts';
export { addRates, type RateInput } from './add-rates.ts';
export { type AddTaxAreaInput, addTaxArea } from './add-tax-area.ts';
export { addTaxRate } from './add-tax-rate.ts';
export { type AddTierInput, addTier } from './add-tier.ts';
export { type AddTierPriceInput, addTierPrice } from './add-tier-price.ts';
export { changeCareFactor } from './change-care-factor.ts';
export { changeRate } from './change-rate.ts';
export { type ChangeTierInput, changeTier } from './change-tier.ts';
export { discardPriceDraft } from './discard-price-draft.ts';
export type { EndPriceDraftInput } from './end-draft.ts';
export { type EndedKind, endPrice } from './end-price.ts';
export { exportPriceDraft, exportPriceList } from './export-price-list.ts';
export { type ImportPriceDraftInput, importPriceDraft, listBytesMax } from './import-price-draft.ts';
export { asWritten, type ListRowInput } from './list-rows.ts';
export type { PriceDraftView } from './open-draft.ts';
export { publishPriceDraft } from './publish-price-draft.ts';
export {
  type AccountPriceView,
  type PriceBookView,
  type RateWithPrices,
  readPriceBook,
  type TierView,
} from './read-price-book.ts';
export {
  listDraftPriceLists,
  type PriceDraftEntry,
  type PriceDraftList,
  readPriceDraft,
} from './read-price-draft.ts';
export type { TripZoneInput } from './read-trip-zones.ts';
export { type SavePriceDraftInput, savePriceDraft } from './save-price-draft.ts';
export { type SetPriceTermsInput, setPriceTerms } from './set-price-terms.ts';
export { setTaxableClasses } from './set-taxable-classes.ts';
export { type StartPriceDraftInput, startPriceDraft } from './start-price-draft.ts';
export {
  type PriceTrialView,
  type TriedAccountView,
  type TriedWorkView,
  tryPriceDraft,
  workOrdersTriedMax,
} from './try-price-draft.ts';
