/**
 * Compresses bytes that mostly repeat themselves as a zlib stream (RFC 1950) of one block with fixed codes (RFC 1951
 * section 3.2.6), where runs of one byte are all that is shortened. A library's output may differ from version to version
 * and from machine to machine; this is always the same.
 */
export function deflateRuns(bytes: Uint8Array): Uint8Array {
  const out = new BitWriter();
  // Last block, fixed codes.
  out.bits(1, 1);
  out.bits(1, 2);
  for (let at = 0; at < bytes.length; ) {
    const value = bytes[at] ?? 0;
    literal(out, value);
    at += 1;
    let run = runLength(bytes, at, value);
    at += run;
    while (run > 0) {
      const length = Math.min(run, lengthMax);
      if (length < lengthMin) for (let each = 0; each < length; each += 1) literal(out, value);
      else repeated(out, length);
      run -= length;
    }
  }
  // End of the block: code 256, seven zeros.
  out.bits(0, 7);
  return Uint8Array.from([0x78, 0x01, ...out.done(), ...bigEndian(adler32(bytes))]);
}

const lengthMin = 3;
const lengthMax = 258;

function runLength(bytes: Uint8Array, from: number, value: number): number {
  let to = from;
  while (to < bytes.length && bytes[to] === value) to += 1;
  return to - from;
}

/** Fixed codes: 0–143 in eight bits from 00110000, 144–255 in nine from 110010000. */
function literal(out: BitWriter, value: number): void {
  if (value < 144) out.code(0x30 + value, 8);
  else out.code(0x190 + value - 144, 9);
}

/** The shortest length and the extra bits of each length code, 257 to 285 (RFC 1951 section 3.2.5). */
const lengthCodes: readonly (readonly [number, number])[] = [
  ...[3, 4, 5, 6, 7, 8, 9, 10].map((least) => [least, 0] as const),
  ...[11, 13, 15, 17].map((least) => [least, 1] as const),
  ...[19, 23, 27, 31].map((least) => [least, 2] as const),
  ...[35, 43, 51, 59].map((least) => [least, 3] as const),
  ...[67, 83, 99, 115].map((least) => [least, 4] as const),
  ...[131, 163, 195, 227].map((least) => [least, 5] as const),
  [lengthMax, 0],
];

/** The byte before, so many times: a length code, and the distance 1, whose fixed code is five zeros. */
function repeated(out: BitWriter, length: number): void {
  const index = lengthCodes.findLastIndex(([least]) => least <= length);
  const [least, extra] = lengthCodes[index] ?? [0, 0];
  const symbol = 257 + index;
  if (symbol < 280) out.code(symbol - 256, 7);
  else out.code(0xc0 + symbol - 280, 8);
  out.bits(length - least, extra);
  out.code(0, 5);
}

/** Numbers go in from their lowest bit, codes from their highest (RFC 1951 section 3.1.1). */
class BitWriter {
  readonly #bytes: number[] = [];
  #held = 0;
  #count = 0;

  bits(value: number, count: number): void {
    for (let bit = 0; bit < count; bit += 1) this.#bit((value >> bit) & 1);
  }

  code(value: number, count: number): void {
    for (let bit = count - 1; bit >= 0; bit -= 1) this.#bit((value >> bit) & 1);
  }

  done(): readonly number[] {
    while (this.#count > 0) this.#bit(0);
    return this.#bytes;
  }

  #bit(bit: number): void {
    this.#held |= bit << this.#count;
    this.#count += 1;
    if (this.#count < 8) return;
    this.#bytes.push(this.#held);
    this.#held = 0;
    this.#count = 0;
  }
}

/** RFC 1950 section 8.2. */
function adler32(bytes: Uint8Array): number {
  let low = 1;
  let high = 0;
  for (const byte of bytes) {
    low = (low + byte) % 65_521;
    high = (high + low) % 65_521;
  }
  return high * 65_536 + low;
}

function bigEndian(value: number): readonly number[] {
  return [24, 16, 8, 0].map((shift) => Math.floor(value / 2 ** shift) % 256);
}
