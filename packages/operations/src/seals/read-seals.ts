import {
  findSealDay,
  findSealDayOf,
  findWorkOrder,
  listSealDaysBetween,
  listSealsBetween,
  listSealsOfWorkOrder,
  type SealDayRow,
  type ShownSeal,
} from '@grainwright/db';
import {
  addDays,
  type Day,
  inclusionProof,
  ok,
  parseDay,
  type Result,
  refuse,
  type SealedContent,
  toId,
  type WorkOrderId,
} from '@grainwright/domain';
import { type Actor, perform } from '../perform.ts';
import type { Services } from '../services.ts';
import { type PublicKeyView, publicKeysOf } from './public-keys.ts';

/** A seal, and where the day’s root says that it is in it. */
export interface SealView extends ShownSeal {
  /** Null while its day is not over. */
  readonly inDay: {
    readonly day: Day;
    readonly root: string;
    readonly size: number;
    /** Among the day’s seals, counted from 0. */
    readonly index: number;
    /** RFC 6962 section 2.1.1, from the lowest up. */
    readonly proof: readonly string[];
  } | null;
}

/** The seals of a work order, the oldest first; for contacts those of their account. Refuses with `not_found`. */
export function listWorkOrderSeals(
  services: Services,
  actor: Actor,
  id: WorkOrderId,
): Promise<Result<readonly SealView[]>> {
  return perform(services, actor, 'see_work_orders', async ({ tx }) => {
    if ((await findWorkOrder(tx, id)) === null) return refuse('not_found', 'There is no such work order.');
    const views: SealView[] = [];
    for (const seal of await listSealsOfWorkOrder(tx, id)) {
      const day = await findSealDayOf(tx, seal.number);
      views.push({ ...seal, inDay: day === null ? null : placeIn(day, seal.number) });
    }
    return ok(views);
  });
}

function placeIn({ day, root, size, leaves, firstNumber }: SealDayRow, number: number): SealView['inDay'] {
  const index = number - firstNumber;
  return { day, root, size, index, proof: inclusionProof(leaves, index) };
}

/** Every key of the business with its public half, the oldest first: for everybody who works with it. */
export function listSealKeys(services: Services, actor: Actor): Promise<Result<readonly PublicKeyView[]>> {
  return perform(services, actor, 'see_work_orders', async ({ tx }) => ok(await publicKeysOf(tx)));
}

export interface SealDaysInput {
  /** Empty: thirty days before `to`. */
  readonly from: string;
  /** Empty: today. */
  readonly to: string;
}

export interface SealDaysView {
  readonly from: Day;
  readonly to: Day;
  /** The newest first. */
  readonly days: readonly SealDayRow[];
}

const daysShown = 30;
const daysMax = 400;

/** The sealed days of a span with their roots, the newest first. Refuses with `invalid_date`. */
export function listSealDays(
  services: Services,
  actor: Actor,
  input: SealDaysInput,
): Promise<Result<SealDaysView>> {
  return perform(services, actor, 'see_work_orders', async ({ tx, today }) => {
    const span = readSpan(input, today);
    if (!span.ok) return span;
    return ok({
      ...span.value,
      days: await listSealDaysBetween(tx, { ...span.value, limit: daysMax + 1 }),
    });
  });
}

function readSpan(input: SealDaysInput, today: Day): Result<{ readonly from: Day; readonly to: Day }> {
  const to = input.to === '' ? ok(today) : parseDay(input.to, 'to');
  if (!to.ok) return to;
  const from = input.from === '' ? ok(addDays(to.value, -daysShown)) : parseDay(input.from, 'from');
  if (!from.ok) return from;
  if (from.value < addDays(to.value, -daysMax))
    return refuse('invalid_date', `Ask for at most ${daysMax} days at once.`, 'from');
  return ok({ from: from.value, to: to.value });
}

/** What a seal is put on, without the record itself. */
export interface SealedThing extends Pick<ShownSeal, 'number' | 'kind' | 'sealedAt' | 'sealedOn' | 'sha256'> {
  /** Null for a credit note, which is of an invoice. */
  readonly workOrder: { readonly id: WorkOrderId; readonly number: string } | null;
  /** The number of a credit note; else null. */
  readonly creditNote: string | null;
}

const sealsMax = 500;

export interface SealedThings {
  readonly seals: readonly SealedThing[];
  /** There are older ones in the span: ask for fewer days. */
  readonly more: boolean;
}

/** The seals of a span of days, the newest first and at most 500: for contacts those of their account. Refuses with `invalid_date`. */
export function listSeals(
  services: Services,
  actor: Actor,
  input: SealDaysInput,
): Promise<Result<SealedThings>> {
  return perform(services, actor, 'see_work_orders', async ({ tx, today }) => {
    const span = readSpan(input, today);
    if (!span.ok) return span;
    const found = await listSealsBetween(tx, { ...span.value, limit: sealsMax + 1 });
    return ok({ seals: found.slice(0, sealsMax).map(sealedThing), more: found.length > sealsMax });
  });
}

function sealedThing({ number, kind, sealedAt, sealedOn, sha256, content }: ShownSeal): SealedThing {
  // Written from a value of this type, and append-only since.
  const sealed = JSON.parse(content) as SealedContent;
  return {
    ...{ number, kind, sealedAt, sealedOn, sha256 },
    workOrder:
      'workOrder' in sealed
        ? { id: toId<WorkOrderId>(sealed.workOrder.id), number: sealed.workOrder.number }
        : null,
    creditNote: sealed.format === 'sealed-credit-1' ? sealed.creditNote.number : null,
  };
}

/** One sealed day. Refuses with `not_found` a day that has no seals, or is not over. */
export function readSealDay(services: Services, actor: Actor, text: string): Promise<Result<SealDayRow>> {
  return perform(services, actor, 'see_work_orders', async ({ tx }) => {
    const day = parseDay(text, 'day');
    if (!day.ok) return day;
    const found = await findSealDay(tx, day.value);
    return found === null
      ? refuse('not_found', 'Nothing was sealed on that day, or it is not over.')
      : ok(found);
  });
}
