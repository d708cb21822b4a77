import { isUuid, type TenantId, type UploadId } from '@grainwright/domain';

declare const brand: unique symbol;
/**
 * Where bytes are kept: `tenant/<tenant's id>/<kind>/<first two of sha256>/<sha256>`, SHA-256 in lower-case hex. A part
 * of an upload has the upload's id and a hyphen before its digest, so that removing it takes it from no other upload.
 */
export type ObjectKey = string & { readonly [brand]: 'object key' };

export type ObjectKind = (typeof kinds)[number];

const kinds = [
  'original',
  'view',
  'thumb',
  'signature',
  'document',
  'logo',
  'pack',
  'covered',
  'recording',
  'poster',
] as const;
const sha256Hex = /^[0-9a-f]{64}$/;

/** The key of content; throws on an id, kind or digest that is not of its form, so no path can be smuggled in. */
export function objectKey(tenantId: TenantId, kind: ObjectKind, sha256: string): ObjectKey {
  return toObjectKey(`tenant/${tenantId}/${kind}/${sha256.slice(0, 2)}/${sha256}`);
}

/** The key of one part of an upload. */
export function partKey(tenantId: TenantId, uploadId: UploadId, sha256: string): ObjectKey {
  return toObjectKey(`tenant/${tenantId}/part/${sha256.slice(0, 2)}/${uploadId}-${sha256}`);
}

/** Reads a key that was stored; throws on anything that is not a whole, well-formed key. */
export function toObjectKey(text: string): ObjectKey {
  if (!isObjectKey(text)) throw new Error(`not an object key: ${JSON.stringify(text.slice(0, 160))}`);
  return text;
}

/** Whether it is a whole, well-formed key: a folder or bucket may hold what is not ours. */
export function isObjectKey(text: string): text is ObjectKey {
  const [root, tenantId = '', kind = '', shard, name = '', ...rest] = text.split('/');
  const sha256 = name.slice(-64);
  return (
    root === 'tenant' &&
    isUuid(tenantId) &&
    (kind === 'part' ? isPartName(name) : kinds.some((known) => known === kind) && name === sha256) &&
    sha256Hex.test(sha256) &&
    shard === sha256.slice(0, 2) &&
    rest.length === 0
  );
}

function isPartName(name: string): boolean {
  return name.length === 36 + 1 + 64 && name[36] === '-' && isUuid(name.slice(0, 36));
}

/** What kind of content a key is of. */
export function objectKindOf(key: ObjectKey): ObjectKind | 'part' {
  const kind = key.split('/')[2];
  return kinds.find((known) => known === kind) ?? 'part';
}

/** The SHA-256 (lower-case hex) that the content under a key must have. */
export function digestOf(key: ObjectKey): string {
  return key.slice(-64);
}
