import type { SealKind } from './seal.ts';

/**
 * What each kind of seal has under it, as JSON; its canonical text (RFC 8785) is stored beside the seal, and the seal
 * names that text's SHA-256. Nothing in it is a position, and what is the staff's own to know is in it as a digest.
 * Amounts are minor units as decimal texts, moments RFC 3339 in UTC, digests lower-case hex.
 */
export type SealedContent =
  | SealedApproval
  | SealedAcceptance
  | SealedRelease
  | SealedCredit
  | SealedRework
  | SealedKey;

/** A text that was frozen when it was shown or answered: `digest` is the SHA-256 of the UTF-8 of `text`. */
export type FrozenText = { readonly digest: string; readonly text: string };

/** A photo as it was on record when the seal was put; null where that is not known. */
export type SealedPhoto = {
  readonly photo: string;
  readonly line: string | null;
  readonly purpose: string;
  /** Of the original, byte for byte. */
  readonly sha256: string;
  /** Of the original without what the camera wrote into it beside the picture. */
  readonly bareSha256: string | null;
  /** By the camera's own clock, without a time zone. */
  readonly takenAtLocal: string | null;
  /** By the phone's clock. */
  readonly capturedAt: string | null;
  /** By the server's clock. */
  readonly receivedAt: string;
};

export type SealedParties = {
  readonly business: { readonly name: string };
  readonly account: { readonly id: string; readonly name: string };
};

export type SealedWork = SealedParties & {
  readonly workOrder: { readonly id: string; readonly number: string };
  readonly vehicle: {
    readonly description: string;
    readonly vin: string | null;
    readonly lastEight: string | null;
  };
  /** All of the work order, in the order received. */
  readonly photos: readonly SealedPhoto[];
};

/** The answer that said what may be done, and the version of the estimate that it is to. */
export type SealedVersion = {
  readonly decision: string;
  readonly version: string;
  readonly number: number;
  readonly digest: string;
};

/** How a mark was made. Strokes are sealed as the digest of their canonical JSON. */
export type SealedSignature = {
  readonly name: string;
  readonly method: 'drawn' | 'typed';
  readonly strokesDigest: string | null;
};

export type SealedApproval = SealedWork & {
  readonly format: 'sealed-approval-1';
  readonly decision: {
    readonly id: string;
    readonly decidedAt: string;
    /** Here, by link, in person, by phone, in writing, by rule, or without charge. */
    readonly given: string;
    /** Null where a rule answered, or nobody had to. */
    readonly decidedBy: string | null;
    readonly inPlaceOf: string | null;
    /** Who of the staff wrote it down; null where nobody had to. */
    readonly recordedBy: string | null;
    /** The words of the standing approval that answered. */
    readonly rule: string | null;
    readonly signature: SealedSignature | null;
  };
  readonly version: { readonly id: string; readonly number: number; readonly estimate: FrozenText };
  readonly currency: string;
  readonly lines: readonly {
    readonly line: string;
    readonly answer: 'approved' | 'declined';
    readonly reason: string;
    readonly netMinor: string;
  }[];
  readonly taxMinor: string;
  readonly totalMinor: string;
  /** What stood on the page; null for answers that nobody gave to a page. */
  readonly seen: FrozenText | null;
};

export type SealedAcceptance = SealedWork & {
  readonly format: 'sealed-acceptance-1';
  readonly acceptance: {
    readonly id: string;
    readonly outcome: 'accepted' | 'accepted_with_remark' | 'not_accepted';
    readonly remark: string;
    readonly acceptedAt: string;
    /** By the clock of the device, where it was sent later. */
    readonly answeredAt: string | null;
    /** Who of the staff handed it over; null where the signer answered alone, by a link. */
    readonly takenBy: string | null;
  };
  readonly signer: SealedSignature & {
    readonly role: string;
    readonly identifiedBy: string;
    /** Exactly as it was typed. */
    readonly typedName: string | null;
    /** Of the drawn signature as a picture. */
    readonly pictureSha256: string | null;
  };
  readonly shown: FrozenText;
  /** What was shown of all vehicles together, where one signature covers several. */
  readonly visit: { readonly id: string; readonly shown: FrozenText } | null;
  readonly approved: SealedVersion | null;
  /** The digest of the text of a `WithheldFacts`, which the staff alone can show. */
  readonly withheldDigest: string;
};

/** What an acceptance came from; by its nonce nobody can guess it from the digest. */
export type WithheldFacts = {
  readonly format: 'withheld-facts-1';
  readonly nonce: string;
  readonly device: string;
  readonly fromAddress: string;
  /** How the signer can be reached; may be empty. */
  readonly signer: { readonly phone: string; readonly email: string };
  /** Where the link to the vehicle's owner went; null where there was no link. */
  readonly contact: { readonly phone: string; readonly email: string } | null;
};

export type SealedRelease = SealedWork & {
  readonly format: 'sealed-release-1';
  readonly release: { readonly reason: string; readonly releasedBy: string; readonly releasedAt: string };
  readonly missing: {
    readonly id: string;
    readonly why: string;
    readonly reason: string;
    readonly witness: string;
    readonly recordedBy: string;
    readonly recordedAt: string;
  };
  readonly approved: SealedVersion | null;
};

export type SealedCredit = SealedParties & {
  readonly format: 'sealed-credit-1';
  readonly creditNote: {
    readonly id: string;
    readonly number: string;
    readonly issuedOn: string;
    readonly issuedAt: string;
    readonly reason: string;
  };
  readonly invoice: { readonly id: string; readonly number: string; readonly totalMinor: string };
  readonly currency: string;
  readonly lines: readonly {
    readonly kind: string;
    readonly workOrder: string | null;
    readonly line: string | null;
    readonly description: string;
    readonly netMinor: string;
  }[];
  readonly netMinor: string;
  readonly taxMinor: string;
  readonly totalMinor: string;
};

export type SealedRework = SealedWork & {
  readonly format: 'sealed-rework-1';
  readonly rework: {
    readonly of: { readonly id: string; readonly number: string };
    readonly reason: string | null;
    readonly writtenUpAt: string;
  };
};

/**
 * A change of the signing key. `rotated`: the key before it signs. `secret_changed`: what the key before it was made
 * from is gone, so the new key signs itself, and what was printed before then is all that ties it to what came before.
 */
export type SealedKey = {
  readonly format: 'sealed-key-1';
  readonly business: { readonly name: string };
  readonly cause: 'rotated' | 'secret_changed';
  readonly key: { readonly id: string; readonly publicKey: string; readonly madeAt: string };
  readonly before: { readonly id: string; readonly publicKey: string };
};

/** The format of what is under a seal of each kind. */
export const sealedFormats = {
  approval: 'sealed-approval-1',
  acceptance: 'sealed-acceptance-1',
  release: 'sealed-release-1',
  credit: 'sealed-credit-1',
  rework: 'sealed-rework-1',
  key: 'sealed-key-1',
} as const satisfies Record<SealKind, SealedContent['format']>;
