import type { ShownPassedOnRow } from '@grainwright/db';
import {
  displayMoney,
  type Instant,
  isUuid,
  type JsonValue,
  type LineId,
  type PassedOnId,
  type PersonId,
  toId,
  type VersionId,
} from '@grainwright/domain';
import type { LineAnswer } from '../work-orders/estimate-version.ts';

/** Answers that came to more than somebody’s limit, passed on to whoever may give them. */
export interface PassedOnView {
  readonly id: PassedOnId;
  readonly versionId: VersionId;
  readonly passedBy: { readonly id: PersonId; readonly name: string };
  /** Null: nobody of the account who can be mailed may approve as much. */
  readonly passedTo: { readonly id: PersonId; readonly name: string } | null;
  readonly passedAt: Instant;
  readonly answers: readonly LineAnswer[];
  readonly currency: string;
  readonly comparedMinor: bigint;
  readonly totalMinor: bigint;
  readonly limitMinor: bigint;
}

export function passedOnView(row: ShownPassedOnRow, currency: string): PassedOnView {
  const { id, versionId, passedAt, comparedMinor, totalMinor, limitMinor, passedTo, passedToName } = row;
  return {
    id,
    versionId,
    passedBy: { id: row.passedBy, name: row.passedByName },
    passedTo: passedTo === null || passedToName === null ? null : { id: passedTo, name: passedToName },
    passedAt,
    answers: readAnswers(row.answers),
    currency,
    comparedMinor,
    totalMinor,
    limitMinor,
  };
}

/** What happened, to whoever passed it on: “This comes to $608.21, above your limit of $400.00. Aldous Merrin …”. */
export function passedOnWords({
  comparedMinor,
  limitMinor,
  currency,
  passedTo,
}: Pick<PassedOnView, 'comparedMinor' | 'limitMinor' | 'currency' | 'passedTo'>): string {
  const amount = (minor: bigint) => displayMoney(minor, currency);
  const above = `This comes to ${amount(comparedMinor)} before trip and tax, above your limit of ${amount(limitMinor)}.`;
  return passedTo === null
    ? `${above} Nobody else of the account may approve as much. Who asked you sees your ticks, and will get in touch.`
    : `${above} ${passedTo.name} was asked by e-mail, with your ticks.`;
}

function readAnswers(stored: JsonValue): readonly LineAnswer[] {
  if (!Array.isArray(stored)) return [];
  return stored.flatMap((each: JsonValue) => {
    if (each === null || typeof each !== 'object' || Array.isArray(each)) return [];
    const { line_id: line, answer, reason } = each as Readonly<Record<string, JsonValue>>;
    const isAnswer = answer === 'approved' || answer === 'declined';
    if (typeof line !== 'string' || !isUuid(line) || !isAnswer || typeof reason !== 'string') return [];
    return [{ lineId: toId<LineId>(line), answer, reason }];
  });
}
