import type { PlaceRow, WarnedPhotoRow } from '@grainwright/db';
import type {
  AcceptanceRule,
  AccountId,
  Day,
  Instant,
  KeyVerdict,
  LineId,
  PersonId,
  PhotoId,
  PhotoPurpose,
  PhotoRule,
  SiteId,
  StaffRole,
  VersionId,
  VisitId,
  WorkOrderId,
  WorkOrderState,
} from '@grainwright/domain';
import type { StoredLine } from '../work-orders/line-facts.ts';

/**
 * What a phone takes along for a day without signal: who works, their stops, where a write-up can be made and by which
 * rules, and the open work orders of the day with all that it takes to go on with them. No prices but the list prices
 * that the technician sees anyway.
 */
export interface PhoneSnapshot {
  readonly takenAt: Instant;
  readonly today: Day;
  readonly person: {
    readonly tenantId: string;
    readonly id: PersonId;
    readonly name: string;
    readonly role: StaffRole;
  };
  readonly business: {
    readonly name: string;
    readonly phone: string;
    readonly currency: string;
    readonly timeZone: string;
  };
  readonly stops: readonly PhoneStop[];
  readonly places: readonly PhonePlace[];
  readonly repairs: readonly PhoneRepair[];
  readonly factors: readonly { readonly code: string; readonly name: string; readonly percent: string }[];
  readonly workOrders: readonly PhoneWorkOrder[];
}

/** A stop of today. What is left to do there is told by its work orders. */
export interface PhoneStop {
  readonly visitId: VisitId;
  readonly day: Day;
  readonly position: number;
  readonly accountId: AccountId;
  readonly accountName: string;
  readonly siteId: SiteId;
  readonly siteName: string;
  readonly siteAddress: string;
  readonly afterHours: boolean;
  readonly rush: boolean;
  readonly phone: { readonly name: string; readonly phone: string } | null;
}

/** Where a write-up can be made, and by which rules of its account. */
export interface PhonePlace {
  readonly accountId: AccountId;
  readonly accountName: string;
  readonly accountKind: string;
  readonly siteId: SiteId;
  readonly siteName: string;
  readonly siteAddress: string;
  readonly ownNumberKind: PlaceRow['ownNumberKind'];
  readonly ownNumberRequired: boolean;
  readonly requiresRo: boolean;
  readonly requiresPo: boolean;
  readonly openedOn: Day;
  readonly endedOn: Day | null;
  readonly rules: PhoneRules;
}

/** What the account asks of evidence and consent. */
export interface PhoneRules {
  readonly photoRule: PhotoRule;
  readonly acceptanceRule: AcceptanceRule;
  readonly showsPricesAtAcceptance: boolean;
  /** In words what the account agreed to beforehand; null: a person has to be asked. */
  readonly standing: string | null;
}

/** A kind of repair of the price book. Amounts at list, minor units as text. */
export interface PhoneRepair {
  readonly family: string;
  readonly measured: boolean;
  readonly repairsDamage: boolean;
  readonly rates: readonly {
    readonly code: string;
    readonly repair: string;
    readonly overInches: string | null;
    readonly toInches: string | null;
    readonly part: string | null;
    readonly material: string | null;
    readonly listMinor: string;
  }[];
}

/** An open work order as it stands on the server, or as this phone has written it up. */
export interface PhoneWorkOrder {
  readonly id: WorkOrderId;
  /** Null until the server has given it one. */
  readonly number: string | null;
  readonly state: WorkOrderState;
  readonly holdReason: string | null;
  readonly accountId: AccountId;
  readonly accountName: string;
  readonly accountKind: string;
  readonly rules: PhoneRules;
  readonly visitId: VisitId;
  readonly day: Day;
  readonly vehicle: {
    readonly vin: string | null;
    readonly lastEight: string | null;
    readonly modelYear: number | null;
    readonly make: string;
    readonly model: string;
    readonly color: string;
  };
  readonly ownNumberKind: PlaceRow['ownNumberKind'];
  readonly ownNumber: string;
  readonly roNumber: string;
  readonly poNumber: string;
  readonly ownerName: string;
  readonly isRework: boolean;
  /** The version that was answered, or that this phone sends. */
  readonly versionId: VersionId | null;
  readonly lines: readonly PhoneLine[];
  readonly photos: readonly PhonePhoto[];
  /** What was said against photos, and what became of it. */
  readonly warned: readonly WarnedPhotoRow[];
  /** What recordings show, which do for pictures of it. */
  readonly recorded: readonly PhotoPurpose[];
  readonly stopPoints: readonly {
    readonly lineId: LineId;
    readonly photoId: PhotoId;
    readonly note: string;
  }[];
  /** Lines whose seam over a side airbag was released. */
  readonly releasedLines: readonly LineId[];
  readonly testedKeys: readonly LineId[];
  readonly notAccepted: boolean;
  readonly airbagLampBefore: 'on' | 'off' | null;
}

export interface PhoneLine extends StoredLine {
  readonly layers: number | null;
  /** In inches, as text. */
  readonly measuredInches: string | null;
  readonly answer: 'approved' | 'declined' | null;
  /** How a key remote did in its newest tests; null where the line is none. */
  readonly keyTest: KeyVerdict | null;
  /** The sizes that it is billed by: over one, up to and including the other, in inches as text; null while that is not known. */
  readonly billedBand: { readonly overInches: string; readonly toInches: string } | null;
}

export interface PhonePhoto {
  readonly id: PhotoId;
  readonly lineId: LineId | null;
  readonly purpose: PhotoPurpose;
  readonly sha256: string;
}
