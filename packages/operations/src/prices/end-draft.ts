import { lockPriceDraft, type PriceDraftRow, updatePriceDraft } from '@grainwright/db';
import { type JsonValue, ok, type PriceDraftId, type Result } from '@grainwright/domain';
import { record, type Scope } from '../perform.ts';
import { checkRevision, lockOpenDraft } from './open-draft.ts';

export interface EndPriceDraftInput {
  readonly draftId: PriceDraftId;
  /** Of the list that was shown. */
  readonly revision: number;
}

/** Null where it was ended this way already: done again it is done once. */
export async function lockToEnd(
  scope: Scope,
  { draftId, revision }: EndPriceDraftInput,
  state: 'published' | 'discarded',
): Promise<Result<PriceDraftRow | null>> {
  const there = await lockPriceDraft(scope.tx, draftId);
  if (there?.state === state) return ok(null);
  const draft = await lockOpenDraft(scope, draftId);
  if (!draft.ok) return draft;
  const seen = checkRevision(draft.value, revision);
  return seen.ok ? draft : seen;
}

interface Ending {
  readonly state: 'published' | 'discarded';
  readonly action: string;
  readonly detail: JsonValue;
}

/** Ends it for good, and records who did. */
export async function end(
  scope: Scope,
  id: PriceDraftId,
  { state, action, detail }: Ending,
): Promise<Result<{ id: PriceDraftId }>> {
  await updatePriceDraft(scope.tx, id, { state, endedBy: scope.actor.personId, endedAt: scope.now });
  await record(scope, action, { kind: 'price_draft', id }, detail);
  return ok({ id });
}
