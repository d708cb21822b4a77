import { type AccountId, isUuid, type PersonId, toId, type WaitsFor } from '@grainwright/domain';
import { pageCursor } from '../page-cursor.ts';
import { isWaitsFor } from './state-words.ts';

/** What a list of work orders shows: it lives in the address, so that a list can be sent to somebody. */
export interface ListFilter {
  readonly waitsFor: WaitsFor | null;
  readonly accountId: AccountId | null;
  readonly technicianId: PersonId | null;
  readonly text: string;
  readonly below: bigint | undefined;
}

/** Reads `waits`, `account`, `technician`, `q` and `below`; what makes no sense is as if it were not there. */
export function readListFilter(query: unknown): ListFilter {
  const waits = parameter(query, 'waits');
  const account = parameter(query, 'account');
  const technician = parameter(query, 'technician');
  return {
    waitsFor: isWaitsFor(waits) ? waits : null,
    accountId: isUuid(account) ? toId<AccountId>(account) : null,
    technicianId: isUuid(technician) ? toId<PersonId>(technician) : null,
    text: parameter(query, 'q').trim(),
    below: pageCursor(parameter(query, 'below')),
  };
}

/** The address of the list with something else of it changed; a change starts at the first page. */
export function listAddress(path: string, filter: ListFilter, change: Partial<ListFilter>): string {
  const { waitsFor, accountId, technicianId, text, below } = { ...filter, below: undefined, ...change };
  const query = new URLSearchParams();
  if (waitsFor !== null) query.set('waits', waitsFor);
  if (accountId !== null) query.set('account', accountId);
  if (technicianId !== null) query.set('technician', technicianId);
  if (text !== '') query.set('q', text);
  if (below !== undefined) query.set('below', below.toString());
  const written = query.toString();
  return written === '' ? path : `${path}?${written}`;
}

function parameter(query: unknown, name: string): string {
  if (query === null || typeof query !== 'object') return '';
  const value: unknown = Reflect.get(query, name);
  return typeof value === 'string' ? value : '';
}
