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
  'invoiced',
  'paid',
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

export interface DemoJob {
  readonly account: string;
  readonly technician: string;
  /** A day of the past, or null for today, a while before now. */
  readonly day: string | null;
  readonly time: string;
  readonly vehicle: DemoVehicle;
  readonly ownNumber?: string;
  readonly roNumber?: string;
  readonly poNumber?: string;
  readonly owner?: { readonly name: string; readonly phone: string };
  readonly odometerMiles?: string;
  readonly replacement?: { readonly amount: string; readonly note: string };
  readonly lines: readonly DemoLine[];
  readonly until: DemoStage;
  readonly approver: string;
  readonly signer?: {
    readonly name: string;
    readonly role: 'vehicle_owner' | 'account_representative';
    readonly remark?: string;
  };
  readonly payment?: {
    readonly on: string;
    readonly method: string;
    readonly amount: string;
    readonly applied: string;
    readonly reference: string;
  };
}
