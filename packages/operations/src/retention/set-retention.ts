import {
  findRetentionSwitch,
  insertRetentionRule,
  insertRetentionSwitch,
  listRetentionRules,
  lockRetention,
  type RetentionRuleRow,
} from '@grainwright/db';
import {
  addSeconds,
  isShorter,
  noticeDays,
  ok,
  type Result,
  type RetentionKind,
  type RetentionPeriod,
  type RetentionRuleId,
  readRetentionPeriod,
  refuse,
  retentionKinds,
} from '@grainwright/domain';
import { type Actor, performAsStaff, record, type Scope } from '../perform.ts';
import { readOptionalWords, readWords } from '../read-input.ts';
import type { Services } from '../services.ts';
import { periodOf, ruleInForce } from './rules-in-force.ts';

export interface RetentionRuleInput {
  readonly id: RetentionRuleId;
  readonly kind: string;
  /** Null: for good. */
  readonly keep: { readonly period: string; readonly unit: string } | null;
  readonly reason: string;
}

/**
 * Sets how long one kind of thing is kept. A longer period counts at once and stops a shorter one that still waits; a
 * shorter one counts after 30 days. Refuses with `invalid_input` or `id_reused`.
 */
export function setRetentionRule(
  services: Services,
  actor: Actor,
  input: RetentionRuleInput,
): Promise<Result<RetentionRuleId>> {
  return performAsStaff(services, actor, 'change_retention', async (scope) => {
    const { kind } = input;
    if (!isKind(kind))
      return refuse(
        'invalid_input',
        `Choose what it is about: ${Object.values(retentionKinds).join(', ')}.`,
        'kind',
      );
    const keep = input.keep === null ? ok(null) : readRetentionPeriod(kind, input.keep);
    if (!keep.ok) return keep;
    const reason = readOptionalWords(input.reason, 'reason', 'why', 500);
    if (!reason.ok) return reason;
    return writeRule(scope, { id: input.id, kind, keep: keep.value, reason: reason.value });
  });
}

function isKind(text: string): text is RetentionKind {
  return Object.hasOwn(retentionKinds, text);
}

interface Rule {
  readonly id: RetentionRuleId;
  readonly kind: RetentionKind;
  readonly keep: RetentionPeriod | null;
  readonly reason: string;
}

async function writeRule(scope: Scope, { id, kind, keep, reason }: Rule): Promise<Result<RetentionRuleId>> {
  const { tx, now, actor } = scope;
  await lockRetention(tx);
  const rules = await listRetentionRules(tx);
  const said = { kind, period: keep?.period ?? null, unit: keep?.unit ?? null, reason };
  const earlier = rules.find((rule) => rule.id === id);
  if (earlier !== undefined) return isSame(earlier, said) ? ok(id) : reusedId;
  const ofKind = rules.filter((rule) => rule.kind === kind);
  const before = periodOf(ruleInForce(ofKind, now));
  const effectiveAt = isShorter(keep, before) ? addSeconds(now, noticeDays * daySeconds) : now;
  const number = Math.max(0, ...ofKind.map((rule) => rule.number)) + 1;
  const row = { id, ...said, number, setBy: actor.personId, setAt: now, effectiveAt };
  if (!(await insertRetentionRule(tx, row))) return reusedId;
  await record(
    scope,
    'retention_set',
    { kind: 'retention_rule', id },
    { kind, period: row.period, unit: row.unit, effective_at: effectiveAt, reason },
  );
  return ok(id);
}

const daySeconds = 86_400;

function isSame(
  earlier: RetentionRuleRow,
  said: Pick<RetentionRuleRow, 'kind' | 'period' | 'unit' | 'reason'>,
): boolean {
  return (
    earlier.kind === said.kind &&
    earlier.period === said.period &&
    earlier.unit === said.unit &&
    earlier.reason === said.reason
  );
}

const reusedId = refuse('id_reused', 'This id was already used for another rule. Open the page again.', 'id');

export interface SwitchRetentionInput {
  readonly id: string;
  readonly on: boolean;
  /** Why; needed to let them delete. */
  readonly reason: string;
}

/**
 * Lets the rules delete, or stops them. Turned to where it stands already, nothing changes. Refuses with `invalid_input`
 * or `id_reused`.
 */
export function switchRetention(
  services: Services,
  actor: Actor,
  { id, on, reason: typed }: SwitchRetentionInput,
): Promise<Result<boolean>> {
  return performAsStaff(services, actor, 'change_retention', async (scope) => {
    const reason = on
      ? readWords(typed, 'reason', 'why the rules may delete', 500)
      : readOptionalWords(typed, 'reason', 'why', 500);
    if (!reason.ok) return reason;
    await lockRetention(scope.tx);
    const last = await findRetentionSwitch(scope.tx);
    if ((last?.isOn ?? false) === on) return ok(on);
    if (last?.id === id)
      return refuse('id_reused', 'This id was already used for another turn. Open the page again.', 'id');
    const number = (last?.number ?? 0) + 1;
    await insertRetentionSwitch(scope.tx, {
      ...{ id, number, isOn: on },
      setBy: scope.actor.personId,
      setAt: scope.now,
    });
    await record(
      scope,
      on ? 'retention_switched_on' : 'retention_switched_off',
      { kind: 'retention_switch', id },
      { reason: reason.value },
    );
    return ok(on);
  });
}
