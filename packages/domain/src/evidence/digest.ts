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
