import type { Day, Decimal } from '@grainwright/domain';
import type { DocumentFact, DocumentParty, DocumentSeller } from './letterhead.ts';
import type { PageSize } from './sheet.ts';

/** An invoice as it was issued. What was paid or credited since is no part of it. Amounts: minor units of `currency`. */
export interface InvoiceModel {
  readonly size: PageSize;
  readonly seller: DocumentSeller;
  readonly buyer: DocumentParty;
  readonly number: string;
  readonly issuedOn: Day;
  readonly dueOn: Day;
  /** Null where it bills no work. */
  readonly workedOn: Day | null;
  readonly currency: string;
  /** The customer’s own numbers for all of it: “PO”, “88”. Those of a vehicle stand at the vehicle. */
  readonly theirNumbers: readonly DocumentFact[];
  readonly vehicles: readonly InvoiceVehicle[];
  /** What the visit adds once: after hours, trip, fees. */
  readonly charges: readonly InvoiceLine[];
  readonly taxes: readonly DocumentTax[];
  /** “Sales tax, exempt, resale certificate 32-1”, and what it exempts. */
  readonly exemptions: readonly { readonly words: string; readonly baseMinor: bigint }[];
  readonly netMinor: bigint;
  readonly taxMinor: bigint;
  /** `netMinor + taxMinor`. */
  readonly totalMinor: bigint;
  /** Deposits that the invoice was issued against. */
  readonly deposits: readonly { readonly words: string; readonly amountMinor: bigint }[];
  /** `totalMinor` less the deposits. */
  readonly dueMinor: bigint;
  /** What the business writes on its invoices; may be empty and have several lines. */
  readonly note: string;
}

export interface InvoiceVehicle {
  /** “2021 Hollis Meridian”: invented or real, as the work order names it. */
  readonly vehicle: string;
  /** “WO-0012, RO 4471, stock 220”. */
  readonly numbers: string;
  readonly lines: readonly InvoiceLine[];
  readonly subtotalMinor: bigint;
  /** Null where nobody signed. */
  readonly acceptance: DocumentAcceptance | null;
  readonly pictures: readonly PicturePair[];
  /** Which pictures are covered or gone, a sentence each. */
  readonly pictureNotes?: readonly string[];
}

export interface DocumentAcceptance {
  /** “Accepted”, “Accepted with a remark”, “Not accepted”. */
  readonly outcome: string;
  readonly name: string;
  /** “vehicle’s owner”; may be empty. */
  readonly role: string;
  readonly on: Day;
  readonly remark: string;
}

export interface InvoiceLine {
  readonly code: string;
  readonly description: string;
  /** How the price came about; may be empty. */
  readonly trail: string;
  readonly laborMinor: bigint;
  readonly materialsMinor: bigint;
  readonly netMinor: bigint;
}

/** A tax by place and component, on its base, as it was rounded. */
export interface DocumentTax {
  readonly areaName: string;
  readonly component: string;
  readonly ratePercent: Decimal;
  readonly baseMinor: bigint;
  readonly taxMinor: bigint;
}

/** The same part of a vehicle before and after the work. */
export interface PicturePair {
  /** What they show: “Driver seat, tear”. */
  readonly words: string;
  readonly before: DocumentPicture | null;
  readonly after: DocumentPicture | null;
}

export interface DocumentPicture {
  /** JPEG. */
  readonly bytes: Uint8Array;
  readonly takenOn: Day;
}
