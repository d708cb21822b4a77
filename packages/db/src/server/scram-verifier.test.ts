import { createHash, createHmac } from 'node:crypto';
import { expect, test } from 'vitest';
import { scramVerifier } from './scram-verifier.ts';

// The exchange printed in RFC 7677, section 3: user "user", password "pencil".
const salt = 'W22ZaJ0SNY7soEsUEjb6gQ==';
const nonce = 'rOprNGfwEbeRWgbNEkqO%hvYDpWUa2RaTCAfuxFIlj)hNlF$k0';
const authMessage = `n=user,r=rOprNGfwEbeRWgbNEkqO,r=${nonce},s=${salt},i=4096,c=biws,r=${nonce}`;
const clientProof = 'dHzbZapWIk4jUhN+Ute9ytag9zjfMHgsqmmiz7AndVQ=';
const serverSignature = '6rriTRBi23WpRR/wtup+mMhUZUn/dB5nLTJRsjl95G4=';

function sign(key: Buffer): Buffer {
  return createHmac('sha256', key).update(authMessage).digest();
}

test('the verifier accepts the client proof and gives the server signature that RFC 7677 prints', () => {
  const verifier = scramVerifier('pencil', Buffer.from(salt, 'base64'));
  const [, stored = '', server = ''] = /^SCRAM-SHA-256\$4096:.*\$(.*):(.*)$/.exec(verifier) ?? [];
  const storedKey = Buffer.from(stored, 'base64');
  expect(sign(Buffer.from(server, 'base64')).toString('base64')).toBe(serverSignature);
  const signature = sign(storedKey);
  const clientKey = Buffer.from(clientProof, 'base64').map((byte, index) => byte ^ (signature[index] ?? 0));
  expect(createHash('sha256').update(clientKey).digest('base64')).toBe(stored);
});

test('the same password gives another verifier each time, and never appears in it', () => {
  expect(scramVerifier('pencil')).not.toBe(scramVerifier('pencil'));
  expect(scramVerifier('pencil')).not.toContain('pencil');
});
