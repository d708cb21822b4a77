import { createHash, createHmac, hkdfSync } from 'node:crypto';

/**
 * The key that secrets of links are made with: 256 bits, by HKDF-SHA256 (RFC 5869) from a secret that the service keeps
 * outside the database.
 */
export function linkKey(secret: string): Uint8Array {
  return new Uint8Array(hkdfSync('sha256', secret, '', 'grainwright access links', 32));
}

/**
 * The secret of a link: 256 bits, HMAC-SHA256 of its id. Whoever has the database alone can't make it, and the service
 * can make it again when the mail goes out, so it is stored nowhere.
 */
export function linkSecret(key: Uint8Array, tenantId: string, linkId: string): string {
  return createHmac('sha256', key).update(`${tenantId}:${linkId}`).digest('base64url');
}

/** What is stored of a secret. */
export function hashLinkSecret(secret: string): string {
  return createHash('sha256').update(secret).digest('hex');
}

/** A link's part of an address: the tenant, so that nothing is looked up across tenants, and the secret. */
export function linkToken(tenantId: string, secret: string): string {
  return `${Buffer.from(tenantId.replaceAll('-', ''), 'hex').toString('base64url')}.${secret}`;
}

export interface ReadLinkToken {
  readonly tenantId: string;
  readonly secretHash: string;
}

const form = /^([A-Za-z0-9_-]{22})\.([A-Za-z0-9_-]{43})$/;

/** Reads what `linkToken` wrote; null for anything else. */
export function readLinkToken(token: string): ReadLinkToken | null {
  const [, tenant, secret] = form.exec(token) ?? [];
  if (tenant === undefined || secret === undefined) return null;
  const hex = Buffer.from(tenant, 'base64url').toString('hex');
  const tenantId = hex.replace(/^(.{8})(.{4})(.{4})(.{4})(.{12})$/, '$1-$2-$3-$4-$5');
  return { tenantId, secretHash: hashLinkSecret(secret) };
}
