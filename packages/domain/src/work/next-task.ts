import type { LineId } from '../ids.ts';
import type { PhotoPurpose } from './photos.ts';
import type { WorkOrderState } from './state.ts';

/** As much of a work order as decides what the technician does next. */
export interface TaskFacts {
  readonly state: WorkOrderState;
  /** Null: it is not on hold. */
  readonly holdReason: string | null;
  /** The newest answer about the done work was a no: it has to be put right. */
  readonly notAccepted: boolean;
  readonly lines: readonly {
    readonly id: LineId;
    readonly repairsDamage: boolean;
    /** Why it has no price yet; null when it has one. */
    readonly unpriced: string | null;
    readonly answer: 'approved' | 'declined' | null;
    /** Whether it sells a key remote’s case, which has to be tested first. */
    readonly keyRemote: boolean;
  }[];
  readonly testedKeys: readonly LineId[];
  readonly photos: readonly { readonly lineId: LineId | null; readonly purpose: PhotoPurpose }[];
}

/** The one thing to do next on a work order, at the line where it is about one. */
export type NextTask = { readonly kind: TaskOfAll } | { readonly kind: TaskOfLine; readonly lineId: LineId };

type TaskOfAll =
  | 'add_line'
  | 'send'
  | 'await_approval'
  | 'await_hold'
  | 'start'
  | 'finish'
  | 'put_right'
  | 'hand_over'
  | 'nothing';
type TaskOfLine = 'price' | 'before_photo' | 'test_key' | 'after_photo';
export type TaskKind = NextTask['kind'];

/** What the technician does next, by the state and what is still missing. A hold stops a start and nothing else. */
export function nextTask(facts: TaskFacts): NextTask {
  switch (facts.state) {
    case 'written_up':
      return beforeSending(facts);
    case 'awaiting_approval':
      return { kind: 'await_approval' };
    case 'approved':
      return { kind: facts.holdReason === null ? 'start' : 'await_hold' };
    case 'in_work':
      return testKey(facts) ?? afterPhoto(facts) ?? { kind: 'finish' };
    case 'done':
      return { kind: facts.notAccepted ? 'put_right' : 'hand_over' };
    case 'accepted':
    case 'invoiced':
    case 'paid':
    case 'declined':
    case 'void':
    case 'written_off':
      return { kind: 'nothing' };
  }
}

function beforeSending(facts: TaskFacts): NextTask {
  const { lines } = facts;
  if (lines.length === 0) return { kind: 'add_line' };
  const unpriced = lines.find((line) => line.unpriced !== null);
  if (unpriced !== undefined) return { kind: 'price', lineId: unpriced.id };
  const unseen = lines.find((line) => line.repairsDamage && !hasPhoto(facts, line.id, 'before'));
  return unseen === undefined ? { kind: 'send' } : { kind: 'before_photo', lineId: unseen.id };
}

/** A key remote is tested before its case is put on. */
function testKey({ lines, testedKeys }: TaskFacts): NextTask | null {
  const open = lines.find(
    (line) => line.keyRemote && line.answer === 'approved' && !testedKeys.includes(line.id),
  );
  return open === undefined ? null : { kind: 'test_key', lineId: open.id };
}

function afterPhoto(facts: TaskFacts): NextTask | null {
  const open = facts.lines.find(
    (line) => line.answer === 'approved' && line.repairsDamage && !hasPhoto(facts, line.id, 'after'),
  );
  return open === undefined ? null : { kind: 'after_photo', lineId: open.id };
}

function hasPhoto({ photos }: TaskFacts, lineId: LineId, purpose: PhotoPurpose): boolean {
  return photos.some((each) => each.lineId === lineId && each.purpose === purpose);
}

/** What is left to do at a stop, in the order of a job, each kind with how it is said of one and of several vehicles. */
const leftovers = [
  { of: ['add_line', 'price'], one: 'to write up', several: 'to write up' },
  { of: ['before_photo'], one: 'to photograph', several: 'to photograph' },
  { of: ['send'], one: 'to send', several: 'to send' },
  { of: ['await_approval'], one: 'waits for approval', several: 'wait for approval' },
  { of: ['await_hold'], one: 'on hold', several: 'on hold' },
  { of: ['start'], one: 'to start', several: 'to start' },
  { of: ['test_key', 'after_photo', 'finish'], one: 'to finish', several: 'to finish' },
  { of: ['put_right'], one: 'to put right', several: 'to put right' },
  { of: ['hand_over'], one: 'to accept', several: 'to accept' },
] as const satisfies readonly { of: readonly TaskKind[]; one: string; several: string }[];

/** E.g. “2 to photograph, 1 waits for approval”; empty where nothing is left. */
export function leftToDo(tasks: readonly TaskKind[]): string {
  return leftovers
    .map(({ of, one, several }) => {
      const kinds: readonly TaskKind[] = of;
      const count = tasks.filter((task) => kinds.includes(task)).length;
      return count === 0 ? '' : `${count} ${count === 1 ? one : several}`;
    })
    .filter((words) => words !== '')
    .join(', ');
}
