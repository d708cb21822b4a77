import { formatDecimal, formatMinor, type ListedRate, percentOf, splitLine } from '@grainwright/domain';
import {
  asWritten,
  type ListRowInput,
  type PriceDraftEntry,
  type PriceDraftView,
  type PriceTrialView,
  type TriedAccountView,
} from '@grainwright/operations';
import type { z } from 'zod';
import type {
  draftAnswer,
  draftsAnswer,
  saveDraftBody,
  trialAnswer,
  triedAccountAnswer,
} from './draft-schemas.ts';

export function answerDrafts(drafts: readonly PriceDraftEntry[]): z.input<typeof draftsAnswer> {
  return { drafts: drafts.map((draft) => ({ ...head(draft), rates: draft.rateCount })) };
}

export function answerDraft(draft: PriceDraftView): z.input<typeof draftAnswer> {
  const { currency, change } = draft;
  const listed = (rate: ListedRate) => answerListed(rate, currency);
  return {
    ...head(draft),
    currency,
    rates: draft.rates.map(listed),
    changes: {
      changed: change.changed.map(({ before, after }) => ({ before: listed(before), after: listed(after) })),
      added: change.added.map(({ code }) => code),
      ended: change.ended.map(({ code }) => code),
    },
    gaps: draft.gaps.map(({ below, above }) => ({ below: below.code, above: above.code })),
    moved: [...draft.moved],
    book: draft.book,
    not_taken: [...draft.notTaken],
  };
}

function head(draft: Omit<PriceDraftEntry, 'tenantId'>) {
  return {
    id: draft.id,
    name: draft.name,
    counts_from: draft.countsFrom,
    copied_from: draft.copiedFrom,
    state: draft.state,
    revision: draft.revision,
    started_by: draft.startedByName,
    started_at: draft.startedAt,
    ended_by: draft.endedByName,
    ended_at: draft.endedAt,
  };
}

function answerListed(rate: ListedRate, currency: string) {
  const { laborMinor, materialsMinor } = splitLine(rate.listMinor, rate.materialsPercent);
  const written = asWritten(rate, currency);
  return {
    code: written.code,
    repair: written.repair,
    family: written.family,
    over_inches: written.overInches,
    to_inches: written.toInches,
    part: written.part,
    material: written.material,
    list: written.list,
    materials_percent: written.materialsPercent,
    takes_further_repair: written.takesFurtherRepair,
    repairs_damage: written.repairsDamage,
    labor: formatMinor(laborMinor, currency),
    materials: formatMinor(materialsMinor, currency),
  };
}

export function rowsOf({ rates }: z.output<typeof saveDraftBody>): readonly ListRowInput[] {
  return rates.map((rate) => ({
    code: rate.code,
    repair: rate.repair,
    family: rate.family,
    overInches: rate.over_inches,
    toInches: rate.to_inches,
    part: rate.part,
    material: rate.material,
    list: rate.list,
    materialsPercent: rate.materials_percent,
    takesFurtherRepair: rate.takes_further_repair,
    repairsDamage: rate.repairs_damage,
  }));
}

export function answerTrial(trial: PriceTrialView): z.input<typeof trialAnswer> {
  const { currency } = trial.draft;
  return {
    from: trial.from,
    to: trial.to,
    currency,
    left_out: trial.leftOut,
    total: sums(trial.total, currency),
    accounts: trial.accounts.map((account) => ({
      account_id: account.accountId,
      name: account.name,
      ...sums(account, currency),
    })),
  };
}

export function answerTriedAccount(
  { from, to, draft: { currency } }: PriceTrialView,
  account: TriedAccountView,
): z.input<typeof triedAccountAnswer> {
  const amount = (minor: bigint) => formatMinor(minor, currency);
  return {
    from,
    to,
    currency,
    account_id: account.accountId,
    name: account.name,
    ...sums(account, currency),
    changed: account.changed.map((work) => ({
      work_order_id: work.workOrderId,
      number: work.number.toString(),
      day: work.day,
      vehicle: work.vehicle,
      repairs_before: amount(work.beforeMinor),
      repairs_after: amount(work.afterMinor),
      lines: work.lines.map((line) => ({
        line_id: line.lineId,
        label: line.label,
        before: amount(line.before.netMinor),
        before_trail: line.before.trail,
        after: amount(line.after.netMinor),
        after_trail: line.after.trail,
        by_hand: line.byHand,
      })),
    })),
  };
}

function sums(of: PriceTrialView['total'], currency: string) {
  const amount = (minor: bigint) => formatMinor(minor, currency);
  const differenceMinor = of.afterMinor - of.beforeMinor;
  const percent = percentOf(differenceMinor, of.beforeMinor);
  return {
    work_orders: of.workOrders,
    repairs_before: amount(of.beforeMinor),
    repairs_after: amount(of.afterMinor),
    difference: amount(differenceMinor),
    difference_percent: percent === null ? null : formatDecimal(percent),
    with_visits_before: amount(of.withVisitsBeforeMinor),
    with_visits_after: amount(of.withVisitsAfterMinor),
    lines_by_hand: of.byHandLines,
    work_orders_kept: of.keptWorkOrders,
  };
}
