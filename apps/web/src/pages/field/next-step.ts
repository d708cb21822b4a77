import { type NextTask, nextTask, type WorkOrderId } from '@grainwright/domain';
import type { WorkOrderLineView, WorkOrderView } from '@grainwright/operations';

/** As much of a work order as decides what comes next. */
export interface StepFacts extends Pick<WorkOrderView, 'id' | 'state' | 'holdReason' | 'reworkOf'> {
  readonly lines: readonly Pick<
    WorkOrderLineView,
    'id' | 'repairsDamage' | 'unpriced' | 'answer' | 'keyRemote'
  >[];
  readonly keyTests: readonly Pick<WorkOrderView['keyTests'][number], 'lineId'>[];
  readonly acceptance: Pick<NonNullable<WorkOrderView['acceptance']>, 'outcome'> | null;
  readonly photos: readonly Pick<WorkOrderView['photos'][number], 'lineId' | 'purpose'>[];
}

/** The one thing to do next on a work order: a page to go to, or something to send at once. */
export interface NextStep {
  readonly label: string;
  readonly href: string;
  readonly method: 'get' | 'post';
}

/** What the technician does next, by the state and what is still missing. */
export function nextStep(view: StepFacts): NextStep {
  const notAccepted = view.acceptance?.outcome === 'not_accepted';
  const testedKeys = view.keyTests.map(({ lineId }) => lineId);
  return stepOf(view.id, nextTask({ ...view, testedKeys, notAccepted }), view.reworkOf !== null);
}

/** Where a task is done. Nobody has to approve a rework. */
export function stepOf(id: WorkOrderId, task: NextTask, rework: boolean): NextStep {
  const path = `/field/work-orders/${id}`;
  switch (task.kind) {
    case 'add_line':
      return go('Add a line', `${path}/lines/new`);
    case 'price':
      return go('Put a price on the line', `${path}/lines/${task.lineId}?change=repair`);
    case 'before_photo':
      return go('Take the before picture', `${path}/photos?line_id=${task.lineId}&purpose=before`);
    case 'send': {
      const label = rework ? 'Go on: nobody has to approve it' : 'Send for approval';
      return { label, href: `${path}/estimate`, method: 'post' };
    }
    case 'start':
    case 'await_hold':
      return go('Start: read the cautions', `${path}/start`);
    case 'test_key':
      return go('Test the key remote', `${path}/key-test/${task.lineId}`);
    case 'after_photo':
      // What proves the work is seen before its end: the page knows which picture is next.
      return go('Take the next pictures', `${path}/photos`);
    case 'finish':
      return go('Finish the work', `${path}/finish`);
    case 'put_right':
      return go('Put right? Ask again', `${path}/acceptance`);
    case 'hand_over':
      return go('Hand over for acceptance', `${path}/acceptance`);
    case 'await_approval':
    case 'nothing':
      return go('Back to today’s stops', '/field');
  }
}

function go(label: string, href: string): NextStep {
  return { label, href, method: 'get' };
}
