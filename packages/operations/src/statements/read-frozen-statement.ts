import { findStatementOfMonth, type StatementRecord } from '@grainwright/db';
import { ok, type Result, refuse } from '@grainwright/domain';
import { type Actor, perform, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { thaw } from './frozen-content.ts';
import { openStatementMonth, type ReadStatementInput } from './read-statement.ts';
import type { StatementView } from './statement-view.ts';

/** A statement as it was issued, and the very text that its digest is of. */
export interface FrozenStatement {
  readonly view: StatementView;
  /** Canonical JSON (RFC 8785). */
  readonly content: string;
}

/** Refuses with `wrong_state` a month that was not issued. */
export function readFrozenStatement(
  services: Services,
  actor: Actor,
  input: ReadStatementInput,
): Promise<Result<FrozenStatement>> {
  return perform(services, actor, 'see_statements', async (scope) => {
    const record = await openIssued(scope, input);
    return record.ok ? ok({ view: thaw(record.value), content: record.value.content }) : record;
  });
}

/** The statement issued of an account's month, unless it is not there or not the actor's to see. */
export async function openIssued(
  scope: Pick<Scope, 'tx' | 'actor' | 'today'>,
  input: ReadStatementInput,
): Promise<Result<StatementRecord>> {
  const asked = await openStatementMonth(scope, input);
  if (!asked.ok) return asked;
  const { account, month } = asked.value;
  const issued = await findStatementOfMonth(scope.tx, account.id, month);
  if (issued !== null) return ok(issued);
  return refuse(
    'wrong_state',
    `The statement of ${month} has not been issued yet. Until it is, it can be read here and had as CSV.`,
  );
}
