import type { EarlierWorkView } from '@grainwright/operations';
import type { z } from 'zod';
import type { earlierAnswer } from './turn-schemas.ts';

export function answerEarlierWork(each: EarlierWorkView): z.input<typeof earlierAnswer>['earlier'][number] {
  return {
    id: each.id,
    number: each.number.toString(),
    state: each.state,
    day: each.day,
    account_name: each.accountName,
    own_number: each.ownNumber,
    vehicle: each.vehicle,
    technician: each.technician,
    lines: each.lines.map(({ words }) => words),
    maybe_duplicate: each.maybeDuplicate,
    maybe_comeback: each.maybeComeback,
    before_photo_id: each.before,
    after_photo_id: each.after,
  };
}
