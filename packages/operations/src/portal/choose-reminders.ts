import { findOwnAccount, setRemindAfterHours } from '@grainwright/db';
import { ok, type Result, refuse } from '@grainwright/domain';
import { readReminderHours } from '../accounts/account-terms.ts';
import { type Actor, performAsContact, record } from '../perform.ts';
import type { Services } from '../services.ts';

export interface ChooseRemindersInput {
  /** After so many hours without an answer; null: never. */
  readonly remindAfterHours: number | null;
}

/** An approver chooses when the people of their account are asked once more. Refuses with `invalid_input`. */
export function chooseReminders(
  services: Services,
  actor: Actor,
  input: ChooseRemindersInput,
): Promise<Result<ChooseRemindersInput>> {
  return performAsContact(services, actor, 'see_work_orders', async (scope) => {
    const { tx, member } = scope;
    if (member.role !== 'approver')
      return refuse('not_allowed', 'An approver of the account chooses this. Ask one of them.');
    const hours = readReminderHours(input.remindAfterHours);
    if (!hours.ok) return hours;
    const before = (await findOwnAccount(tx, member.accountId))?.remindAfterHours ?? null;
    if (before === hours.value) return ok({ remindAfterHours: before });
    await setRemindAfterHours(tx, member.accountId, hours.value);
    await record(
      scope,
      'reminders_chosen',
      { kind: 'account', id: member.accountId },
      { from: before, to: hours.value },
    );
    return ok({ remindAfterHours: hours.value });
  });
}
