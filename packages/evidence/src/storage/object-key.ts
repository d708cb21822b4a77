import { isUuid, type TenantId } from '@grainwright/domain';

declare const brand: unique symbol;
/** Where bytes are kept: `tenant/<tenant's id>/<kind>/<first two of sha256>/<sha256>`, SHA-256 in lower-case hex. */
export type ObjectKey = string & { readonly [brand]: 'object key' };

export type ObjectKind = (typeof kinds)[number];

const kinds = ['original', 'view', 'thumb', 'signature', 'document', 'logo', 'pack'] as const;
const sha256Hex = /^[0-9a-f]{64}$/;

/** The key of content; throws on an id, kind or digest that is not of its form, so no path can be smuggled in. */
export function objectKey(tenantId: TenantId, kind: ObjectKind, sha256: string): ObjectKey {
  return toObjectKey(`tenant/${tenantId}/${kind}/${sha256.slice(0, 2)}/${sha256}`);
}

/** Reads a key that was stored; throws on anything that is not a whole, well-formed key. */
export function toObjectKey(text: string): ObjectKey {
  const [root, tenantId = '', kind = '', shard, sha256 = '', ...rest] = text.split('/');
  const wellFormed =
    root === 'tenant' &&
    isUuid(tenantId) &&
    kinds.some((known) => known === kind) &&
    sha256Hex.test(sha256) &&
    shard === sha256.slice(0, 2) &&
    rest.length === 0;
  if (!wellFormed) throw new Error(`not an object key: ${JSON.stringify(text.slice(0, 160))}`);
  return text as ObjectKey;
}

/** The SHA-256 (lower-case hex) that the content under a key must have. */
export function digestOf(key: ObjectKey): string {
  return key.slice(-64);
}
