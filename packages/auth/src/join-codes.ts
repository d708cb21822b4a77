import { createHash, randomBytes } from 'node:crypto';

/** Base 32 of Douglas Crockford: no I, L, O or U, which are misread by hand. */
const signs = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';
const length = 28;

/** A one-time code of 140 random bits, in groups of four to be read out: 7 × 4 signs with dashes. */
export function newJoinCode(): string {
  const text = [...randomBytes(length)].map((byte) => signs.charAt(byte % signs.length)).join('');
  return (text.match(/.{4}/g) ?? []).join('-');
}

/** The SHA-256 of a code as somebody typed it: dashes, spaces and case don't count, nor do O for 0, I and L for 1. */
export function hashJoinCode(typed: string): string {
  const code = typed.toUpperCase().replaceAll(/[\s-]/g, '').replaceAll('O', '0').replaceAll(/[IL]/g, '1');
  return createHash('sha256').update(code).digest('hex');
}
