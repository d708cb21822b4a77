import { ed25519 } from '@noble/curves/ed25519.js';
import { bytesToHex, hexToBytes, utf8ToBytes } from '@noble/hashes/utils.js';
import { digestHex } from './digest.ts';

/** A canonical text (RFC 8785) and the Ed25519 signature (RFC 8032) over its UTF-8. */
export interface SignedText {
  readonly text: string;
  /** 64 bytes as 128 lower-case hex digits. */
  readonly signature: string;
}

/** Signs with a secret key of 32 bytes. */
export function signText(text: string, secretKey: Uint8Array): SignedText {
  return { text, signature: bytesToHex(ed25519.sign(utf8ToBytes(text), secretKey)) };
}

/** The public key of a secret one, 64 lower-case hex digits. */
export function publicKeyOf(secretKey: Uint8Array): string {
  return bytesToHex(ed25519.getPublicKey(secretKey));
}

/** What a public key is named by: the SHA-256 of its 32 bytes. */
export function keyIdOf(publicKey: string): string {
  return digestHex(hexToBytes(publicKey));
}

/** Whether the signature is the key's over exactly this text. What is no signature or no key proves nothing. */
export function isSignedBy({ text, signature }: SignedText, publicKey: string): boolean {
  if (!/^[0-9a-f]{128}$/.test(signature) || !/^[0-9a-f]{64}$/.test(publicKey)) return false;
  try {
    return ed25519.verify(hexToBytes(signature), utf8ToBytes(text), hexToBytes(publicKey));
  } catch {
    return false;
  }
}
