import {
  type AcceptanceCopyRow,
  type GivenCopy,
  listAcceptanceCopies,
  type TenantTransaction,
} from '@grainwright/db';
import type { AcceptanceCopyId, AcceptanceId, AccessLinkId, Instant } from '@grainwright/domain';

/** Where a copy of a signed answer went, and until when it can be read again. */
export interface CopyView {
  readonly id: AcceptanceCopyId;
  readonly channel: AcceptanceCopyRow['channel'];
  /** An e-mail address or a telephone number; empty where it was shown there and then, or none was wanted. */
  readonly address: string;
  readonly givenAt: Instant;
  /** How its mail stands; null for what is no mail. */
  readonly mail: GivenCopy['mailState'];
  /** When its mail went out. */
  readonly sentAt: Instant | null;
  readonly linkId: AccessLinkId | null;
  /** Null where none was wanted, or the link was taken back. */
  readonly readableUntil: Instant | null;
}

export function copyView(given: GivenCopy): CopyView {
  const { id, channel, address, givenAt, mailState, sentAt, linkId, expiresAt, revokedAt } = given;
  return {
    id,
    channel,
    address,
    givenAt,
    mail: mailState,
    sentAt: mailState === 'sent' ? sentAt : null,
    linkId,
    readableUntil: revokedAt === null ? expiresAt : null,
  };
}

/** The copies of one answer, the first one first. Staff only. */
export async function readCopies(
  tx: TenantTransaction,
  acceptanceId: AcceptanceId,
): Promise<readonly CopyView[]> {
  return (await listAcceptanceCopies(tx, [acceptanceId])).map(copyView);
}

/** Until when the signer can read what they signed again; null where they have no copy that opens. */
export function readableUntil(copies: readonly CopyView[]): Instant | null {
  const until = copies.flatMap((copy) => copy.readableUntil ?? []);
  return until.toSorted().at(-1) ?? null;
}
