import {
  type AskableApproverRow,
  type JoinedWorkOrder,
  listApprovalAsks,
  listAskableApprovers,
  listPassedOn,
  type ShownAskRow,
} from '@grainwright/db';
import { displayMoney, nextWhoMay, whoIsAsked } from '@grainwright/domain';
import type { Scope } from '../perform.ts';
import { type PassedOnView, passedOnView } from './passed-on-view.ts';

export type AskView = ShownAskRow;

/** Who was asked about a work order, and what came of it besides an answer. */
export interface AskingView {
  /** Of every version, oldest first. */
  readonly asks: readonly AskView[];
  /** Of the version that stands, the latest first. */
  readonly passedOn: readonly PassedOnView[];
  /** While it waits for an answer that no mail can bring: why, and what to do; else null. */
  readonly nobody: string | null;
  /** Whom the staff may ask again: those of the account who may approve and can be mailed. */
  readonly askable: readonly AskableApproverRow[];
}

interface Priced {
  readonly currency: string;
  /** Repairs, after-hours and rush, of the estimate that stands; null without one. */
  readonly comparedMinor: bigint | null;
}

export async function loadAsking(
  { tx, today }: Pick<Scope, 'tx' | 'today'>,
  { workOrder, account }: JoinedWorkOrder,
  { currency, comparedMinor }: Priced,
): Promise<AskingView> {
  const { id, state, currentVersionId } = workOrder;
  const waits = state === 'awaiting_approval' && currentVersionId !== null;
  const approvers = waits ? await listAskableApprovers(tx, account.id, today) : [];
  const passedOn = currentVersionId === null ? [] : await listPassedOn(tx, currentVersionId);
  return {
    asks: await listApprovalAsks(tx, id),
    passedOn: passedOn.map((row) => passedOnView(row, currency)),
    nobody: waits ? nobodyWords(approvers, account.name, { currency, comparedMinor }) : null,
    askable: approvers.filter(({ hasEmail }) => hasEmail),
  };
}

function nobodyWords(
  approvers: readonly AskableApproverRow[],
  account: string,
  { currency, comparedMinor }: Priced,
): string | null {
  if (approvers.length === 0)
    return `Nobody of ${account} can be mailed: it has no approver. Add one to the account, or write an answer down here.`;
  const { first, above } = whoIsAsked(approvers, comparedMinor ?? 0n);
  if (first === null)
    return `Nobody of ${account} can be mailed: no approver has an e-mail address. Write one on the account, or write an answer down here.`;
  if (comparedMinor === null || above !== null) return null;
  if (nextWhoMay(approvers, comparedMinor, '') !== null) return null;
  return `Nobody of ${account} who can be mailed may approve ${displayMoney(comparedMinor, currency)}. Lines may be declined until it is within a limit; else raise a limit on the account.`;
}
