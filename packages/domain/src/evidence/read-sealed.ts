import { type SealedContent, sealedFormats } from './sealed-content.ts';

/** What is under a seal, from its text; null for what is not in one of the formats. */
export function readSealed(text: string): SealedContent | null {
  try {
    const read: unknown = JSON.parse(text);
    const format = read !== null && typeof read === 'object' && 'format' in read ? read.format : null;
    const known: readonly unknown[] = Object.values(sealedFormats);
    // Whoever comes here has its digest from a seal, and what was sealed was written from a value of this type.
    return known.includes(format) ? (read as SealedContent) : null;
  } catch {
    return null;
  }
}
