import {
  type FoundDispute,
  findCreditNote,
  findDispute,
  findDisputeAnsweredBy,
  insertDisputeAnswer,
  lockDisputesOf,
} from '@grainwright/db';
import {
  type CreditNoteId,
  type DisputeAnswer,
  type DisputeId,
  dayWords,
  disputeAnswers,
  ok,
  type Result,
  refuse,
} from '@grainwright/domain';
import { type Actor, performAsStaff, record, type Scope } from '../perform.ts';
import { readOptionalWords, readWords } from '../read-input.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';
import { type DisputeView, disputeView } from './dispute-view.ts';

export interface AnswerDisputeInput {
  readonly disputeId: DisputeId;
  readonly answer: string;
  /** The credit note on the same invoice that answers it; where it was credited. */
  readonly creditNoteId: CreditNoteId | null;
  /** Why it stands; may be empty where it was credited. */
  readonly note: string;
}

interface WantedAnswer {
  readonly answer: DisputeAnswer;
  readonly creditNoteId: CreditNoteId | null;
  readonly note: string;
}

/**
 * Answers a dispute, once and today: the amount stands, and why, or a credit note takes it off. Answering the same again
 * changes nothing. Refuses with `already_decided`, `invalid_input`, and `wrong_state` once its invoice is void.
 */
export function answerDispute(
  services: Services,
  actor: Actor,
  input: AnswerDisputeInput,
): Promise<Result<DisputeView>> {
  return performAsStaff(services, actor, 'issue_credit_note', async (scope) => {
    const { tx } = scope;
    const first = await findDispute(tx, input.disputeId);
    if (first === null) return refuse('not_found', 'There is no such dispute.');
    await lockDisputesOf(tx, first.invoiceId);
    const wanted = await readAnswer(scope, first, input);
    if (!wanted.ok) return wanted;
    const before = (await findDispute(tx, first.id))?.answer ?? null;
    if (before !== null)
      return sameContent(before, { ...wanted.value })
        ? readDisputeOf(scope, first.id)
        : refuse('already_decided', `It was answered on ${dayWords(before.answeredOn)}. That answer stands.`);
    if (first.voidedOn !== null)
      return refuse(
        'wrong_state',
        `${first.invoiceNumber} was voided on ${dayWords(first.voidedOn)}, so nothing of it is in dispute.`,
      );
    const by = { answeredOn: scope.today, answeredBy: scope.actor.personId, answeredAt: scope.now };
    if (!(await insertDisputeAnswer(tx, { disputeId: first.id, ...wanted.value, ...by })))
      throw new Error('a dispute was answered under its lock');
    const { answer, note } = wanted.value;
    const detail = { number: first.invoiceNumber, answer, note };
    await record(scope, 'dispute_answered', { kind: 'invoice', id: first.invoiceId }, detail);
    return readDisputeOf(scope, first.id);
  });
}

async function readAnswer(
  { tx }: Scope,
  dispute: FoundDispute,
  input: AnswerDisputeInput,
): Promise<Result<WantedAnswer>> {
  const answer = Object.keys(disputeAnswers).find((each): each is DisputeAnswer => each === input.answer);
  if (answer === undefined)
    return refuse('invalid_input', 'Say whether the amount stands or was credited.', 'answer');
  if (answer === 'upheld') {
    const note = readWords(input.note, 'note', 'why the amount stands', 2000);
    return note.ok ? ok({ answer, creditNoteId: null, note: note.value }) : note;
  }
  const note = readOptionalWords(input.note, 'note', 'the note', 2000);
  if (!note.ok) return note;
  const credit = input.creditNoteId === null ? null : await findCreditNote(tx, input.creditNoteId);
  if (credit === null || credit.invoiceId !== dispute.invoiceId)
    return refuse(
      'invalid_input',
      `Choose the credit note on ${dispute.invoiceNumber} that answers it, or issue one first.`,
      'credit_note_id',
    );
  if (credit.issuedOn < dispute.openedOn)
    return refuse(
      'invalid_input',
      `${credit.number} was issued before the dispute was opened on ${dayWords(dispute.openedOn)}. Choose one issued since, or issue one first.`,
      'credit_note_id',
    );
  const answered = await findDisputeAnsweredBy(tx, credit.id);
  if (answered !== null && answered !== dispute.id)
    return refuse(
      'invalid_input',
      `${credit.number} answers another dispute already. Choose another credit note, or issue one first.`,
      'credit_note_id',
    );
  return ok({ answer, creditNoteId: credit.id, note: note.value });
}

async function readDisputeOf(scope: Scope, id: DisputeId): Promise<Result<DisputeView>> {
  const found = await findDispute(scope.tx, id);
  if (found === null) throw new Error('a dispute that was just there is gone');
  return ok(disputeView(scope, found));
}
