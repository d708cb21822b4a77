import { allows, type Permission } from '@grainwright/domain';
import { ProblemError } from '../plugins/problem-error.ts';
import type { Frame } from './person.ts';

/** Throws for somebody whose role can't send the form anyway, before they have filled it in. */
export function requirePermission(frame: Frame, permission: Permission): void {
  const { role } = frame.me;
  if (allows(role, permission)) return;
  throw new ProblemError({
    code: 'not_allowed',
    detail: `Your role here is ${role}; it does not include this. Ask the owner of the business.`,
  });
}
