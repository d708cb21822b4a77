import { hkdfSync, randomBytes } from 'node:crypto';

/** What is kept of a signing key beside its public half: 256 random bits in lower-case hex. */
export function sealKeySalt(): string {
  return randomBytes(32).toString('hex');
}

/**
 * The secret half of a business's signing key (Ed25519, RFC 8032): 32 bytes, by HKDF-SHA256 (RFC 5869) from a secret
 * that the service keeps outside the database. It is made again whenever something is signed, and stored nowhere.
 */
export function sealKeySeed(secret: Uint8Array, salt: string, tenantId: string): Uint8Array {
  const info = `grainwright seal key ${tenantId}`;
  return new Uint8Array(hkdfSync('sha256', secret, Buffer.from(salt, 'hex'), info, 32));
}
