import {
  findInvoice,
  findStatementOfMonth,
  findWorkOrder,
  listShownTrail,
  listWholeTrail,
  type TrailPlace,
  type TrailRow,
  type TrailSubject,
  type WholeTrailRow,
} from '@grainwright/db';
import {
  auditWords,
  type Instant,
  type InvoiceId,
  type JsonValue,
  ok,
  type Permission,
  type Result,
  refuse,
  type WorkOrderId,
} from '@grainwright/domain';
import { type Actor, perform, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { openStatementMonth, type ReadStatementInput } from '../statements/read-statement.ts';

/** Who did what to a work order, an invoice or a statement, and when: a page of it, the oldest first. */
export interface TrailView {
  readonly kind: TrailSubject['kind'];
  /** “WO-1004”, “INV-2002”, “2026-08”. */
  readonly name: string;
  /** Whose it is. */
  readonly accountName: string;
  readonly entries: readonly TrailEntry[];
  /** What `before` of the page before this one is, and `after` of the next one; null where there is none. */
  readonly earlier: string | null;
  readonly later: string | null;
}

export interface TrailEntry {
  /** When it was received. */
  readonly at: Instant;
  /** When it was done by the clock of a phone without signal, which sent it later; else null. */
  readonly madeOnPhoneAt: Instant | null;
  readonly action: string;
  readonly words: string;
  /** Null for a vehicle’s owner, who is nobody of ours. */
  readonly by: string | null;
  readonly side: 'business' | 'account' | 'vehicle_owner';
  /** What the staff alone read; null for an account. */
  readonly internal: TrailInternals | null;
}

export interface TrailInternals {
  readonly detail: JsonValue;
  readonly fromAddress: string;
  /** Its place in the chain of audit records; null while it waits for it. */
  readonly chainNumber: number | null;
}

/**
 * Refuses with `not_found`, also where the place is none of this trail; contacts read those of their account, out of a
 * closed list of actions.
 */
export function readWorkOrderTrail(
  services: Services,
  actor: Actor,
  id: WorkOrderId,
  place: TrailPlace = newestPage,
): Promise<Result<TrailView>> {
  return readTrail(services, actor, { permission: 'see_work_orders', place }, async ({ tx }) => {
    const found = await findWorkOrder(tx, id);
    if (found === null) return refuse('not_found', 'There is no such work order.');
    return ok({
      subject: { kind: 'work_order', id },
      name: `WO-${found.workOrder.number}`,
      accountName: found.account.name,
    });
  });
}

/** As `readWorkOrderTrail`. */
export function readInvoiceTrail(
  services: Services,
  actor: Actor,
  id: InvoiceId,
  place: TrailPlace = newestPage,
): Promise<Result<TrailView>> {
  return readTrail(services, actor, { permission: 'see_invoices', place }, async ({ tx }) => {
    const found = await findInvoice(tx, id);
    if (found === null || (actor.accountId !== null && found.accountId !== actor.accountId))
      return refuse('not_found', 'There is no such invoice.');
    return ok({ subject: { kind: 'invoice', id }, name: found.number, accountName: found.accountName });
  });
}

/** As `readWorkOrderTrail`; refuses with `wrong_state` a month that was not issued. */
export function readStatementTrail(
  services: Services,
  actor: Actor,
  input: ReadStatementInput,
  place: TrailPlace = newestPage,
): Promise<Result<TrailView>> {
  return readTrail(services, actor, { permission: 'see_statements', place }, async (scope) => {
    const asked = await openStatementMonth(scope, input);
    if (!asked.ok) return asked;
    const { account, month } = asked.value;
    const issued = await findStatementOfMonth(scope.tx, account.id, month);
    if (issued === null)
      return refuse(
        'wrong_state',
        `The statement of ${month} has not been issued yet. Its trail begins then.`,
      );
    return ok({ subject: { kind: 'statement', id: issued.id }, name: month, accountName: account.name });
  });
}

const newestPage: TrailPlace = { before: null, after: null };

interface Opened {
  readonly subject: TrailSubject;
  readonly name: string;
  readonly accountName: string;
}

function readTrail(
  services: Services,
  actor: Actor,
  { permission, place }: { readonly permission: Permission; readonly place: TrailPlace },
  open: (scope: Scope) => Promise<Result<Opened>>,
): Promise<Result<TrailView>> {
  return perform(services, actor, permission, async (scope) => {
    const opened = await open(scope);
    if (!opened.ok) return opened;
    const { subject, name, accountName } = opened.value;
    const { entries, earlier, later } = await entriesOf(scope, subject, place);
    if (entries.length === 0 && (place.before ?? place.after) !== null)
      return refuse('not_found', 'There is no such page of this trail. Open it from its beginning.');
    return ok({ kind: subject.kind, name, accountName, entries, earlier, later });
  });
}

async function entriesOf(
  { tx, actor }: Scope,
  subject: TrailSubject,
  place: TrailPlace,
): Promise<Pick<TrailView, 'entries' | 'earlier' | 'later'>> {
  if (actor.accountId !== null) {
    const { rows, ...around } = await listShownTrail(tx, subject, place);
    return { ...around, entries: rows.map(entryOf) };
  }
  const { rows, ...around } = await listWholeTrail(tx, subject, place);
  return { ...around, entries: rows.map((row) => ({ ...entryOf(row), internal: internalsOf(row) })) };
}

function entryOf({ at, madeOnPhoneAt, action, personName, personId, accountId }: TrailRow): TrailEntry {
  const side = accountId !== null ? 'account' : personId !== null ? 'business' : 'vehicle_owner';
  return { at, madeOnPhoneAt, action, words: auditWords(action), by: personName, side, internal: null };
}

function internalsOf({ detail, fromAddress, chainNumber }: WholeTrailRow): TrailInternals {
  return { detail, fromAddress, chainNumber };
}
