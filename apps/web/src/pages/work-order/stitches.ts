import { type Instant, photoPurposes, type WorkOrderState, workOrderStates } from '@grainwright/domain';
import type { StepView, WorkOrderView } from '@grainwright/operations';
import { instantShown } from '../../look/figures.ts';
import type { Stitch } from '../../look/seam.ts';
import { waitsForWords } from './state-words.ts';

/** A work order's life as stitches: what happened, oldest first, then what is still to come. */
export function stitchesOf(
  view: Pick<WorkOrderView, 'state' | 'waitsFor' | 'steps' | 'photos' | 'reworkOf'>,
  timeZone: string,
): readonly Stitch[] {
  const happened = [
    ...view.steps.map((step) => stepAt(step, timeZone)),
    ...photographed(view, timeZone),
  ].toSorted((a, b) => (a.at === b.at ? a.rank - b.rank : a.at < b.at ? -1 : 1));
  const ahead = stillOpen[view.state].filter((label) => view.reworkOf === null || !ofMoney.includes(label));
  const open = ahead.map((label, index): Stitch => {
    const waits = index === 0 ? `waits for ${waitsForWords[view.waitsFor]}` : null;
    return { label, done: null, note: waits };
  });
  return [...happened.map(({ stitch }) => stitch), ...open];
}

interface Dated {
  readonly at: Instant;
  /** Of things at the same moment: written up, then photographed, then the rest as it was written. */
  readonly rank: number;
  readonly stitch: Stitch;
}

function stepAt(step: StepView, timeZone: string): Dated {
  const by = byWhom(step);
  const label = eventWords[step.event] ?? capital(workOrderStates[step.toState]);
  return {
    at: step.happenedAt,
    rank: step.event === 'written_up' ? 0 : 2,
    stitch: { label, done: { when: instantShown(step.happenedAt, timeZone), by }, note: step.note },
  };
}

/** Somebody else answered for an acceptance, and is named in the note. */
function byWhom({ event, personName }: StepView): string | undefined {
  if (personName === null || ofNobody.includes(event)) return undefined;
  return event === 'accepted' || event === 'not_accepted' ? `recorded by ${personName}` : personName;
}

/** It came about by itself: whoever is on record had sent the estimate or the link. */
const ofNobody: readonly string[] = ['approved_by_rule', 'lapsed', 'reminded', 'no_answer'];

/** The photos are one stitch, where the first of them came in. */
function photographed({ photos }: Pick<WorkOrderView, 'photos'>, timeZone: string): readonly Dated[] {
  const first = photos.map((photo) => photo.receivedAt).toSorted()[0];
  if (first === undefined) return [];
  const purposes = [...new Set(photos.map((photo) => photoPurposes[photo.purpose]))].join(', ');
  const count = photos.length === 1 ? '1 photo' : `${photos.length} photos`;
  return [
    {
      at: first,
      rank: 1,
      stitch: {
        label: 'Photographed',
        done: { when: instantShown(first, timeZone) },
        note: `${count}: ${purposes}`,
      },
    },
  ];
}

const eventWords: Readonly<Record<string, string>> = {
  written_up: 'Written up',
  submitted: 'Sent for approval',
  asked: 'Asked by e-mail',
  passed_on: 'Passed on',
  approved: 'Approved',
  approved_by_rule: 'Approved by standing approval',
  declined: 'Declined',
  lapsed: 'Lapsed without an answer',
  reminded: 'Reminded',
  seam_released: 'Seam released',
  another_damage: 'Another damage, not written up twice',
  held: 'Put on hold',
  hold_lifted: 'Hold lifted',
  key_tested: 'Key remote tested',
  stop_point: 'Stopped on purpose',
  not_signed: 'Not signed',
  owner_asked: 'Owner asked by a link',
  no_answer: 'No answer',
  started: 'Work started',
  finished: 'Work done',
  not_accepted: 'Not accepted',
  accepted: 'Accepted',
  released: 'Released without a signature',
  reworked_done: 'Closed as a rework',
  invoiced: 'Invoiced',
  settled: 'Paid',
  payment_came_back: 'Payment came back',
  recovered: 'Owed again after a write-off',
  invoice_voided: 'Taken off its invoice',
  price_changed: 'Estimate changed',
  voided: 'Voided',
  written_off: 'Written off',
};

/** A rework without charge ends before them. */
const ofMoney: readonly string[] = ['Invoiced', 'Paid'];

const path = [
  'Sent for approval',
  'Approved',
  'Work started',
  'Work done',
  'Accepted',
  'Invoiced',
  'Paid',
] as const;

const stillOpen: Readonly<Record<WorkOrderState, readonly string[]>> = {
  written_up: path,
  awaiting_approval: path.slice(1),
  approved: path.slice(2),
  in_work: path.slice(3),
  done: path.slice(4),
  accepted: path.slice(5),
  invoiced: path.slice(6),
  paid: [],
  declined: [],
  void: [],
  written_off: [],
};

function capital(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}
