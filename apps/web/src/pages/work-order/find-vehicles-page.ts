import { findVehicles } from '@grainwright/operations';
import type { FastifyRequest } from 'fastify';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { pageCursor } from '../page-cursor.ts';
import type { PageOptions } from '../person.ts';
import { queryText } from '../query-text.ts';
import type { VehicleTable } from './vehicle-table.ts';

export interface VehicleQuery {
  Querystring: { q?: string; below?: string };
}

/** What a page of vehicles shows for its address; a text that can’t be looked for comes back with why. */
export async function vehiclesAsked(
  request: FastifyRequest<VehicleQuery>,
  { services }: PageOptions,
): Promise<Omit<VehicleTable, 'base'>> {
  const text = queryText(request.query.q)?.trim() ?? '';
  const below = pageCursor(request.query.below);
  const found = await findVehicles(services, actorOf(request), { text, accountId: null, below });
  if (found.ok) return { list: found.value, text, problem: undefined };
  if (found.problem.field !== 'text') return { list: unwrap(found), text, problem: undefined };
  return { list: { rows: [], next: null }, text, problem: found.problem.detail };
}
