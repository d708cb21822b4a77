import type { RetentionRuleRow } from '@grainwright/db';
import { type Instant, isBefore, type RetentionPeriod } from '@grainwright/domain';

type Dated = Pick<RetentionRuleRow, 'number' | 'setAt' | 'effectiveAt'>;

/**
 * The rule that counts at a moment, of the rules of one kind: the newest in effect. One that a newer one overtook while
 * it waited never counts. The database has the same in `retention_rules_at`.
 */
export function ruleInForce<Rule extends Dated>(rules: readonly Rule[], at: Instant): Rule | null {
  const inEffect = rules.filter((rule) => !isBefore(at, rule.effectiveAt) && !isOvertaken(rule, rules));
  return newest(inEffect);
}

/** The rule that waits to take effect; null where none does. */
export function waitingRule<Rule extends Dated>(rules: readonly Rule[], at: Instant): Rule | null {
  return newest(rules.filter((rule) => isBefore(at, rule.effectiveAt) && !isOvertaken(rule, rules)));
}

function isOvertaken(rule: Dated, rules: readonly Dated[]): boolean {
  return rules.some((other) => other.number > rule.number && isBefore(other.setAt, rule.effectiveAt));
}

function newest<Rule extends Dated>(rules: readonly Rule[]): Rule | null {
  return rules.reduce<Rule | null>(
    (last, rule) => (last === null || rule.number > last.number ? rule : last),
    null,
  );
}

/** How long a rule keeps things; null for good, as without a rule. */
export function periodOf(rule: Pick<RetentionRuleRow, 'period' | 'unit'> | null): RetentionPeriod | null {
  if (rule === null || rule.period === null || rule.unit === null) return null;
  return { period: rule.period, unit: rule.unit };
}
