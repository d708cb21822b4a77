import {
  findInvoice,
  listPictureSources,
  type PictureSource,
  sumExempt,
  type TenantTransaction,
} from '@grainwright/db';
import { type DocumentPicture, invoicePdf } from '@grainwright/documents';
import { dayAt, type InvoiceId, ok, type PhotoId, parseDay, type Result, refuse } from '@grainwright/domain';
import { toObjectKey } from '@grainwright/evidence';
import { type InvoiceView, invoiceViewOf } from '../billing/invoice-view.ts';
import { type Actor, perform, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { readBytes } from '../stored-bytes.ts';
import { invoiceModel } from './invoice-pdf-model.ts';
import type { OpenedFile } from './opened-file.ts';

/**
 * An invoice as PDF, with the pictures before and after that its account may see; the same bytes for the business and
 * for its customer, for a contact only of the own account. Refuses with `wrong_state` an invoice that was voided.
 */
export async function openInvoicePdf(
  services: Services,
  actor: Actor,
  id: InvoiceId,
): Promise<Result<OpenedFile>> {
  const read = await perform(services, actor, 'see_invoices', (scope) => readPrinted(scope, id));
  if (!read.ok) return read;
  const { invoice, business, subject } = read.value;
  const extras = await services.database.withTenant({ role: 'staff', tenantId: actor.tenantId }, async (tx) =>
    ok(await extrasOf(tx, invoice)),
  );
  if (!extras.ok) return extras;
  const { sources, exemptMinor } = extras.value;
  const { pageSize: size, logoKey, timeZone } = business;
  const body = await invoicePdf(
    invoiceModel(invoice, {
      size,
      logo: logoKey === null ? null : await readBytes(services.objects, toObjectKey(logoKey)),
      timeZone,
      subject,
      exemptMinor,
      pictures: await picturesOf(services, sources, timeZone),
    }),
  );
  return ok({ fileName: `${invoice.number}.pdf`, mediaType: 'application/pdf', body });
}

async function readPrinted(
  scope: Scope,
  id: InvoiceId,
): Promise<Result<{ invoice: InvoiceView; business: Scope['business']; subject: string }>> {
  const found = await findInvoice(scope.tx, id);
  if (found === null || (scope.actor.accountId !== null && found.accountId !== scope.actor.accountId))
    return refuse('not_found', 'There is no such invoice.');
  if (found.voidedOn !== null)
    return refuse(
      'wrong_state',
      `${found.number} was voided on ${found.voidedOn}, so there is no paper of it.`,
    );
  return ok({ invoice: await invoiceViewOf(scope, found), business: scope.business, subject: found.subject });
}

/** What an account's own role does not read, though its paper says it. */
async function extrasOf(tx: TenantTransaction, { id, vehicles }: InvoiceView) {
  const shown = vehicles.flatMap(({ pictures }) => pictures.flatMap(({ before, after }) => [before, after]));
  const sources = await listPictureSources(
    tx,
    shown.filter((photoId) => photoId !== null),
  );
  return { sources, exemptMinor: await sumExempt(tx, id) };
}

async function picturesOf(
  { objects }: Pick<Services, 'objects'>,
  sources: readonly PictureSource[],
  timeZone: string,
): Promise<ReadonlyMap<PhotoId, DocumentPicture>> {
  const pictures = new Map<PhotoId, DocumentPicture>();
  for (const { photoId, storageKey, takenAtLocal, receivedAt } of sources) {
    const taken = parseDay((takenAtLocal ?? '').slice(0, 10));
    const bytes = await readBytes(objects, toObjectKey(storageKey));
    if (bytes === null) throw new Error(`the object store lacks ${storageKey}`);
    pictures.set(photoId, { bytes, takenOn: taken.ok ? taken.value : dayAt(receivedAt, timeZone) });
  }
  return pictures;
}
