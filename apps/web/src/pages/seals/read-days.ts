import { type Actor, listSealDays, type Services } from '@grainwright/operations';
import { problemsOf } from '../form-problems.ts';
import { queryText } from '../query-text.ts';
import type { DaysAsked } from './seal-tables.ts';

/** As a page's address asks for them. */
export interface DaysQuery {
  readonly from?: string;
  readonly to?: string;
}

/** Sealed days for a page, with what was asked for as it was typed. */
export async function readDays(services: Services, actor: Actor, query: DaysQuery): Promise<DaysAsked> {
  const [from, to] = [queryText(query.from) ?? '', queryText(query.to) ?? ''];
  const listed = await listSealDays(services, actor, { from, to });
  return {
    from: listed.ok ? listed.value.from : from,
    to: listed.ok ? listed.value.to : to,
    view: listed.ok ? listed.value : null,
    problems: problemsOf(listed.ok ? null : listed.problem, ['from', 'to']),
  };
}
