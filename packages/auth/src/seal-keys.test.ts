import { createHmac } from 'node:crypto';
import { expect, test } from 'vitest';
import { sealKeySalt, sealKeySeed } from './seal-keys.ts';

const secret = new Uint8Array(32).fill(7);
const salt = '0b'.repeat(32);
const tenant = '0197f000-0000-7000-8000-000000000001';

test('the seed is HKDF-SHA256 as RFC 5869 section 2 writes it out: extract with the salt, expand with the business', () => {
  const extracted = createHmac('sha256', Buffer.from(salt, 'hex')).update(secret).digest();
  const expanded = createHmac('sha256', extracted).update(`grainwright seal key ${tenant}\u0001`).digest();
  expect(Buffer.from(sealKeySeed(secret, salt, tenant))).toEqual(expanded);
});

test('another business, salt or secret has another seed, and every salt is another one', () => {
  const seeds = [
    sealKeySeed(secret, salt, tenant),
    sealKeySeed(secret, salt, tenant.replace('01', '02')),
    sealKeySeed(secret, '0c'.repeat(32), tenant),
    sealKeySeed(new Uint8Array(32).fill(8), salt, tenant),
  ].map((seed) => Buffer.from(seed).toString('hex'));
  expect(new Set(seeds).size).toBe(4);
  expect(sealKeySalt()).not.toBe(sealKeySalt());
});
