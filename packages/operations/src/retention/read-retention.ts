import {
  type DeletionRow,
  type DueGroup,
  findAuditDetail,
  findBusiness,
  findRetentionSwitch,
  type ListedHold,
  listDeletions,
  listDueGroups,
  listLegalHolds,
  listRetentionRules,
  type TenantTransaction,
} from '@grainwright/db';
import {
  addSeconds,
  type Day,
  dayAt,
  endOfDay,
  type Instant,
  isBefore,
  type JsonValue,
  ok,
  parseDay,
  type Result,
  type RetentionKind,
  type RetentionPeriod,
  refuse,
  retentionKinds,
  type TenantId,
} from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';
import { periodOf, ruleInForce, waitingRule } from './rules-in-force.ts';

export interface KindRetention {
  readonly kind: RetentionKind;
  /** Null: kept for good. */
  readonly keeps: RetentionPeriod | null;
  /** Who set what counts, when and why; null where nobody did. */
  readonly set: RuleSet | null;
  /** What was set and does not count yet. */
  readonly waits: {
    readonly keeps: RetentionPeriod | null;
    readonly from: Instant;
    readonly setBy: string;
    readonly setAt: Instant;
    readonly reason: string;
  } | null;
}

export interface RuleSet {
  readonly by: string;
  readonly at: Instant;
  /** May be empty. */
  readonly reason: string;
}

export interface RetentionView {
  readonly kinds: readonly KindRetention[];
  readonly isOn: boolean;
  /** Who let the rules delete last, or stopped them; null where nobody ever did. */
  readonly turned: RuleSet | null;
  /** The legal holds that stand, which beat every rule. */
  readonly holds: readonly ListedHold[];
  readonly due: DueList;
  /** What went, the latest first. */
  readonly deleted: readonly (DeletionRow & { readonly removedAt: Instant | null })[];
}

export interface DueList {
  /** The day that it was asked for. */
  readonly on: Day;
  readonly groups: readonly DueGroup[];
  /** Whether there is more than is listed. */
  readonly more: boolean;
}

const groupsMax = 500;
const deletedMax = 50;

/**
 * How long what is kept, and what would go on a day, today unless another is named: a dry run, which changes nothing.
 * Refuses with `invalid_date` a day that is none or is over.
 */
export function readRetention(
  services: Services,
  actor: Actor,
  input: { readonly on: string | null },
): Promise<Result<RetentionView>> {
  return performAsStaff(services, actor, 'change_retention', async ({ tx, now, today, business }) => {
    const on = readOn(input.on, today);
    if (!on.ok) return on;
    const rules = await listRetentionRules(tx);
    const at = on.value === today ? now : lastMomentOf(on.value, business.timeZone);
    return ok({
      kinds: kindsOf(rules, now),
      ...(await switchOf(tx)),
      holds: await listLegalHolds(tx, { standingOnly: true }),
      due: await dueAt(tx, { at, on: on.value }),
      deleted: await listDeletions(tx, deletedMax),
    });
  });
}

async function switchOf(tx: TenantTransaction): Promise<Pick<RetentionView, 'isOn' | 'turned'>> {
  const last = await findRetentionSwitch(tx);
  if (last === null) return { isOn: false, turned: null };
  const action = last.isOn ? 'retention_switched_on' : 'retention_switched_off';
  const detail = await findAuditDetail(tx, last.id, action);
  return {
    isOn: last.isOn,
    turned: { by: last.setByName, at: last.setAt, reason: reasonIn(detail) },
  };
}

/** What was said with a turn; turns of before were made without a word. */
function reasonIn(detail: JsonValue | null): string {
  if (detail === null || typeof detail !== 'object' || !('reason' in detail)) return '';
  return typeof detail.reason === 'string' ? detail.reason : '';
}

/** So that a rule which takes effect in the course of the day counts. */
function lastMomentOf(on: Day, timeZone: string): Instant {
  return addSeconds(endOfDay(on, timeZone), -1);
}

function readOn(text: string | null, today: Day): Result<Day> {
  if (text === null || text.trim() === '') return ok(today);
  const day = parseDay(text.trim(), 'on');
  if (!day.ok) return day;
  return day.value < today
    ? refuse('invalid_date', 'Choose today or a day that comes: what went before is listed below.', 'on')
    : day;
}

function kindsOf(
  rules: Awaited<ReturnType<typeof listRetentionRules>>,
  now: Instant,
): readonly KindRetention[] {
  return (Object.keys(retentionKinds) as RetentionKind[]).map((kind) => {
    const own = rules.filter((rule) => rule.kind === kind);
    const waiting = waitingRule(own, now);
    const inForce = ruleInForce(own, now);
    return {
      kind,
      keeps: periodOf(inForce),
      set: inForce && { by: inForce.setByName, at: inForce.setAt, reason: inForce.reason },
      waits: waiting && {
        keeps: periodOf(waiting),
        from: waiting.effectiveAt,
        setBy: waiting.setByName,
        setAt: waiting.setAt,
        reason: waiting.reason,
      },
    };
  });
}

async function dueAt(
  tx: TenantTransaction,
  { at, on }: { readonly at: Instant; readonly on: Day },
): Promise<DueList> {
  const groups = await listDueGroups(tx, at, groupsMax + 1);
  return { on, groups: groups.slice(0, groupsMax), more: groups.length > groupsMax };
}

/** The dry run for administration, which asks for nobody's permission. Refuses with `not_found`. */
export function readDueByCommand(
  { database, now }: Pick<Services, 'database' | 'now'>,
  tenantId: TenantId,
  on: Day | null,
): Promise<Result<DueList & { readonly business: string; readonly isOn: boolean }>> {
  return database.withTenant({ role: 'staff', tenantId }, async (tx) => {
    const business = await findBusiness(tx);
    if (business === null) return refuse('not_found', 'There is no such business.', 'tenant');
    const moment = now();
    const end = on === null ? moment : lastMomentOf(on, business.timeZone);
    const at = isBefore(end, moment) ? moment : end;
    const due = await dueAt(tx, { at, on: dayAt(at, business.timeZone) });
    return ok({ ...due, business: business.name, isOn: (await findRetentionSwitch(tx))?.isOn ?? false });
  });
}
