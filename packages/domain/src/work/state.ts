import { ok, type Result, refuse } from '../result.ts';

/** The states of a work order, in the order of its life, with their names on pages. */
export const workOrderStates = {
  written_up: 'written up',
  awaiting_approval: 'waiting for approval',
  approved: 'approved',
  in_work: 'in work',
  done: 'done',
  accepted: 'accepted',
  invoiced: 'invoiced',
  paid: 'paid',
  declined: 'declined',
  void: 'void',
  written_off: 'written off',
} as const satisfies Record<string, string>;

export type WorkOrderState = keyof typeof workOrderStates;

/** What can happen to a work order. Whether it may happen by its facts is asked in readiness.ts. */
export type WorkOrderEvent =
  | { readonly type: 'submitted' }
  | { readonly type: 'approved' }
  /** A standing approval of the account covers it, so nobody had to be asked. */
  | { readonly type: 'approved_by_rule' }
  /** Every line was declined. */
  | { readonly type: 'declined' }
  /** Nobody answered until the last day that its prices held. */
  | { readonly type: 'lapsed' }
  | { readonly type: 'started' }
  | { readonly type: 'finished' }
  /** Signed, or the account's rule asks for no signature. */
  | { readonly type: 'accepted' }
  /** Refused or absent, recorded with reason and witness, and let go by a manager. */
  | { readonly type: 'released' }
  /** A rework without charge is accepted; it ends there. */
  | { readonly type: 'reworked_done' }
  | { readonly type: 'invoiced' }
  | { readonly type: 'settled' }
  | { readonly type: 'payment_came_back' }
  | { readonly type: 'invoice_voided' }
  /** A price, line or size changed; `down` only when nothing became dearer, larger or more. */
  | { readonly type: 'price_changed'; readonly change: 'down' | 'other' }
  | { readonly type: 'voided' }
  | { readonly type: 'written_off' }
  /** A write-off was turned round: it is owed again. */
  | { readonly type: 'recovered' };

/**
 * The state after an event. Refuses with `wrong_state`, naming the state it is in and the states in which
 * the event can happen. After `accepted` nothing on the work itself changes any more.
 */
export function transition(state: WorkOrderState, event: WorkOrderEvent): Result<WorkOrderState> {
  const rule = ruleOf(event);
  const next = rule.edges[state];
  if (next !== undefined) return ok(next);
  return refuse('wrong_state', sentence(state, rule));
}

type Edges = Readonly<Partial<Record<WorkOrderState, WorkOrderState>>>;

interface Rule {
  /** Completes “It can be …”. */
  readonly done: string;
  readonly edges: Edges;
}

const rules: Readonly<Record<Exclude<WorkOrderEvent['type'], 'price_changed'>, Rule>> = {
  submitted: { done: 'sent for approval', edges: { written_up: 'awaiting_approval' } },
  approved: { done: 'approved', edges: { awaiting_approval: 'approved' } },
  approved_by_rule: { done: 'approved', edges: { awaiting_approval: 'approved' } },
  declined: { done: 'declined', edges: { awaiting_approval: 'declined' } },
  lapsed: { done: 'lapsed', edges: { awaiting_approval: 'written_up' } },
  started: { done: 'started', edges: { approved: 'in_work' } },
  finished: { done: 'finished', edges: { in_work: 'done' } },
  accepted: { done: 'accepted', edges: { done: 'accepted' } },
  released: { done: 'released without a signature', edges: { done: 'accepted' } },
  reworked_done: { done: 'closed as a rework', edges: { done: 'accepted' } },
  invoiced: { done: 'invoiced', edges: { accepted: 'invoiced' } },
  settled: { done: 'paid', edges: { invoiced: 'paid' } },
  // A payment may come back after the rest was written off.
  payment_came_back: {
    done: 'opened again by a returned payment',
    edges: { paid: 'invoiced', written_off: 'invoiced' },
  },
  invoice_voided: { done: 'taken off its invoice', edges: { invoiced: 'accepted' } },
  voided: {
    done: 'voided',
    edges: { written_up: 'void', awaiting_approval: 'void', approved: 'void', in_work: 'void', done: 'void' },
  },
  written_off: { done: 'written off', edges: { invoiced: 'written_off' } },
  // A small difference that was let go left it paid.
  recovered: { done: 'opened again by a recovery', edges: { written_off: 'invoiced', paid: 'invoiced' } },
};

const changedDown: Rule = {
  done: 'changed',
  edges: {
    written_up: 'written_up',
    awaiting_approval: 'awaiting_approval',
    approved: 'approved',
    in_work: 'in_work',
    done: 'done',
  },
};

const changedOtherwise: Rule = {
  done: 'changed',
  edges: {
    written_up: 'written_up',
    awaiting_approval: 'awaiting_approval',
    approved: 'awaiting_approval',
    in_work: 'awaiting_approval',
    done: 'awaiting_approval',
  },
};

function ruleOf(event: WorkOrderEvent): Rule {
  if (event.type !== 'price_changed') return rules[event.type];
  return event.change === 'down' ? changedDown : changedOtherwise;
}

const fixed: readonly WorkOrderState[] = ['accepted', 'invoiced', 'paid', 'written_off'];

function sentence(state: WorkOrderState, rule: Rule): string {
  const name = workOrderStates[state];
  if (rule.done === 'changed' && fixed.includes(state))
    return `This work order is ${name}, so nothing on it changes. Correct money by a credit note, work by a rework order.`;
  const origins = Object.keys(workOrderStates)
    .filter((from): from is WorkOrderState => Object.hasOwn(rule.edges, from))
    .map((from) => `“${workOrderStates[from]}”`);
  return `This work order is “${name}”. It can be ${rule.done} only from ${new Intl.ListFormat('en-US', { type: 'disjunction' }).format(origins)}.`;
}
