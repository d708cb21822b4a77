import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js';

/** SHA-256 (FIPS 180-4) as bytes; of a text, of its UTF-8. The same on the server, on the phone and in a browser. */
export function digestBytes(of: Uint8Array | string): Uint8Array {
  return sha256(typeof of === 'string' ? utf8ToBytes(of) : of);
}

/** SHA-256 as 64 lower-case hex digits. */
export function digestHex(of: Uint8Array | string): string {
  return bytesToHex(digestBytes(of));
}

/** SHA-256 of bytes that come piece by piece: what is too large to be held at once. */
export function startDigest(): { readonly add: (piece: Uint8Array) => void; readonly hex: () => string } {
  const running = sha256.create();
  return { add: (piece) => void running.update(piece), hex: () => bytesToHex(running.digest()) };
}
