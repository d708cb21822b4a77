import type { FoundHandedIn } from '@grainwright/db';
import type { AccountId, Day, HandedInId, Instant } from '@grainwright/domain';

/** A certificate that somebody of an account handed in. It counts only once it is confirmed. */
export interface HandedInView {
  readonly id: HandedInId;
  readonly accountId: AccountId;
  readonly accountName: string;
  readonly kind: 'resale' | 'exempt_use';
  readonly number: string;
  readonly validFrom: Day;
  /** Null: it has no end. */
  readonly validTo: Day | null;
  readonly handedInBy: string;
  readonly handedInAt: Instant;
  readonly standing: 'to_check' | 'confirmed' | 'not_taken';
  /** Null while nobody has looked at it. */
  readonly check: {
    readonly by: string;
    readonly at: Instant;
    /** Why it was not taken, and what to do; empty where it was. */
    readonly reason: string;
  } | null;
}

export function handedInView(found: FoundHandedIn): HandedInView {
  const { id, accountId, accountName, kind, number, validFrom, validTo, check } = found;
  return {
    id,
    accountId,
    accountName,
    kind,
    number,
    validFrom,
    validTo,
    handedInBy: found.handedInByName,
    handedInAt: found.handedInAt,
    standing: check === null ? 'to_check' : check.answer,
    check: check && { by: check.checkedByName, at: check.checkedAt, reason: check.reason },
  };
}
