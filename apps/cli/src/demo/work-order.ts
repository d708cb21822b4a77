import type { DrawnPicture } from '@grainwright/evidence';
import type { LineInput } from '@grainwright/operations';
import type { DemoVehicle } from './vehicles.ts';

/** How far along its path a work order of the demo has come. */
export const demoStages = [
  'written_up',
  'awaiting_approval',
  'approved',
  'in_work',
  'done',
  'accepted',
] as const;
export type DemoStage = (typeof demoStages)[number];

export interface DemoLine {
  readonly line: Partial<LineInput>;
  /** How its damage is drawn; null where nothing is damaged. */
  readonly picture: Pick<DrawnPicture, 'part' | 'trim' | 'damage' | 'inches' | 'lifted'> | null;
  /** Pictures that prove what came to light: taken between before and after. */
  readonly proof: readonly ('after_heat' | 'progress')[];
  readonly declined?: string;
}

/** What a new part would cost, fitted: a sum, or the part and the labor. Without a part, for all of the damage together. */
export interface DemoQuote {
  readonly part?: string;
  readonly side?: string;
  readonly amount?: string;
  readonly partPrice?: string;
  readonly fittingHours?: string;
  readonly hourlyRate?: string;
  readonly note: string;
}

/** One vehicle of a visit, from the write-up on. Its number is the next one: the order of telling is the order of numbers. */
export interface DemoWorkOrder {
  readonly vehicle: DemoVehicle;
  readonly ownNumber?: string;
  readonly roNumber?: string;
  readonly poNumber?: string;
  readonly owner?: { readonly name: string; readonly phone: string };
  readonly odometerMiles?: string;
  readonly quotes?: readonly DemoQuote[];
  readonly lines: readonly DemoLine[];
  /** Lines found on the day, after the first ones were approved: they need a new consent. */
  readonly foundLater?: readonly DemoLine[];
  readonly until: DemoStage;
  /** Who answers where no standing approval does: a contact's e-mail address, or the customer beside the vehicle. */
  readonly answeredBy?: string | 'in_person';
  readonly signer?: {
    readonly name: string;
    readonly role: 'vehicle_owner' | 'account_representative';
    readonly remark?: string;
  };
  /** A stop point on the second line, by its note. */
  readonly stopPoint?: string;
  readonly voided?: {
    readonly reason: 'duplicate' | 'vehicle_not_there';
    readonly note: string;
    /** The number of the work order that it duplicates. */
    readonly duplicateOf?: number;
  };
  readonly reworkOf?: { readonly number: number; readonly reason: 'finish' | 'color' };
  readonly hold?: string;
  /** A purchase order that comes when the work is done, given by a contact. */
  readonly poLater?: { readonly number: string; readonly cap: string; readonly by: string };
  /** Nobody signed: why, and who saw it; let go by the office where it says so. */
  readonly unsigned?: {
    readonly why: 'refused' | 'absent';
    readonly reason: string;
    readonly witness: string;
    readonly released?: string;
  };
  readonly technicianMinutes?: number;
  readonly materialsCost?: string;
}

/** The vehicles that one technician sees at one account in one go; invoiced together when they are accepted. */
export interface DemoVisit {
  readonly account: string;
  readonly technician: string;
  /** The day and time of day; or, of the running week, so many days back, or minutes before the demo is made. */
  readonly day: string | { readonly daysBack: number } | { readonly minutesBack: number };
  readonly time: string;
  readonly afterHours?: true;
  /** Accepted, but nobody has issued the invoice yet. */
  readonly notInvoiced?: true;
  readonly workOrders: readonly DemoWorkOrder[];
}
