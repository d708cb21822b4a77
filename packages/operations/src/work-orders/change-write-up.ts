import {
  findPlace,
  findPurchaseOrder,
  findWorkOrder,
  type JoinedWorkOrder,
  listStandingQuotes,
  updateWriteUp,
} from '@grainwright/db';
import {
  formatMinor,
  ok,
  purchaseOrderCounts,
  type Result,
  refuse,
  takesNumbers,
  type WorkOrderId,
  workOrderStates,
} from '@grainwright/domain';
import { thenInvoiceAtOnce } from '../billing/issue-at-once.ts';
import { type Actor, performAsStaff, record, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { toStoredJson } from '../stored-json.ts';
import { openWorkOrder } from '../work-order-path.ts';
import { loadWorkOrder } from './load-work-order.ts';
import { placeQuote, takesQuotes, wholeQuote, withdrawQuotes } from './place-quote.ts';
import {
  type ChangeableWords,
  type ReadChangeable,
  readChangeable,
  readReplacement,
} from './read-write-up.ts';
import type { WorkOrderView } from './work-order-view.ts';

/** What to change; what is left out stays, empty text takes it away. */
export interface ChangeWriteUpInput extends Partial<ChangeableWords> {
  readonly workOrderId: WorkOrderId;
}

/**
 * Corrects or completes a write-up: the account's numbers, the vehicle's owner, the odometer, the replacement quote.
 * After acceptance only numbers that are missing can still come, until it is invoiced: what is there was part of what
 * was signed. A purchase order that does not count on the day of the work bills nothing, so it counts as missing.
 * Refuses with `wrong_state`, `number_missing`, `invalid_input`, `invalid_money` or `not_found`.
 */
export async function changeWriteUp(
  services: Services,
  actor: Actor,
  input: ChangeWriteUpInput,
): Promise<Result<WorkOrderView>> {
  const { workOrderId } = input;
  const changed = await performAsStaff(services, actor, 'give_numbers', (scope) => change(scope, input));
  if (!changed.ok || changed.value.state !== 'accepted') return changed;
  await thenInvoiceAtOnce(services, actor, workOrderId, changed);
  return performAsStaff(services, actor, 'give_numbers', (scope) => loadWorkOrder(scope, workOrderId));
}

async function change(scope: Scope, input: ChangeWriteUpInput): Promise<Result<WorkOrderView>> {
  const opened = await openWorkOrder(scope, input.workOrderId);
  if (!opened.ok) return opened;
  const found = await findWorkOrder(scope.tx, input.workOrderId);
  if (found === null) throw new Error('a locked work order is gone');
  const read = await readChange(scope, found, input);
  if (!read.ok) return read;
  const quoted = await changeQuote(scope, found, input);
  if (!quoted.ok) return quoted;
  await updateWriteUp(scope.tx, input.workOrderId, read.value);
  if (Object.keys(read.value).length > 0) await recordChange(scope, found, read.value);
  return loadWorkOrder(scope, input.workOrderId);
}

async function readChange(
  scope: Scope,
  found: JoinedWorkOrder,
  input: ChangeWriteUpInput,
): Promise<Result<Partial<ReadChangeable>>> {
  const place = await findPlace(scope.tx, found.account.id, found.site.id);
  if (place === null) throw new Error('a work order’s place is gone');
  const { workOrderId: _id, ...words } = input;
  const read = readChangeable({ ...asTyped(found), ...given(words) }, place);
  if (!read.ok) return read;
  const before: ReadChangeable = found.workOrder;
  const changed: Partial<ReadChangeable> = Object.fromEntries(
    fields.filter((name) => read.value[name] !== before[name]).map((name) => [name, read.value[name]]),
  );
  const allowed = await checkState(scope, found, changed);
  return allowed.ok ? ok(changed) : allowed;
}

const numberFields = ['ownNumber', 'roNumber', 'poNumber'] as const;
const fields = [
  ...numberFields,
  'ownerName',
  'ownerPhone',
  'odometerMiles',
] as const satisfies readonly (keyof ReadChangeable)[];

async function checkState(
  { tx }: Scope,
  { workOrder, account, visit }: JoinedWorkOrder,
  changed: Partial<ReadChangeable>,
): Promise<Result<true>> {
  const names = Object.keys(changed);
  if (names.length === 0) return ok(true);
  const { state } = workOrder;
  if (!takesNumbers(state))
    return refuse('wrong_state', `This work order is ${workOrderStates[state]}, so nothing on it changes.`);
  if (state !== 'accepted') return ok(true);
  const order = await findPurchaseOrder(tx, account.id, workOrder.poNumber);
  const counts = order === null || purchaseOrderCounts(order, [visit.day]).ok;
  const missing: readonly string[] = numberFields.filter(
    (name) => workOrder[name] === '' || (name === 'poNumber' && !counts),
  );
  if (names.every((name) => missing.includes(name))) return ok(true);
  return refuse(
    'wrong_state',
    'It was accepted as it stands. Only numbers that are missing can still be added.',
  );
}

/** The one sum for all damaged parts together; quotes by part are given and taken back by themselves. */
async function changeQuote(
  scope: Scope,
  { workOrder }: JoinedWorkOrder,
  { workOrderId, replacement, replacementNote }: ChangeWriteUpInput,
): Promise<Result<true>> {
  if (replacement === undefined && replacementNote === undefined) return ok(true);
  const { currency } = scope.business;
  const standing = await listStandingQuotes(scope.tx, workOrderId);
  const whole = standing.find(({ part }) => part === '');
  const typed = {
    replacement: replacement ?? (whole === undefined ? '' : formatMinor(whole.amountMinor, currency)),
    replacementNote: replacementNote ?? whole?.note ?? '',
  };
  const read = readReplacement(typed, currency);
  if (!read.ok) return read;
  const same = read.value?.amountMinor === whole?.amountMinor && read.value?.note === whole?.note;
  if (same) return ok(true);
  const open = takesQuotes(workOrder.state);
  if (!open.ok) return open;
  if (read.value !== null) await placeQuote(scope, wholeQuote(scope, workOrderId, read.value));
  else if (whole !== undefined) await withdrawQuotes(scope, workOrderId, [whole]);
  return ok(true);
}

/** What is on record, as it would be typed. */
function asTyped({ workOrder }: JoinedWorkOrder): Omit<ChangeableWords, 'replacement' | 'replacementNote'> {
  const { ownNumber, roNumber, poNumber, ownerName, ownerPhone, odometerMiles } = workOrder;
  return {
    ownNumber,
    roNumber,
    poNumber,
    ownerName,
    ownerPhone,
    odometerMiles: odometerMiles?.toString() ?? '',
  };
}

function given(words: Partial<ChangeableWords>): Partial<ChangeableWords> {
  return Object.fromEntries(Object.entries(words).filter(([, text]) => text !== undefined));
}

async function recordChange(
  scope: Scope,
  { workOrder }: JoinedWorkOrder,
  after: Partial<ReadChangeable>,
): Promise<void> {
  const before = Object.fromEntries(
    fields.filter((name) => name in after).map((name) => [name, workOrder[name]]),
  );
  const detail = toStoredJson({ before, after });
  await record(scope, 'work_order_changed', { kind: 'work_order', id: workOrder.id }, detail);
}
