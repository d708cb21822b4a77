import {
  type DecisionId,
  isUuid,
  type LineId,
  type PhotoId,
  toId,
  type VersionId,
} from '@grainwright/domain';
import type { LineAnswer, WorkOrderView } from '@grainwright/operations';
import type { FormValues } from '../../plugins/forms.ts';

/** What was chosen and typed on the answer form; `answer` is null where nothing was chosen. */
export interface TypedAnswer {
  readonly lineId: LineId;
  readonly answer: LineAnswer['answer'] | null;
  readonly reason: string;
}

export interface TypedAnswers {
  /** Null when the form names no version, as when it was not our form. */
  readonly versionId: VersionId | null;
  readonly digest: string;
  readonly answers: readonly TypedAnswer[];
  /** The photos that stood on the page. */
  readonly photoIds: readonly PhotoId[];
}

/** Reads the answer form: `lines` names the lines, `answer-…` and `reason-…` belong to it. */
export function readAnswers(form: FormValues): TypedAnswers {
  const version = form.text('version_id');
  return {
    versionId: isUuid(version) ? toId<VersionId>(version) : null,
    digest: form.text('digest'),
    photoIds: form
      .text('photos')
      .split(',')
      .filter(isUuid)
      .map((photo) => toId<PhotoId>(photo)),
    answers: form
      .text('lines')
      .split(',')
      .filter(isUuid)
      .map((line) => ({
        lineId: toId<LineId>(line),
        answer: readAnswer(form.text(`answer-${line}`)),
        reason: form.text(`reason-${line}`),
      })),
  };
}

function readAnswer(text: string): TypedAnswer['answer'] {
  return text === 'approved' || text === 'declined' ? text : null;
}

/**
 * What was typed; before anything was, the ticks that somebody passed on, or a no to what was declined of an earlier
 * version, with its reason.
 */
export function answersToStartFrom(
  { increase, asking }: Pick<WorkOrderView, 'increase' | 'asking'>,
  typed: readonly TypedAnswer[],
): readonly TypedAnswer[] {
  if (typed.length > 0) return typed;
  const [passedOn] = asking.passedOn;
  if (passedOn !== undefined) return passedOn.answers;
  if (increase === null) return typed;
  return increase.declinedBefore.map((line) => ({ ...line, answer: 'declined' }));
}

/** The answers that were really given; the operation says which lines are still open. */
export function givenAnswers(typed: TypedAnswers): readonly LineAnswer[] {
  return typed.answers.flatMap(({ lineId, answer, reason }) =>
    answer === null ? [] : [{ lineId, answer, reason }],
  );
}

/** No to every line, whatever was chosen; reasons stay. */
export function allDeclined(typed: TypedAnswers): readonly LineAnswer[] {
  return typed.answers.map(({ lineId, reason }) => ({ lineId, answer: 'declined', reason }));
}

/** The decision's id as the form carries it, so that sending it twice is one decision. */
export function decisionIdIn(form: FormValues, fresh: () => string): DecisionId {
  const sent = form.text('decision_id');
  return toId<DecisionId>(isUuid(sent) ? sent : fresh());
}
