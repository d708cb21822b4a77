import { statementCsv } from '@grainwright/documents';
import { ok, type Result } from '@grainwright/domain';
import type { Actor } from '../perform.ts';
import type { Services } from '../services.ts';
import { type ReadStatementInput, readStatement } from './read-statement.ts';

/** A file to hand out: `statement-2026-08.csv`, its media type and its text. */
export interface ExportedFile {
  readonly fileName: string;
  readonly mediaType: string;
  readonly text: string;
}

/** The statement as a table for a spreadsheet, with the figures of the page; refuses as `readStatement` does. */
export async function exportStatement(
  services: Services,
  actor: Actor,
  input: ReadStatementInput,
): Promise<Result<ExportedFile>> {
  const statement = await readStatement(services, actor, input);
  if (!statement.ok) return statement;
  const { account, month } = statement.value;
  return ok({
    fileName: `statement-${month}.csv`,
    mediaType: 'text/csv; charset=utf-8; header=present',
    text: statementCsv({ ...statement.value, accountName: account.name }),
  });
}
