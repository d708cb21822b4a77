import type { LineId, VersionId, WorkOrderId } from '@grainwright/domain';
import {
  addContact,
  addLine,
  type LineAnswer,
  type LineInput,
  readWorkOrder,
  type SignedInActor,
  type WriteUpInput,
} from '@grainwright/operations';
import { type Account, actorFor, must } from './world.ts';
import { aLine, photoRow, sent, writtenUp } from './write-ups.ts';

/** An estimate that waits for an answer, as its approver sees it. */
export interface AskedEstimate {
  readonly workOrderId: WorkOrderId;
  readonly versionId: VersionId;
  readonly digest: string;
  /** In the order written. */
  readonly lineIds: readonly LineId[];
}

/** Writes a vehicle up with these lines, each photographed before, and sends it for approval. */
export async function askedEstimate(
  account: Account,
  lines: readonly Partial<LineInput>[],
  written: Partial<WriteUpInput> = {},
): Promise<AskedEstimate> {
  const { world, technician } = account.business;
  const workOrderId = await writtenUp(account, written);
  const lineIds: LineId[] = [];
  for (const line of lines) {
    const lineId = world.newId<LineId>();
    must(await addLine(world.services, technician, { lineId, workOrderId, line: aLine(line) }));
    await photoRow(account, { workOrderId, lineId, purpose: 'before' });
    lineIds.push(lineId);
  }
  const versionId = await sent(account, workOrderId);
  const { estimate } = must(await readWorkOrder(world.services, technician, workOrderId));
  return { workOrderId, versionId, digest: estimate?.digest ?? '', lineIds };
}

/** Yes to every line but the declined ones, given by their places from 0, each with its reason. */
export function answersTo(
  asked: AskedEstimate,
  declined: Readonly<Record<number, string>> = {},
): readonly LineAnswer[] {
  return asked.lineIds.map((lineId, index) => {
    const reason = declined[index];
    return reason === undefined
      ? { lineId, answer: 'approved', reason: '' }
      : { lineId, answer: 'declined', reason };
  });
}

/** One more approver of the account, who can sign in too. */
export async function anotherApprover(
  account: Account,
  person: { name: string; email: string; limit: string | null },
): Promise<SignedInActor> {
  const { world, tenantId, office, password } = account.business;
  const actor = actorFor(world, tenantId, account.id);
  const login = { userId: actor.userId, membershipId: actor.id, password };
  const contact = {
    accountId: account.id,
    personId: actor.personId,
    phone: '',
    role: 'approver' as const,
    ...person,
    login,
  };
  must(await addContact(world.services, office, contact));
  return actor;
}
