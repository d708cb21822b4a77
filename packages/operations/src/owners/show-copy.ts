import {
  type Business,
  findAcceptance,
  findBusiness,
  findPhoto,
  findShownAcceptance,
  listWorkOfCopy,
  type TenantTransaction,
} from '@grainwright/db';
import {
  type AcceptanceId,
  type Instant,
  ok,
  type Result,
  refuse,
  type WorkOrderId,
} from '@grainwright/domain';
import { readSignedParts } from '../evidence/acceptance-to-show.ts';
import { locateCopy, type OpenedPhoto, openLocated } from '../evidence/open-photo.ts';
import { type OpenSignatureInput, openKeptSignature } from '../evidence/open-signature.ts';
import type { SignedAcceptance } from '../evidence/read-acceptance.ts';
import { readSignedText, type SignedText, shownIn } from '../evidence/read-signed-text.ts';
import type { OpenedLink } from '../links/open-link.ts';
import type { Services } from '../services.ts';
import { type CopyView, readCopies } from './copy-view.ts';
import type { OwnersPhotoAsked } from './open-owners-photo.ts';

/** The link of a copy. */
export type CopyLinkOpened = Extract<OpenedLink, { purpose: 'acceptance_copy' }>;

/** What a signer reads again. */
export interface CopyPage {
  readonly business: Business;
  /** One, or one for each vehicle of a signature. */
  readonly signed: readonly SignedAcceptance[];
  /** When this link stops opening it. */
  readonly readableUntil: Instant;
}

/**
 * The copy that a link opens: each answer and its pictures as far as the vehicle owner's database role sees them by this
 * link. Reading changes nothing. Refuses with `not_found`.
 */
export async function showCopy(services: Services, link: CopyLinkOpened): Promise<Result<CopyPage>> {
  const found = await asStaff(services, link, (tx) => readTexts(tx, link));
  if (!found.ok) return found;
  const signed: SignedAcceptance[] = [];
  for (const { text, copies } of found.value.texts) {
    const parts = await asSigner(services, link, text.workOrder.id, async (tx) =>
      (await findShownAcceptance(tx, text.answer.id)) === null
        ? gone
        : ok(await readSignedParts(tx, text.shown)),
    );
    if (!parts.ok) return parts;
    signed.push({ ...text, parts: parts.value, copies });
  }
  return ok({ business: found.value.business, signed, readableUntil: link.expiresAt });
}

interface Texts {
  readonly business: Business;
  readonly texts: readonly { readonly text: SignedText; readonly copies: readonly CopyView[] }[];
}

/** What the business itself adds: the heading, how to care for the repair, and where the copies went. */
async function readTexts(tx: TenantTransaction, { id }: CopyLinkOpened): Promise<Result<Texts>> {
  const business = await findBusiness(tx);
  const texts = [];
  for (const { acceptanceId } of await listWorkOfCopy(tx, id)) {
    const row = await findAcceptance(tx, acceptanceId);
    const text = row && (await readSignedText(tx, row));
    if (text === null || !text.ok) return gone;
    texts.push({ text: text.value, copies: await readCopies(tx, acceptanceId) });
  }
  return business === null || texts.length === 0 ? gone : ok({ business, texts });
}

/** A picture of what was signed; one that was taken later is none of it. Refuses with `not_found` or `unavailable`. */
export async function openCopyPhoto(
  services: Services,
  link: CopyLinkOpened,
  asked: OwnersPhotoAsked,
): Promise<Result<OpenedPhoto>> {
  const found = await asStaff(services, link, async (tx) => {
    const photo = await findPhoto(tx, asked.photoId);
    const copied = await listWorkOfCopy(tx, link.id);
    const of = copied.filter(({ workOrderId }) => workOrderId === photo?.workOrderId);
    return ok(of);
  });
  if (!found.ok) return found;
  for (const { workOrderId, acceptanceId } of found.value) {
    const located = await asSigner(services, link, workOrderId, async (tx) => {
      const row = await findShownAcceptance(tx, acceptanceId);
      const isShown = row !== null && shownIn(row).photos.some(({ photo }) => photo === asked.photoId);
      return isShown ? locateCopy(tx, asked.photoId, asked.kind) : noPhoto;
    });
    if (located.ok) return openLocated(services, asked, located.value);
    if (located.problem.code !== 'not_found') return located;
  }
  return noPhoto;
}

/** The drawn signature as a picture. Refuses with `not_found`. */
export async function openCopySignature(
  services: Services,
  link: CopyLinkOpened,
  asked: OpenSignatureInput,
): Promise<Result<OpenedPhoto>> {
  const workOrderId = await workOrderOf(services, link, asked.acceptanceId);
  if (!workOrderId.ok) return workOrderId;
  const row = await asSigner(services, link, workOrderId.value, async (tx) =>
    ok(await findShownAcceptance(tx, asked.acceptanceId)),
  );
  return row.ok ? openKeptSignature(services, asked, row.value) : row;
}

function workOrderOf(
  services: Services,
  link: CopyLinkOpened,
  acceptanceId: AcceptanceId,
): Promise<Result<WorkOrderId>> {
  return asStaff(services, link, async (tx) => {
    const copied = (await listWorkOfCopy(tx, link.id)).find((each) => each.acceptanceId === acceptanceId);
    return copied === undefined ? gone : ok(copied.workOrderId);
  });
}

function asStaff<T>(
  { database }: Services,
  { tenantId }: CopyLinkOpened,
  read: (tx: TenantTransaction) => Promise<Result<T>>,
): Promise<Result<T>> {
  return database.withTenant({ role: 'staff', tenantId }, read);
}

/** The role of a vehicle's owner, with the link that they hold. */
function asSigner<T>(
  { database }: Services,
  { tenantId, secretHash }: CopyLinkOpened,
  workOrderId: WorkOrderId,
  read: (tx: TenantTransaction) => Promise<Result<T>>,
): Promise<Result<T>> {
  return database.withTenant({ role: 'vehicle_owner', tenantId, workOrderId, secretHash }, read);
}

const gone = refuse('not_found', 'There is no such copy.');
const noPhoto = refuse('not_found', 'There is no such photo.');
