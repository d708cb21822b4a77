import type { AddedPerson } from '@grainwright/operations';
import type { z } from 'zod';
import type { addedPersonAnswer } from './schemas.ts';

export function addedPersonOf({ personId, login }: AddedPerson): z.input<typeof addedPersonAnswer> {
  if (login === null) return { person_id: personId, login };
  const joinCode = login.kind === 'existing' ? login.joinCode : null;
  return { person_id: personId, login: { kind: login.kind, join_code: joinCode } };
}
