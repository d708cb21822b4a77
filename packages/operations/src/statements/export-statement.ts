import { statementCsv } from '@grainwright/documents';
import { ok, type Result } from '@grainwright/domain';
import type { OpenedFile } from '../documents/opened-file.ts';
import { type Actor, perform } from '../perform.ts';
import type { Services } from '../services.ts';
import { openIssued } from './read-frozen-statement.ts';
import { type ReadStatementInput, readStatement } from './read-statement.ts';
import { statementFile, statementFileName } from './statement-file.ts';

/** A file to hand out: `statement-2026-08.csv`, its media type and its text. */
export interface ExportedFile {
  readonly fileName: string;
  readonly mediaType: string;
  readonly text: string;
}

/**
 * The statement as a table for a spreadsheet, with the figures of the page; refuses as `readStatement` does. Once it is
 * issued, always the same bytes.
 */
export async function exportStatement(
  services: Services,
  actor: Actor,
  input: ReadStatementInput,
): Promise<Result<ExportedFile>> {
  const read = await readStatement(services, actor, input);
  if (!read.ok) return read;
  const { account, frozen } = read.value;
  if (frozen === null)
    return ok({
      fileName: statementFileName(read.value, 'csv'),
      mediaType: 'text/csv; charset=utf-8; header=present',
      text: statementCsv({ ...read.value, accountName: account.name }),
    });
  const { statementId } = frozen;
  const file = await statementFile(services, { tenantId: actor.tenantId, statementId, kind: 'csv' });
  if (!file.ok) return file;
  const { body, ...named } = file.value;
  return ok({ ...named, text: new TextDecoder().decode(body) });
}

/** The statement as it was issued, as PDF; refuses as `readFrozenStatement` does. */
export async function openStatementPdf(
  services: Services,
  actor: Actor,
  input: ReadStatementInput,
): Promise<Result<OpenedFile>> {
  const issued = await perform(services, actor, 'see_statements', async (scope) => openIssued(scope, input));
  if (!issued.ok) return issued;
  return statementFile(services, { tenantId: actor.tenantId, statementId: issued.value.id, kind: 'pdf' });
}
