import {
  findDecision,
  findEstimate,
  findPersonName,
  findWorkOrder,
  type JoinedWorkOrder,
  listShownPhotos,
  type ShownPhotoRow,
  type StoredDecision,
  type StoredEstimate,
} from '@grainwright/db';
import {
  type AccessLinkId,
  type DecisionId,
  type Instant,
  type LineId,
  ok,
  type PhotoId,
  type Result,
  refuse,
  type WorkOrderId,
} from '@grainwright/domain';
import { type Actor, perform, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { decisionView } from '../work-orders/decision-view.ts';
import { vehicleWords } from '../work-orders/vehicle-words.ts';
import type { DecisionView } from '../work-orders/work-order-view.ts';
import { mismatchesOf } from './decision-proof.ts';
import { type FrozenEstimate, readFrozenEstimate, readSeen, type SeenRecord } from './frozen-record.ts';
import { type SentVersionView, versionsOf } from './list-versions.ts';

/** An answer with what stood before the eyes of whoever gave it, to be shown years later. */
export interface DecisionRecord {
  readonly workOrderId: WorkOrderId;
  readonly number: bigint;
  readonly vehicle: string;
  readonly accountName: string;
  readonly currency: string;
  readonly decision: DecisionView;
  /** Who of the staff wrote it down; null where nobody had to. */
  readonly recordedBy: string | null;
  /** The version that was answered: its number, when it was sent, its canonical content and the digest of that. */
  readonly version: {
    readonly number: number;
    readonly sentAt: Instant;
    readonly content: string;
    readonly digest: string;
    /** Read from the content alone; null where it can’t be read. */
    readonly frozen: FrozenEstimate | null;
    /** Why each line cost what it did, by line. */
    readonly trails: ReadonlyMap<LineId, string>;
  };
  /** The link that it came by; null where it did not. */
  readonly linkId: AccessLinkId | null;
  /** Canonical JSON as `seenContent` wrote it, and its SHA-256 digest; null for older answers and for those nobody gave. */
  readonly seen: {
    readonly content: string;
    readonly digest: string;
    /** Read from the content alone; null where it can’t be read. */
    readonly record: SeenRecord | null;
  } | null;
  /** The pictures of the work order as they stand now: ready to be looked at, covered, or gone. */
  readonly photosNow: ReadonlyMap<
    PhotoId,
    Pick<ShownPhotoRow, 'ready' | 'coveredOn' | 'deletion' | 'sha256'>
  >;
  /** What on record is not as it was when the answer was given, in sentences; none where all of it matches. */
  readonly mismatches: readonly string[];
  /** Every version of the work order. */
  readonly versions: readonly SentVersionView[];
}

/** Refuses with `not_found`; contacts read those of their account. */
export function readDecisionRecord(
  services: Services,
  actor: Actor,
  id: DecisionId,
): Promise<Result<DecisionRecord>> {
  return perform(services, actor, 'see_work_orders', async (scope) => {
    const { tx } = scope;
    const answered = await findDecision(tx, id);
    const estimate = answered === null ? null : await findEstimate(tx, answered.decision.versionId);
    const about = answered === null ? null : await findWorkOrder(tx, answered.decision.workOrderId);
    if (answered === null || estimate === null || about === null)
      return refuse('not_found', 'There is no such answer.');
    return ok(await recordOf(scope, { answered, estimate, about }));
  });
}

interface Found {
  readonly answered: StoredDecision;
  readonly estimate: StoredEstimate;
  readonly about: JoinedWorkOrder;
}

async function recordOf(scope: Scope, { answered, estimate, about }: Found): Promise<DecisionRecord> {
  const { tx } = scope;
  const { decision, lines, signature } = answered;
  const { version, content, digest, currency, madeAt } = estimate.version;
  const { workOrder, account, vehicle } = about;
  const photos = await listShownPhotos(tx, workOrder.id);
  const frozen = readFrozenEstimate(content);
  const seen = decision.seen === null ? null : readSeen(decision.seen);
  return {
    workOrderId: workOrder.id,
    number: workOrder.number,
    vehicle: vehicleWords(vehicle),
    accountName: account.name,
    currency,
    decision: decisionView(decision, lines, answered, signature),
    recordedBy: decision.recordedBy === null ? null : await findPersonName(tx, decision.recordedBy),
    version: {
      number: version,
      sentAt: madeAt,
      content,
      digest,
      frozen,
      trails: new Map(estimate.lines.map((line) => [line.lineId, line.trail])),
    },
    linkId: decision.linkId,
    seen:
      decision.seen === null || decision.seenDigest === null
        ? null
        : { content: decision.seen, digest: decision.seenDigest, record: seen },
    photosNow: new Map(
      photos.map(({ id, ready, coveredOn, deletion, sha256 }) => [
        id,
        { ready, coveredOn, deletion, sha256 },
      ]),
    ),
    mismatches: mismatchesOf({ estimate, answered, frozen, seen, photos }),
    versions: await versionsOf(scope, workOrder.id, workOrder.currentVersionId),
  };
}
