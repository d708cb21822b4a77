import {
  type AccountRow,
  type CoveredOriginal,
  countUnsealed,
  type DeletedOfWorkOrder,
  findAccount,
  findSealOf,
  listAcceptances,
  listCoveredOriginals,
  listCreditsOfWorkOrder,
  listDeletedOf,
  listKeySeals,
  listMissingSignatures,
  listOriginals,
  listPhotoRemarks,
  listPictureSources,
  listSealDayLeaves,
  listSealDaysFrom,
  listSealsOfWorkOrder,
  listSeenPhotoIds,
  listSigningKeys,
  type MissingSignature,
  type OriginalRow,
  type PackedDayRow,
  type PhotoRemark,
  type PictureSource,
  type ShownAcceptanceRow,
  type ShownSeal,
  type SigningKeyRow,
  type TenantTransaction,
} from '@grainwright/db';
import {
  type AccountId,
  type Day,
  ok,
  type PackReader,
  type PhotoId,
  type Result,
  refuse,
  type TenantId,
  type WorkOrderId,
} from '@grainwright/domain';
import { type Actor, perform, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { loadWorkOrder } from '../work-orders/load-work-order.ts';
import type { WorkOrderView } from '../work-orders/work-order-view.ts';
import { type PackedRecording, recordingsToPack } from './recordings-to-pack.ts';

/** Everything on record that a pack of one work order is made of. */
export interface PackRecords extends SealedRecords {
  readonly tenantId: TenantId;
  readonly reader: PackReader;
  readonly view: WorkOrderView;
  readonly business: Scope['business'];
  readonly acceptances: readonly ShownAcceptanceRow[];
  /** Every time nobody signed, the first one first. */
  readonly missing: readonly MissingSignature[];
  readonly recordings: readonly PackedRecording[];
  /** Photos that stay with the staff: listed with their digests, and not in the pack. */
  readonly hidden: ReadonlySet<PhotoId>;
}

interface SealedRecords {
  readonly account: AccountRow;
  /** In the order of their numbers: of the work order, of credit notes for it, and those that changed the key since. */
  readonly seals: readonly ShownSeal[];
  readonly keys: readonly SigningKeyRow[];
  /** From the day of the first seal on. */
  readonly days: readonly PackedDayRow[];
  readonly leaves: ReadonlyMap<Day, readonly string[]>;
  readonly photos: readonly OriginalRow[];
  readonly covered: readonly CoveredOriginal[];
  readonly remarks: readonly PhotoRemark[];
  /** Photos and recordings that a rule has let go of. */
  readonly deleted: readonly DeletedOfWorkOrder[];
  /** The copies that may be shown to everybody. */
  readonly sources: readonly PictureSource[];
}

/**
 * Reads a pack’s records for whoever may see the work order. Refuses with `not_found`, with `wrong_state` while there is
 * nothing to prove, and with `unavailable` while something of it still waits for its seal.
 */
export async function readPackRecords(
  services: Services,
  actor: Actor,
  id: WorkOrderId,
): Promise<Result<PackRecords>> {
  const seen = await perform(services, actor, 'see_work_orders', async (scope) => {
    const view = await loadWorkOrder(scope, id);
    if (!view.ok) return view;
    return ok({
      view: view.value,
      business: scope.business,
      acceptances: await listAcceptances(scope.tx, id),
      missing: (await listMissingSignatures(scope.tx, [id])).toReversed(),
      recordings: await recordingsToPack(scope.tx, id),
      photoIds: await listSeenPhotoIds(scope.tx, id),
    });
  });
  if (!seen.ok) return seen;
  const { tenantId } = actor;
  // What an account’s own role does not read, though its pack proves it; who may have it was settled above.
  const sealed = await services.database.withTenant({ role: 'staff', tenantId }, (tx) =>
    sealedRecords(tx, id, seen.value.view.account.id),
  );
  if (!sealed.ok) return sealed;
  const reader = actor.accountId === null ? 'business' : 'account';
  const { photoIds, ...own } = seen.value;
  return ok({ tenantId, reader, ...own, ...forReader(sealed.value, reader, photoIds) });
}

/** Without what only the staff may see: other pictures than the reader’s own role sees, and the staff’s reasons. */
function forReader(
  sealed: SealedRecords,
  reader: PackReader,
  seen: ReadonlySet<PhotoId>,
): SealedRecords & Pick<PackRecords, 'hidden'> {
  if (reader === 'business') return { ...sealed, hidden: new Set() };
  const { photos, remarks, sources } = sealed;
  return {
    ...sealed,
    hidden: new Set(photos.map(({ id }) => id).filter((id) => !seen.has(id))),
    remarks: remarks
      .filter(({ photoId }) => seen.has(photoId))
      .map((remark) => ({ ...remark, reason: remark.reason === null ? null : '' })),
    sources: sources.filter(({ photoId }) => seen.has(photoId)),
  };
}

async function sealedRecords(
  tx: TenantTransaction,
  id: WorkOrderId,
  accountId: AccountId,
): Promise<Result<SealedRecords>> {
  if ((await countUnsealed(tx, id)) > 0)
    return refuse('unavailable', 'What was answered last is being sealed. Try again in a moment.');
  const own = await ownSeals(tx, id);
  const [first] = own;
  if (first === undefined)
    return refuse(
      'wrong_state',
      'Nothing of this work order was approved or accepted yet, so there is nothing to prove.',
    );
  const account = await findAccount(tx, accountId);
  if (account === null) throw new Error('a work order without its account');
  const later = (await listKeySeals(tx)).filter(({ number }) => number > first.number);
  const seals = [...own, ...later].toSorted((a, b) => a.number - b.number);
  const days = await listSealDaysFrom(tx, first.number);
  const photos = await listOriginals(tx, id);
  const ids = photos.map((photo) => photo.id);
  return ok({
    account,
    seals,
    keys: await listSigningKeys(tx),
    days,
    leaves: await listSealDayLeaves(
      tx,
      seals.map(({ sealedOn }) => sealedOn),
    ),
    photos,
    covered: ids.length === 0 ? [] : await listCoveredOriginals(tx, ids),
    remarks: ids.length === 0 ? [] : await listPhotoRemarks(tx, ids),
    deleted: await listDeletedOf(tx, id),
    sources: await listPictureSources(tx, ids),
  });
}

async function ownSeals(tx: TenantTransaction, id: WorkOrderId): Promise<readonly ShownSeal[]> {
  const credits = await listCreditsOfWorkOrder(tx, id);
  const ofCredits = await Promise.all(
    credits.map((subjectId) => findSealOf(tx, { kind: 'credit', subjectId })),
  );
  return [...(await listSealsOfWorkOrder(tx, id)), ...ofCredits.filter((seal) => seal !== null)].toSorted(
    (a, b) => a.number - b.number,
  );
}
