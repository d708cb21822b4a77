import { generateKeyPairSync, sign, verify } from 'node:crypto';
import { expect, test } from 'vitest';
import { isSignedBy, keyIdOf, publicKeyOf, signText } from './signed-text.ts';

const secret = new Uint8Array(
  Buffer.from('9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60', 'hex'),
);
const publicKey = 'd75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a';

test('RFC 8032 section 7.1, test 1: the key, and the signature over nothing', () => {
  expect(publicKeyOf(secret)).toBe(publicKey);
  expect(signText('', secret).signature).toBe(
    'e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bacc61e39701cf9b46bd25bf5f0595bbe24655141438e7a100b',
  );
});

test('what Node’s own OpenSSL signs is taken, and it takes what is signed here', () => {
  const pair = generateKeyPairSync('ed25519');
  const raw = pair.publicKey.export({ format: 'der', type: 'spki' }).subarray(-32).toString('hex');
  const seed = new Uint8Array(pair.privateKey.export({ format: 'der', type: 'pkcs8' }).subarray(-32));
  const text = '{"größe":"2.2 in"}';
  const theirs = sign(null, Buffer.from(text, 'utf8'), pair.privateKey).toString('hex');
  expect(isSignedBy({ text, signature: theirs }, raw)).toBe(true);
  const ours = Buffer.from(signText(text, seed).signature, 'hex');
  expect(verify(null, Buffer.from(text, 'utf8'), pair.publicKey, ours)).toBe(true);
});

test('another text, another key, and what is no signature or key prove nothing', () => {
  const signed = signText('{"total":"284.90"}', secret);
  expect(isSignedBy(signed, publicKey)).toBe(true);
  expect(isSignedBy({ ...signed, text: '{"total":"284.91"}' }, publicKey)).toBe(false);
  expect(isSignedBy(signed, publicKeyOf(new Uint8Array(32).fill(7)))).toBe(false);
  expect(isSignedBy({ ...signed, signature: '' }, publicKey)).toBe(false);
  expect(isSignedBy({ ...signed, signature: signed.signature.toUpperCase() }, publicKey)).toBe(false);
  expect(isSignedBy(signed, 'f'.repeat(64))).toBe(false);
  expect(keyIdOf(publicKey)).toMatch(/^[0-9a-f]{64}$/);
});
