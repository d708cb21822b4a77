import {
  findStatement,
  findStatementFile,
  insertStatementFile,
  type StatementFileRow,
} from '@grainwright/db';
import { statementCsv, statementPdf } from '@grainwright/documents';
import { ok, type Result, type StatementId, type TenantId } from '@grainwright/domain';
import { type ObjectStore, toObjectKey } from '@grainwright/evidence';
import type { OpenedFile } from '../documents/opened-file.ts';
import { refuseDeleted } from '../retention/deletion-words.ts';
import type { Services } from '../services.ts';
import { keepBytes, readBytes } from '../stored-bytes.ts';
import { thaw } from './frozen-content.ts';
import { statementModel } from './statement-model.ts';
import type { StatementView } from './statement-view.ts';

export type StatementFileKind = StatementFileRow['kind'];

export interface WantedStatementFile {
  readonly tenantId: TenantId;
  readonly statementId: StatementId;
  readonly kind: StatementFileKind;
}

const mediaTypes = {
  pdf: 'application/pdf',
  csv: 'text/csv; charset=utf-8; header=present',
} as const satisfies Record<StatementFileKind, string>;

/**
 * The file of a statement: made of what was frozen when it is first asked for, and the same bytes ever after, whatever
 * later versions would make of it. Who may have it is the caller's to ask. Refuses with `deleted_by_rule`. Throws where
 * there is no such statement.
 */
export async function statementFile(
  services: Pick<Services, 'database' | 'objects' | 'now' | 'links'>,
  wanted: WantedStatementFile,
): Promise<Result<OpenedFile>> {
  const { tenantId, statementId, kind } = wanted;
  const asWorker = { role: 'worker', tenantId } as const;
  const found = await services.database.withTenant(asWorker, async (tx) =>
    ok({
      statement: await findStatement(tx, statementId),
      file: await findStatementFile(tx, statementId, kind),
      deleted: await refuseDeleted(tx, 'documents', { id: statementId, what: 'This file', sha256: null }),
    }),
  );
  if (!found.ok) return found;
  const { statement, file, deleted } = found.value;
  if (statement === null) throw new Error(`there is no statement ${statementId}`);
  if (deleted !== null) return deleted;
  const view = thaw(statement);
  const named = { fileName: statementFileName(view, kind), mediaType: mediaTypes[kind] };
  if (file !== null) return ok({ ...named, body: await keptBytes(services.objects, file.storageKey) });
  const made = await makeFile(services, view, kind);
  const kept = await keepBytes(services.objects, tenantId, 'document', made);
  const stored = await services.database.withTenant(asWorker, async (tx) => {
    const bytes = BigInt(made.length);
    await insertStatementFile(tx, { statementId, kind, ...kept, bytes, madeAt: services.now() });
    return ok(await findStatementFile(tx, statementId, kind));
  });
  if (!stored.ok) return stored;
  const first = stored.value?.storageKey ?? kept.storageKey;
  return ok({
    ...named,
    body: first === kept.storageKey ? made : await keptBytes(services.objects, first),
  });
}

export function statementFileName({ month }: Pick<StatementView, 'month'>, kind: StatementFileKind): string {
  return `statement-${month}.${kind}`;
}

async function keptBytes(objects: ObjectStore, storageKey: string): Promise<Uint8Array> {
  const bytes = await readBytes(objects, toObjectKey(storageKey));
  if (bytes === null) throw new Error(`the object store lacks ${storageKey}`);
  return bytes;
}

async function makeFile(
  { objects, links }: Pick<Services, 'objects' | 'links'>,
  view: StatementView,
  kind: StatementFileKind,
): Promise<Uint8Array> {
  if (kind === 'csv')
    return new TextEncoder().encode(statementCsv({ ...view, accountName: view.account.name }));
  const logo = view.logoKey === null ? null : await keptBytes(objects, view.logoKey);
  return statementPdf(statementModel(view, { logo, publicUrl: links.publicUrl }));
}
