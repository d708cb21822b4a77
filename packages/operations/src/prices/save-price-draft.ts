import { listPriceDraftRates, replacePriceDraftRates, updatePriceDraft } from '@grainwright/db';
import {
  compareLists,
  type Day,
  type ListedRate,
  ok,
  type PriceDraftId,
  type Result,
  refuse,
} from '@grainwright/domain';
import { type Actor, performAsStaff, record, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { type DraftHeadInput, readDraftHead } from './draft-head.ts';
import { type ListRowInput, listRowsMax, readListRows, rowsProblem } from './list-rows.ts';
import { checkRevision, lockOpenDraft } from './open-draft.ts';

export interface SavePriceDraftInput extends DraftHeadInput {
  readonly draftId: PriceDraftId;
  /** Of the list that was shown. */
  readonly revision: number;
  /** The whole list: what isn't in it ends on the day before the list counts. */
  readonly rates: readonly ListRowInput[];
}

/**
 * Puts name, day and rows in the place of what the draft had, all or none. All that is wrong with any row is said at
 * once, in `errors` by `rates.<index>.<column>`. Refuses with `shown_changed` when somebody else saved meanwhile;
 * sending again what stands there changes nothing.
 */
export function savePriceDraft(
  services: Services,
  actor: Actor,
  input: SavePriceDraftInput,
): Promise<Result<{ revision: number }>> {
  return performAsStaff(services, actor, 'change_price_book', async (scope) => {
    const { business, today } = scope;
    if (input.rates.length > listRowsMax)
      return refuse(
        'invalid_input',
        `A list has at most ${listRowsMax} rows; this has ${input.rates.length}.`,
        'rates',
      );
    const head = readDraftHead(input, today);
    const placed = input.rates.map((row, index) => ({
      place: `rates.${index}`,
      words: row.code.trim() === '' ? `Row ${index + 1}` : row.code.trim().slice(0, 40),
      row,
    }));
    const { rows, problems } = readListRows(placed, business.currency);
    const wrongHead = Object.values(head).flatMap((field) =>
      field.ok ? [] : [{ field: field.problem.field ?? 'name', detail: field.problem.detail }],
    );
    if (!head.name.ok || !head.countsFrom.ok || problems.length > 0)
      return { ok: false, problem: rowsProblem([...wrongHead, ...problems]) };
    const to = { name: head.name.value, countsFrom: head.countsFrom.value, rates: rows };
    return replaceDraft(scope, input, to);
  });
}

interface NewContent {
  readonly name?: string;
  readonly countsFrom?: Day;
  readonly rates: readonly ListedRate[];
}

/** Saves what was read, unless somebody else saved meanwhile; nothing is written where nothing changes. */
export async function replaceDraft(
  scope: Scope,
  { draftId: id, revision }: Pick<SavePriceDraftInput, 'draftId' | 'revision'>,
  { rates, ...head }: NewContent,
): Promise<Result<{ revision: number }>> {
  const { tx } = scope;
  const draft = await lockOpenDraft(scope, id);
  if (!draft.ok) return draft;
  const { name = draft.value.name, countsFrom = draft.value.countsFrom } = head;
  const change = compareLists(await listPriceDraftRates(tx, id), rates);
  const rowsChanged = change.changed.length + change.added.length + change.ended.length;
  if (rowsChanged === 0 && name === draft.value.name && countsFrom === draft.value.countsFrom)
    return ok({ revision: draft.value.revision });
  const seen = checkRevision(draft.value, revision);
  if (!seen.ok) return seen;
  if (rowsChanged > 0) await replacePriceDraftRates(tx, id, rates);
  const next = draft.value.revision + 1;
  await updatePriceDraft(tx, id, { name, countsFrom, revision: next });
  const detail = {
    name,
    counts_from: countsFrom,
    changed: change.changed.map(({ after }) => after.code),
    added: change.added.map(({ code }) => code),
    left_out: change.ended.map(({ code }) => code),
  };
  await record(scope, 'price_draft_saved', { kind: 'price_draft', id }, detail);
  return ok({ revision: next });
}
