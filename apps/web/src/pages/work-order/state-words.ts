import { type WaitsFor, type WorkOrderState, workOrderStates } from '@grainwright/domain';
import type { Html } from '../../look/html.ts';
import { type StatusKind, statusWord } from '../../look/notices.ts';

/** A work order's number as people say it; null: it was written up without signal and has none yet. */
export function workOrderNumber(number: bigint | null): string {
  return number === null ? 'Number comes when sent' : `WO-${number}`;
}

/** Where it stands, as a word with its shape. */
export function stateShown(state: WorkOrderState): Html {
  return statusWord(stateKinds[state], workOrderStates[state]);
}

const stateKinds: Readonly<Record<WorkOrderState, StatusKind>> = {
  written_up: 'moving',
  awaiting_approval: 'waiting',
  approved: 'moving',
  in_work: 'moving',
  done: 'waiting',
  accepted: 'settled',
  invoiced: 'waiting',
  paid: 'settled',
  declined: 'stopped',
  void: 'stopped',
  written_off: 'stopped',
};

/** What it waits for, in words; what waits for nobody is over, and only a filter says so. */
export const waitsForWords = {
  technician: 'the technician',
  hold: 'its hold to be lifted',
  approval: 'approval',
  acceptance: 'acceptance',
  po: 'a number from the account',
  invoice: 'its invoice',
  money: 'money',
  nobody: 'nothing more',
} as const satisfies Record<WaitsFor, string>;

export const waitsFors = [
  'technician',
  'hold',
  'approval',
  'acceptance',
  'po',
  'invoice',
  'money',
  'nobody',
] as const satisfies readonly WaitsFor[];

export function isWaitsFor(text: string): text is WaitsFor {
  return Object.hasOwn(waitsForWords, text);
}
