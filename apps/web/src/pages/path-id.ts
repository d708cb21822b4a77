import { type Id, isUuid, toId } from '@grainwright/domain';
import { ProblemError } from '../plugins/problem-error.ts';
import { notFoundDetail } from '../plugins/problems.ts';

/** The id in a page's address; what is no id is answered like a thing that does not exist. */
export function pathId<T extends Id<string>>(text: string): T {
  const lowered = text.toLowerCase();
  if (!isUuid(lowered)) throw new ProblemError({ code: 'not_found', detail: notFoundDetail });
  return toId<T>(lowered);
}
