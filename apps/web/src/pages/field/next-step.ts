import type { WorkOrderLineView, WorkOrderView } from '@grainwright/operations';

/** As much of a work order as decides what comes next. */
export interface StepFacts extends Pick<WorkOrderView, 'id' | 'state' | 'reworkOf'> {
  readonly lines: readonly Pick<
    WorkOrderLineView,
    'id' | 'repairsDamage' | 'unpriced' | 'answer' | 'keyRemote'
  >[];
  readonly keyTests: readonly Pick<WorkOrderView['keyTests'][number], 'lineId'>[];
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
  const path = `/field/work-orders/${view.id}`;
  switch (view.state) {
    case 'written_up':
      return beforeSending(view, path);
    case 'approved':
      return go('Start: read the cautions', `${path}/start`);
    case 'in_work':
      return keyTest(view, path) ?? afterPhoto(view, path) ?? go('Finish the work', `${path}/finish`);
    case 'done':
      return go('Hand over for acceptance', `${path}/acceptance`);
    case 'awaiting_approval':
    case 'accepted':
    case 'invoiced':
    case 'paid':
    case 'declined':
    case 'void':
    case 'written_off':
      return go('Back to today’s stops', '/field');
  }
}

function beforeSending(view: StepFacts, path: string): NextStep {
  if (view.lines.length === 0) return go('Add a line', `${path}/lines/new`);
  const unpriced = view.lines.find((line) => line.unpriced !== null);
  if (unpriced !== undefined)
    return go('Put a price on the line', `${path}/lines/${unpriced.id}?change=repair`);
  const unseen = view.lines.find((line) => line.repairsDamage && !hasPhoto(view, line.id, 'before'));
  if (unseen !== undefined) return photo('Take the before picture', path, unseen.id, 'before');
  const label = view.reworkOf === null ? 'Send for approval' : 'Go on: nobody has to approve it';
  return { label, href: `${path}/estimate`, method: 'post' };
}

/** A key remote is tested before its case is put on. */
function keyTest({ lines, keyTests }: StepFacts, path: string): NextStep | null {
  const open = lines.find(
    (line) =>
      line.keyRemote && line.answer === 'approved' && !keyTests.some(({ lineId }) => lineId === line.id),
  );
  return open === undefined ? null : go('Test the key remote', `${path}/key-test/${open.id}`);
}

function afterPhoto(view: StepFacts, path: string): NextStep | null {
  const open = view.lines.find(
    (line) => line.answer === 'approved' && line.repairsDamage && !hasPhoto(view, line.id, 'after'),
  );
  return open === undefined ? null : photo('Take the next pictures', path, open.id, 'after');
}

function hasPhoto({ photos }: StepFacts, lineId: string, purpose: string): boolean {
  return photos.some((each) => each.lineId === lineId && each.purpose === purpose);
}

function photo(label: string, path: string, lineId: string, purpose: 'before' | 'after'): NextStep {
  return go(label, `${path}/photos?line_id=${lineId}&purpose=${purpose}`);
}

function go(label: string, href: string): NextStep {
  return { label, href, method: 'get' };
}
