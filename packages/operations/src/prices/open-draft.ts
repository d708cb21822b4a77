import {
  findPriceDraft,
  listPriceDraftRates,
  listRateRows,
  lockPriceDraft,
  type NamedPriceDraft,
  type PriceDraftRow,
  type RateRow,
} from '@grainwright/db';
import {
  compareLists,
  contains,
  type Day,
  dayWords,
  inListOrder,
  type ListChange,
  type ListedRate,
  ok,
  type PriceDraftId,
  type Result,
  refuse,
  type SizeGap,
  sizeGapsIn,
} from '@grainwright/domain';
import type { Scope } from '../perform.ts';
import { bookDigest, codesMovedSince } from './draft-base.ts';
import { fitAmong, periodOf } from './overlap.ts';

/** A draft price list with what it would change. Amounts are minor units of `currency`. */
export interface PriceDraftView extends Omit<NamedPriceDraft, 'base'> {
  readonly currency: string;
  readonly today: Day;
  readonly timeZone: string;
  /** By family, the smallest size first. */
  readonly rates: readonly ListedRate[];
  /** The list that is in force on the day it counts from, as it stands now; once it is published, this list itself. */
  readonly inForce: readonly RateRow[];
  readonly change: ListChange<RateRow>;
  readonly gaps: readonly SizeGap[];
  /** Codes that somebody changed in the price book since the draft began; empty once it is ended. */
  readonly moved: readonly string[];
  /** The price book as it was read, for `acceptPriceBookChanges`. */
  readonly book: string;
  /** New codes that the price book would not take back, because they counted before or are to count later. */
  readonly notTaken: readonly { readonly code: string; readonly detail: string }[];
}

/** Refuses with `not_found`. */
export async function loadPriceDraft(scope: Scope, id: PriceDraftId): Promise<Result<PriceDraftView>> {
  const { tx, business, today } = scope;
  const draft = await findPriceDraft(tx, id);
  if (draft === null) return refuse('not_found', noSuchDraft);
  const rates = inListOrder((await listPriceDraftRates(tx, id)).map(asListed));
  const book = await listRateRows(tx);
  const inForce = inListOrder(ratesOn(book, draft.countsFrom));
  const { base: _base, ...shown } = draft;
  const change = compareLists(inForce, rates);
  return ok({
    ...shown,
    currency: business.currency,
    today,
    timeZone: business.timeZone,
    rates,
    inForce,
    change,
    gaps: sizeGapsIn(rates),
    moved: draft.state === 'open' ? codesMovedSince(draft, book) : [],
    book: bookDigest(book, draft.countsFrom),
    notTaken: draft.state === 'open' ? notTakenBack(change.added, book, draft.countsFrom) : [],
  });
}

/** A code counts without a gap, so one that ended earlier can't begin again. */
function notTakenBack(
  added: readonly ListedRate[],
  book: readonly RateRow[],
  countsFrom: Day,
): PriceDraftView['notTaken'] {
  return added.flatMap(({ code }) => {
    const periods = book.filter((rate) => rate.code === code).map(periodOf);
    const given = { from: countsFrom, to: null };
    const fits = fitAmong({ what: code, another: 'a rate' }, given, periods, 'refused');
    return fits.ok ? [] : [{ code, detail: fits.problem.detail }];
  });
}

export function ratesOn(rates: readonly RateRow[], on: Day): readonly RateRow[] {
  return rates.filter(({ validFrom, validTo }) => contains({ from: validFrom, to: validTo }, on));
}

/** A row as the list has it, without whose it is and when it counts. */
export function asListed(row: ListedRate): ListedRate {
  const { code, repair, family, overInches, toInches, part, material, listMinor, materialsPercent } = row;
  const { takesFurtherRepair, repairsDamage } = row;
  return {
    code,
    repair,
    family,
    overInches,
    toInches,
    part,
    material,
    listMinor,
    materialsPercent,
    takesFurtherRepair,
    repairsDamage,
  };
}

/** The draft, kept from others, if it can still be changed: `not_found`, or `wrong_state` once it was ended. */
export async function lockOpenDraft({ tx }: Scope, id: PriceDraftId): Promise<Result<PriceDraftRow>> {
  const draft = await lockPriceDraft(tx, id);
  if (draft === null) return refuse('not_found', noSuchDraft);
  if (draft.state === 'open') return ok(draft);
  return refuse(
    'wrong_state',
    draft.state === 'published'
      ? `This list was put into force for ${dayWords(draft.countsFrom)} and stays as it is. Start another one from it.`
      : 'This list was discarded. Start another one.',
  );
}

/** Refuses with `shown_changed` what was made from an older state of the draft than it has. */
export function checkRevision(draft: PriceDraftRow, shown: number): Result<void> {
  if (draft.revision === shown) return ok(undefined);
  return refuse(
    'shown_changed',
    'Somebody else saved this list meanwhile. Look at what stands there now before you go on.',
    'revision',
  );
}

const noSuchDraft = 'There is no such price list.';
