import type { DelegationId, PersonId } from '@grainwright/domain';
import { formatMinor } from '@grainwright/domain';
import type { DelegationView } from '@grainwright/operations';
import { z } from 'zod';
import { dayText, idOf, idText, momentText, moneyText } from '../schemas.ts';

export const delegationAnswer = z
  .object({
    id: idText,
    from_person_id: idText.meta({ description: 'Who is away.' }),
    from_name: z.string(),
    to_person_id: idText.meta({ description: 'Who answers for them.' }),
    to_name: z.string(),
    valid_from: dayText,
    valid_to: dayText,
    limit: moneyText
      .nullable()
      .meta({ description: 'Null: as much as whoever is away may approve. It never comes to more.' }),
    recorded_by: z.string().nullable().meta({ description: 'Who of the staff wrote it down.' }),
    ended_at: momentText.nullable(),
    standing: z.enum(['not_yet', 'counts', 'over', 'taken_back', 'somebody_left']),
  })
  .meta({ id: 'Delegation' });

export const nameDelegateBody = z.object({
  id: idOf<DelegationId>('delegation'),
  to_person_id: idOf<PersonId>('contact who answers'),
  valid_from: dayText,
  valid_to: dayText,
  limit: z.string().max(40).nullable().default(null),
});

export const recordDelegationBody = nameDelegateBody.extend({
  from_person_id: idOf<PersonId>('approver who is away'),
});

export const delegationParams = z.object({ id: idOf<DelegationId>('delegation') });

export function answerDelegation(view: DelegationView, currency: string): z.input<typeof delegationAnswer> {
  return {
    id: view.id,
    from_person_id: view.fromPerson,
    from_name: view.fromName,
    to_person_id: view.toPerson,
    to_name: view.toName,
    valid_from: view.validFrom,
    valid_to: view.validTo,
    limit: view.limitMinor === null ? null : formatMinor(view.limitMinor, currency),
    recorded_by: view.recordedByName,
    ended_at: view.endedAt,
    standing: view.standing,
  };
}
