import { createHmac } from 'node:crypto';
import { expect, test } from 'vitest';
import { hashLinkSecret, linkKey, linkSecret, linkToken, readLinkToken } from './access-links.ts';

const tenantId = '0198f5a0-1c2d-7e3f-8a4b-5c6d7e8f9a0b';
const linkId = '0198f5a0-2222-7e3f-8a4b-5c6d7e8f9a0b';

test('a secret has 256 bits, follows from key, tenant and link, and from nothing else', () => {
  const key = linkKey('a secret outside the database');
  const secret = linkSecret(key, tenantId, linkId);
  expect(Buffer.from(secret, 'base64url')).toHaveLength(32);
  expect(linkSecret(key, tenantId, linkId)).toBe(secret);
  expect(linkSecret(key, linkId, tenantId)).not.toBe(secret);
  expect(linkSecret(linkKey('another secret'), tenantId, linkId)).not.toBe(secret);
});

test('the key is what RFC 5869 says: extract with an empty salt, expand by the name', () => {
  // RFC 5869, sections 2.2 and 2.3, written out for one block.
  const extracted = createHmac('sha256', Buffer.alloc(32)).update('a secret').digest();
  const expanded = createHmac('sha256', extracted).update('grainwright access links\u0001').digest();
  expect(Buffer.from(linkKey('a secret'))).toEqual(expanded);
});

test('a token gives the tenant and the digest of the secret back', () => {
  const secret = linkSecret(linkKey('a secret'), tenantId, linkId);
  const token = linkToken(tenantId, secret);
  expect(token).toHaveLength(66);
  expect(readLinkToken(token)).toEqual({ tenantId, secretHash: hashLinkSecret(secret) });
});

test.each([
  '',
  'x',
  '.',
  `${'a'.repeat(22)}.${'b'.repeat(42)}`,
  `${'a'.repeat(22)}.${'b'.repeat(43)}/`,
  '../etc',
])('what is no token is nothing: %s', (text) => {
  expect(readLinkToken(text)).toBeNull();
});
