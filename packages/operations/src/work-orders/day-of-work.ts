import { findVisit } from '@grainwright/db';
import { dayWords, ok, type Result, refuse, type VisitId } from '@grainwright/domain';
import type { Scope } from '../perform.ts';

/** Nobody works on a vehicle before its day: refuses with `wrong_state`. `verb` completes “or … it then”. */
export async function checkDayOfWork(
  scope: Scope,
  visitId: VisitId,
  verb: 'start' | 'finish',
): Promise<Result<true>> {
  const visit = await findVisit(scope.tx, visitId);
  if (visit === null) throw new Error('a work order names a visit that is not there');
  if (visit.day <= scope.today) return ok(true);
  return refuse(
    'wrong_state',
    `This work is for ${dayWords(visit.day)}. ${verb.charAt(0).toUpperCase()}${verb.slice(1)} it then, or write it up anew for an earlier day.`,
  );
}
