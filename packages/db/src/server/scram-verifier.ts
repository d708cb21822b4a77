import { createHash, createHmac, pbkdf2Sync, randomBytes } from 'node:crypto';

const iterations = 4096;
const keyBytes = 32;

/**
 * What Postgres keeps in place of a password (RFC 5802, RFC 7677), made here so that the password itself never
 * travels in a statement that a server may log. The password must be plain ASCII, which needs no SASLprep.
 */
export function scramVerifier(password: string, salt: Buffer = randomBytes(16)): string {
  const salted = pbkdf2Sync(password, salt, iterations, keyBytes, 'sha256');
  const stored = createHash('sha256').update(hmac(salted, 'Client Key')).digest('base64');
  const server = hmac(salted, 'Server Key').toString('base64');
  return `SCRAM-SHA-256$${iterations}:${salt.toString('base64')}$${stored}:${server}`;
}

function hmac(key: Buffer, text: string): Buffer {
  return createHmac('sha256', key).update(text).digest();
}
