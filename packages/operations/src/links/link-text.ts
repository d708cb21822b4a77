import { hashLinkSecret, linkSecret, linkToken } from '@grainwright/auth';
import { findAccessLinks } from '@grainwright/db';
import { type AccessLinkId, isBefore, isUuid, ok, type TenantId, toId } from '@grainwright/domain';
import type { Services } from '../services.ts';

/** Around a link's id in a mail that is not sent yet. No text that people write has this sign. */
const sign = '\u001f';
const marks = new RegExp(`${sign}([0-9a-f-]{36})${sign}`, 'g');

/** What stands in a mail's text where its link will be. */
export function linkMark(id: AccessLinkId): string {
  return `${sign}${id}${sign}`;
}

/** The address of a link, made from the key; it opens nothing unless the link is on record. */
export function linkAddress(
  { links }: Pick<Services, 'links'>,
  tenantId: TenantId,
  id: AccessLinkId,
): string {
  return `${links.publicUrl}/link/${linkToken(tenantId, linkSecret(links.key, tenantId, id))}`;
}

/** A mail's text for people who must not get its links: they are shown to whoever the mail is for, and to nobody else. */
export function withoutLinks(text: string): string {
  return text.replaceAll(marks, '(a link, only in the mail itself)');
}

/** A mail's text as its reader gets it, or why one of its links is not in it. */
export type LinkedText =
  | { readonly made: true; readonly text: string }
  /** The key is another one now, or the link was taken back or has expired. */
  | { readonly made: false; readonly because: 'other_key' | 'closed' };

/** A mail's text with the addresses in place of their marks, as long as all of its links open. */
export async function withLinks(
  services: Pick<Services, 'database' | 'links' | 'now'>,
  tenantId: TenantId,
  text: string,
): Promise<LinkedText> {
  const ids = [...text.matchAll(marks)].flatMap(([, id = '']) =>
    isUuid(id) ? [toId<AccessLinkId>(id)] : [],
  );
  if (ids.length === 0) return { made: true, text };
  const found = await services.database.withTenant({ role: 'worker', tenantId }, async (tx) =>
    ok(await findAccessLinks(tx, ids)),
  );
  if (!found.ok) throw new Error(found.problem.detail);
  const known = new Map(found.value.map((link) => [link.id, link.secretHash]));
  const canBeMade = ids.every(
    (id) => known.get(id) === hashLinkSecret(linkSecret(services.links.key, tenantId, id)),
  );
  if (!canBeMade) return { made: false, because: 'other_key' };
  const now = services.now();
  if (found.value.some(({ expiresAt, revokedAt }) => revokedAt !== null || !isBefore(now, expiresAt)))
    return { made: false, because: 'closed' };
  const linked = text.replaceAll(marks, (_mark, id: string) =>
    linkAddress(services, tenantId, toId<AccessLinkId>(id)),
  );
  return { made: true, text: linked };
}
