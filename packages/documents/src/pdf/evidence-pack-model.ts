import type { Day } from '@grainwright/domain';
import type { DocumentFact, DocumentParty, DocumentSeller } from './letterhead.ts';
import type { PageSize } from './sheet.ts';

/**
 * What a payer files as the proof of one repair. Everything is in words; moments are written as the business’s clock
 * has them. The model says nothing that its account may not read.
 */
export interface EvidencePackModel {
  readonly size: PageSize;
  readonly seller: DocumentSeller;
  readonly buyer: DocumentParty;
  /** “WO-1004”. */
  readonly number: string;
  /** The day of the newest thing in it. */
  readonly asOf: Day;
  readonly facts: readonly DocumentFact[];
  readonly vehicle: { readonly words: string; readonly facts: readonly DocumentFact[] };
  readonly lines: readonly EvidenceLine[];
  /** Of the vehicle as a whole: the walk-around. */
  readonly vehiclePictures: readonly EvidencePicture[];
  readonly prices: EvidencePrices | null;
  /** What was answered, in the order in which it happened. */
  readonly answers: readonly EvidenceAnswer[];
  readonly proof: EvidenceProof;
}

export interface EvidenceLine {
  readonly name: string;
  /** “Damage”, “cut or tear, 2.2 in”; “Done”, “filled and grained”. */
  readonly facts: readonly DocumentFact[];
  readonly pictures: readonly EvidencePicture[];
  /** Pictures of it that are in the archive only. */
  readonly furtherPictures: number;
}

export interface EvidencePicture {
  /** Its number in the archive and in the table of digests. */
  readonly number: number;
  /** “Before”, “After heat”. */
  readonly purpose: string;
  /** JPEG; null where there is nothing to show, and `notes` say why. */
  readonly bytes: Uint8Array | null;
  /** “Aug 5, 2026, 9:12 AM by the camera”. */
  readonly taken: string;
  /** “Parts covered on Aug 9, 2026”, “Taken again: picture 4”, “Kept though blurred: no light in the trunk”. */
  readonly notes: readonly string[];
}

export interface EvidencePrices {
  readonly currency: string;
  readonly rows: readonly EvidencePriceRow[];
  readonly totalMinor: bigint;
  /** What the repair comes to against a new part, in sentences; says so where nobody quoted one. */
  readonly againstNewPart: readonly string[];
}

export interface EvidencePriceRow {
  readonly words: string;
  /** “Declined: sold as it is”; empty for a charge. */
  readonly answer: string;
  /** Null where it is not billed. */
  readonly amountMinor: bigint | null;
}

/** An approval, an acceptance, a refusal, an absence, a release. */
export interface EvidenceAnswer {
  readonly heading: string;
  readonly facts: readonly DocumentFact[];
  /** Stands beside the facts. */
  readonly signature: EvidenceSignature | null;
  /** What was answered to, below them: words that were signed, digests. */
  readonly answered: readonly DocumentFact[];
}

/** A drawn signature: an SVG path in its view box “left top width height”. */
export interface EvidenceSignature {
  readonly name: string;
  readonly path: string;
  readonly viewBox: string;
}

export interface EvidenceProof {
  readonly pictures: readonly {
    readonly number: number;
    readonly words: string;
    readonly sha256: string;
  }[];
  /** Which of the pictures are under a seal, what stands for the others, and why, in sentences. */
  readonly picturesSealed: readonly string[];
  readonly seals: readonly {
    readonly number: number;
    readonly words: string;
    readonly sha256: string;
  }[];
  /** The newest sealed day; null before the first one is over. */
  readonly day: { readonly day: Day; readonly root: string; readonly sha256: string } | null;
  readonly keyId: string;
  /** How anybody checks it, in sentences. */
  readonly howToCheck: readonly string[];
}
