/** What decides who of an account is asked for an answer, and in which order. */
export interface AskableApprover {
  readonly personId: string;
  /** How much they may approve for one vehicle, before trip and tax; null: any amount. */
  readonly limitMinor: bigint | null;
  /** From 1; whoever has the lowest is asked first. */
  readonly askPosition: number;
  /** Without an e-mail address nobody can be asked. */
  readonly hasEmail: boolean;
}

/** Who is asked, and who in addition because the first may not approve as much. */
export interface Asked<Approver> {
  /** Null: nobody of the account can be mailed. */
  readonly first: Approver | null;
  /** Null where the first may approve it, or nobody may. */
  readonly above: Approver | null;
}

/** The first in the account's order; above their limit the next whose limit covers the amount as well. */
export function whoIsAsked<Approver extends AskableApprover>(
  approvers: readonly Approver[],
  comparedMinor: bigint,
): Asked<Approver> {
  const [first] = inOrder(approvers.filter(({ hasEmail }) => hasEmail));
  if (first === undefined) return { first: null, above: null };
  const above = covers(first, comparedMinor) ? null : nextWhoMay(approvers, comparedMinor, first.personId);
  return { first, above };
}

/**
 * Who may approve the amount, besides this person, and can be mailed: by the account's order, those without any limit
 * after those whose limit is high enough. Null: nobody.
 */
export function nextWhoMay<Approver extends AskableApprover>(
  approvers: readonly Approver[],
  comparedMinor: bigint,
  besides: string,
): Approver | null {
  const may = inOrder(approvers).filter(
    (each) => each.hasEmail && each.personId !== besides && covers(each, comparedMinor),
  );
  return may.find(({ limitMinor }) => limitMinor !== null) ?? may[0] ?? null;
}

function covers({ limitMinor }: AskableApprover, comparedMinor: bigint): boolean {
  return limitMinor === null || comparedMinor <= limitMinor;
}

function inOrder<Approver extends AskableApprover>(approvers: readonly Approver[]): readonly Approver[] {
  return approvers.toSorted(
    (a, b) =>
      a.askPosition - b.askPosition || (a.personId < b.personId ? -1 : a.personId > b.personId ? 1 : 0),
  );
}
