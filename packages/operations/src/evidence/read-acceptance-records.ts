import { type AcceptanceRow, findSealOf, findWorkOrder, listAcceptanceRows } from '@grainwright/db';
import {
  type AcceptanceShown,
  type AcceptanceWording,
  type AccountId,
  type Instant,
  type JsonValue,
  ok,
  type Result,
  refuse,
  type TenantId,
  type WorkOrderId,
} from '@grainwright/domain';
import { type CopyView, readableUntil, readCopies } from '../owners/copy-view.ts';
import { type Actor, performAsStaff, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { acceptanceView } from '../work-orders/acceptance-view.ts';
import type { AcceptanceView } from '../work-orders/work-order-view.ts';
import { shownIn } from './read-signed-text.ts';

/**
 * Everything that is on record of one answer. The list of fields follows what 15 USC 7001 and UETA sections 7 to 12 make
 * a signature on a screen stand on.
 */
export interface AcceptanceRecord
  extends Pick<
    AcceptanceRow,
    | 'id'
    | 'outcome'
    | 'remark'
    | 'identifiedBy'
    | 'acceptedAt'
    | 'answeredAt'
    | 'takenBy'
    | 'linkId'
    | 'visitSignatureId'
  > {
  readonly view: AcceptanceView;
  readonly tenantId: TenantId;
  readonly account: { readonly id: AccountId; readonly name: string };
  readonly document: {
    /** SHA-256 of the canonical JSON (RFC 8785) of `shown`. */
    readonly digest: string;
    readonly format: AcceptanceShown['format'];
    /** The estimate's version whose approved lines were done. */
    readonly version: string;
    readonly shown: AcceptanceShown;
  };
  readonly signer: Pick<AcceptanceRow, 'signerName' | 'signerRole' | 'signerEmail' | 'signerPhone'>;
  /** What the answer says, as it stood above the signature. */
  readonly intent: AcceptanceWording;
  /** What was agreed to by signing on a screen; null for answers of before. */
  readonly consent: AcceptanceWording | null;
  readonly action:
    | { readonly kind: 'drawn'; readonly strokes: JsonValue; readonly picture: string | null }
    | { readonly kind: 'typed'; readonly name: string | null };
  readonly from: { readonly address: string; readonly device: string };
  /** The link of the chain of seals that holds it; null while it is being made. */
  readonly seal: {
    readonly number: number;
    readonly previous: string | null;
    readonly sha256: string;
    readonly sealedAt: Instant;
  } | null;
  readonly copies: readonly CopyView[];
  /** Until when the signer can read it again; the record itself is never deleted. */
  readonly readableUntil: Instant | null;
}

/** The answers to a work order with all that is on record of each, the first one first. Refuses with `not_found`. */
export function readAcceptanceRecords(
  services: Services,
  actor: Actor,
  workOrderId: WorkOrderId,
): Promise<Result<readonly AcceptanceRecord[]>> {
  return performAsStaff(services, actor, 'see_work_orders', async (scope) => {
    const found = await findWorkOrder(scope.tx, workOrderId);
    if (found === null) return refuse('not_found', 'There is no such work order.');
    const { id, name } = found.account;
    const records = [];
    for (const row of await listAcceptanceRows(scope.tx, workOrderId))
      records.push(await recordOf(scope, row, { id, name }));
    return ok(records);
  });
}

async function recordOf(
  { tx }: Scope,
  row: AcceptanceRow,
  account: AcceptanceRecord['account'],
): Promise<AcceptanceRecord> {
  const { id, outcome, remark, identifiedBy, acceptedAt, answeredAt, takenBy, linkId, visitSignatureId } =
    row;
  const { signerName, signerRole, signerEmail, signerPhone } = row;
  const shown = shownIn(row);
  const copies = await readCopies(tx, id);
  return {
    ...{ id, outcome, remark, identifiedBy, acceptedAt, answeredAt, takenBy, linkId, visitSignatureId },
    view: acceptanceView(row),
    tenantId: tx.tenantId,
    account,
    document: { digest: row.shownDigest, format: shown.format, version: shown.version, shown },
    signer: { signerName, signerRole, signerEmail, signerPhone },
    intent: shown.text,
    consent: shown.consent ?? null,
    action:
      row.method === 'drawn'
        ? { kind: 'drawn', strokes: row.strokes, picture: row.signatureSha256 }
        : { kind: 'typed', name: row.typedName },
    from: { address: row.fromAddress, device: row.device },
    seal: await findSealOf(tx, { kind: 'acceptance', subjectId: id }),
    copies,
    readableUntil: readableUntil(copies),
  };
}
