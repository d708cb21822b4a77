import type { Day } from '../dates.ts';
import type { DelegationId, PersonId } from '../ids.ts';
import type { ContactRole } from './permissions.ts';

/** Answering for an approver who is away, as it counts at a moment. */
export interface Delegated {
  readonly id: DelegationId;
  readonly forPersonId: PersonId;
  readonly forName: string;
  /** What the other may approve now, or less where less was named; null: any amount. */
  readonly limitMinor: bigint | null;
  /** The last day. */
  readonly through: Day;
}

/** Somebody of an account, with whoever they answer for at the moment. */
export interface Answerer {
  readonly role: ContactRole;
  /** Of an approver; null: any amount. */
  readonly limitMinor: bigint | null;
  readonly delegated: readonly Delegated[];
}

/** By which right somebody answers. */
export interface AnswerRight {
  /** Null: any amount. */
  readonly limitMinor: bigint | null;
  /** Null: it is their own. */
  readonly delegated: Delegated | null;
}

/** What a delegate may approve: never more than whoever named them may. Null: any amount. */
export function delegatedLimit(ownMinor: bigint | null, namedMinor: bigint | null): bigint | null {
  if (ownMinor === null) return namedMinor;
  return namedMinor === null || ownMinor < namedMinor ? ownMinor : namedMinor;
}

/**
 * The right by which somebody answers for an amount: their own where it covers it, else the first that covers it of
 * those they answer for. Where none does, the one that goes furthest; null where they may not answer at all. What they
 * answer for somebody else they can't hand on: a delegate's limit comes from the other's own, never from another
 * delegation.
 */
export function answerRight(answerer: Answerer, comparedMinor: bigint): AnswerRight | null {
  const rights = rightsOf(answerer);
  return (
    rights.find(({ limitMinor }) => limitMinor === null || comparedMinor <= limitMinor) ?? furthest(rights)
  );
}

/** The right that goes furthest; null where they may not answer at all. */
export function furthestRight(answerer: Answerer): AnswerRight | null {
  return furthest(rightsOf(answerer));
}

function rightsOf({ role, limitMinor, delegated }: Answerer): readonly AnswerRight[] {
  return [
    ...(role === 'approver' ? [{ limitMinor, delegated: null }] : []),
    ...delegated.map((each) => ({ limitMinor: each.limitMinor, delegated: each })),
  ];
}

function furthest(rights: readonly AnswerRight[]): AnswerRight | null {
  return rights.reduce<AnswerRight | null>(
    (most, each) => (most === null || goesFurther(each, most) ? each : most),
    null,
  );
}

function goesFurther(a: AnswerRight, b: AnswerRight): boolean {
  if (b.limitMinor === null) return false;
  return a.limitMinor === null || a.limitMinor > b.limitMinor;
}
