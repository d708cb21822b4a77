import { canonicalJson, type JsonValue } from './canonical-json.ts';
import type { SealedContent, SealedPhoto } from './sealed-content.ts';

/**
 * Whether what is on record now is still what was sealed: null, or in a sentence what is not. Names of people, of the
 * business and of the account may change, and photos may be added; nothing else may.
 */
export function recordFault(sealed: SealedContent, now: SealedContent): string | null {
  if (canonicalJson(lasting(sealed)) !== canonicalJson(lasting(now)))
    return 'The record is not what was sealed.';
  const [before, after] = [photosOf(sealed), new Map(photosOf(now).map((photo) => [photo.photo, photo]))];
  const lost = before.find(({ photo }) => !after.has(photo));
  if (lost !== undefined) return `The ${lost.purpose} photo ${lost.photo} is gone.`;
  const changed = before.find((photo) => isAnother(photo, after.get(photo.photo)));
  return changed === undefined
    ? null
    : `The ${changed.purpose} photo ${changed.photo} is another one than was sealed.`;
}

function photosOf(content: SealedContent): readonly SealedPhoto[] {
  return 'photos' in content ? content.photos : [];
}

function isAnother(sealed: SealedPhoto, now: SealedPhoto | undefined): boolean {
  return now?.sha256 !== sealed.sha256 || now.receivedAt !== sealed.receivedAt;
}

/** What of a record never changes. */
function lasting(content: SealedContent): JsonValue {
  switch (content.format) {
    case 'sealed-approval-1': {
      const { version, currency, lines, taxMinor, totalMinor, seen } = content;
      const { id, decidedAt, given, rule, signature } = content.decision;
      const decision = { id, decidedAt, given, rule, signature };
      return { decision, version, currency, lines, taxMinor, totalMinor, seen };
    }
    case 'sealed-acceptance-1': {
      const { signer, shown, visit, withheldDigest } = content;
      const { id, outcome, remark, acceptedAt, answeredAt } = content.acceptance;
      return {
        acceptance: { id, outcome, remark, acceptedAt, answeredAt },
        signer,
        shown,
        visit,
        withheldDigest,
      };
    }
    case 'sealed-release-1': {
      const { reason, releasedAt } = content.release;
      const { recordedBy: _recordedBy, ...missing } = content.missing;
      return { release: { reason, releasedAt }, missing };
    }
    case 'sealed-credit-1': {
      const { creditNote, invoice, currency, lines, netMinor, taxMinor, totalMinor } = content;
      return { creditNote, invoice, currency, lines, netMinor, taxMinor, totalMinor };
    }
    case 'sealed-rework-1':
      return { rework: content.rework };
    case 'sealed-key-1':
      return { cause: content.cause, key: content.key, before: content.before };
  }
}
