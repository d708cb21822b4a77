import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, concatBytes, hexToBytes } from '@noble/hashes/utils.js';

/**
 * The tree of RFC 6962 section 2.1 over SHA-256. A leaf is any bytes; hashes go in and out as lower-case hex. The
 * prefixes 0x00 and 0x01 keep a leaf from being passed off as a node.
 */
export function leafHash(leaf: Uint8Array): string {
  return bytesToHex(sha256(concatBytes(Uint8Array.of(0), leaf)));
}

/** Section 2.1: the hash above two hashes. */
export function nodeHash(left: string, right: string): string {
  return bytesToHex(sha256(concatBytes(Uint8Array.of(1), hexToBytes(left), hexToBytes(right))));
}

/** Section 2.1: the root over the leaves' hashes, in their order. Of no leaf at all it is the hash of nothing. */
export function merkleRoot(leafHashes: readonly string[]): string {
  const [only] = leafHashes;
  if (only === undefined) return bytesToHex(sha256(new Uint8Array()));
  if (leafHashes.length === 1) return only;
  const split = splitOf(leafHashes.length);
  return nodeHash(merkleRoot(leafHashes.slice(0, split)), merkleRoot(leafHashes.slice(split)));
}

/** Section 2.1.1: what has to be added to leaf `index`, from the lowest up, to come to the root. */
export function inclusionProof(leafHashes: readonly string[], index: number): readonly string[] {
  if (!Number.isInteger(index) || index < 0 || index >= leafHashes.length)
    throw new Error(`there is no leaf ${index} among ${leafHashes.length}`);
  if (leafHashes.length === 1) return [];
  const split = splitOf(leafHashes.length);
  const [left, right] = [leafHashes.slice(0, split), leafHashes.slice(split)];
  return index < split
    ? [...inclusionProof(left, index), merkleRoot(right)]
    : [...inclusionProof(right, index - split), merkleRoot(left)];
}

export interface Inclusion {
  readonly leafHash: string;
  /** Counted from 0. */
  readonly index: number;
  /** Leaves of the tree. */
  readonly size: number;
  readonly proof: readonly string[];
  readonly root: string;
}

/** Whether the proof leads from the leaf to the root: RFC 9162 section 2.1.3.2, which is the proof of RFC 6962. */
export function provesInclusion({ leafHash: leaf, index, size, proof, root }: Inclusion): boolean {
  if (!Number.isInteger(index) || index < 0 || index >= size) return false;
  const computed = rootAbove(leaf, index, size, proof);
  return computed !== null && computed === root;
}

/** The root that the proof leads to, or null where it has too few or too many steps. */
function rootAbove(leaf: string, index: number, size: number, proof: readonly string[]): string | null {
  if (size === 1) return proof.length === 0 ? leaf : null;
  const top = proof.at(-1);
  if (top === undefined || !/^[0-9a-f]{64}$/.test(top)) return null;
  const split = splitOf(size);
  const below = proof.slice(0, -1);
  if (index < split) {
    const left = rootAbove(leaf, index, split, below);
    return left === null ? null : nodeHash(left, top);
  }
  const right = rootAbove(leaf, index - split, size - split, below);
  return right === null ? null : nodeHash(top, right);
}

/** Section 2.1: the largest power of two below a size above one. */
function splitOf(size: number): number {
  let split = 1;
  while (split * 2 < size) split *= 2;
  return split;
}
