import { createHash } from 'node:crypto';
import {
  forgetSignInAttempts,
  removeEndedSignInWindows,
  returnSignInAttempt,
  takeSignInAttempt,
} from '@grainwright/db';
import { instant, ok, type Result, refuse } from '@grainwright/domain';
import type { Services } from '../services.ts';

/** Who tries a password: somebody from one address. */
export interface Attempt {
  /** The e-mail address, or the id of a user who is signed in. */
  readonly who: string;
  readonly fromAddress: string;
}

const windowMinutes = 15;
/** For one person from one address. */
const attemptsOfBoth = 10;
/** For everybody from one address, which may be a whole office's. */
const attemptsOfAddress = 100;

/**
 * Counts an attempt before the password is looked at, so that many at the same time are not all the first. Refuses
 * with `too_many_attempts` until the quarter of an hour since the first is over.
 */
export async function takeAttempt(services: Services, attempt: Attempt): Promise<Result<void>> {
  const now = services.now();
  const windowEndsAt = instant(new Date(Date.parse(now) + windowMinutes * 60_000));
  const { both, address } = keysOf(attempt);
  const counts = await services.database.withRegistry(async (tx) =>
    ok({
      both: await takeSignInAttempt(tx, both, now, windowEndsAt),
      address: await takeSignInAttempt(tx, address, now, windowEndsAt),
    }),
  );
  if (!counts.ok) return counts;
  return counts.value.both > attemptsOfBoth || counts.value.address > attemptsOfAddress
    ? refuse('too_many_attempts', `Too many attempts. Wait ${windowMinutes} minutes, then try again.`)
    : ok(undefined);
}

/** It was right: the person starts anew. The address only gets this one back, or one right password would allow many wrong ones. */
export function attemptWasRight(services: Services, attempt: Attempt): Promise<Result<void>> {
  const { both, address } = keysOf(attempt);
  return services.database.withRegistry(async (tx) => {
    await forgetSignInAttempts(tx, both);
    await returnSignInAttempt(tx, address);
    return ok(undefined);
  });
}

/** It was wrong, and stays counted. Clears away some of the counts that are over. */
export function attemptWasWrong(services: Services): Promise<Result<void>> {
  return services.database.withRegistry(async (tx) => ok(await removeEndedSignInWindows(tx, services.now())));
}

function keysOf({ who, fromAddress }: Attempt): { both: string; address: string } {
  return { both: digest(`${fromAddress}\n${who.trim().toLowerCase()}`), address: digest(fromAddress) };
}

function digest(text: string): string {
  return createHash('sha256').update(text).digest('hex');
}
