import { createHash } from 'node:crypto';
import type { StatementRecord } from '@grainwright/db';
import { canonicalJson, type JsonValue, ok, type Result, refuse } from '@grainwright/domain';
import { fromStoredJson, toStoredJson } from '../stored-json.ts';
import type { StatementContent, StatementView } from './statement-view.ts';

/** Says how the content is to be read, should it ever be written in another way. */
const format = 1;

/** What is kept of a statement: canonical JSON (RFC 8785) of all it shows, and the SHA-256 of that text's UTF-8. */
export function freeze(content: StatementContent): { readonly content: string; readonly sha256: string } {
  const text = canonicalJson({ format, statement: toStoredJson(content) });
  return { content: text, sha256: sha256Of(text) };
}

/** The first ones were issued before there were seals. */
type KeptContent = Omit<StatementContent, 'sealedDay'> & Partial<Pick<StatementContent, 'sealedDay'>>;

/** The statement as it was issued. Throws when what is kept is not what was frozen. */
export function thaw(record: Pick<StatementRecord, 'id' | 'content' | 'sha256' | 'issuedAt'>): StatementView {
  const { id, content, sha256, issuedAt } = record;
  if (sha256Of(content) !== sha256) throw new Error(`the content of statement ${id} has changed`);
  const read: unknown = JSON.parse(content);
  if (!isKept(read)) throw new Error(`statement ${id} is kept in a way that is not known here`);
  const shown = fromStoredJson<KeptContent>(read.statement);
  return { sealedDay: null, ...shown, frozen: { statementId: id, digest: sha256, issuedAt } };
}

/** Whether a statement's content still has its digest; for the check of the books. */
export function provenContent(record: Parameters<typeof thaw>[0]): Result<StatementView> {
  try {
    return ok(thaw(record));
  } catch (error) {
    return refuse('unavailable', error instanceof Error ? error.message : String(error));
  }
}

function isKept(read: unknown): read is { readonly format: number; readonly statement: JsonValue } {
  return (
    read !== null &&
    typeof read === 'object' &&
    'format' in read &&
    read.format === format &&
    'statement' in read
  );
}

function sha256Of(text: string): string {
  return createHash('sha256').update(text, 'utf8').digest('hex');
}
