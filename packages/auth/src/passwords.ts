import { hash, verify } from '@node-rs/argon2';

// Memory in KiB, passes and lanes as OWASP's password storage cheat sheet recommends for argon2id.
const parameters = { memoryCost: 19_456, timeCost: 2, parallelism: 1 };

/** The argon2id hash of a password, in PHC string format. */
export function hashPassword(password: string): Promise<string> {
  return hash(password, parameters);
}

/**
 * Whether the password belongs to the hash. Without a hash (no such user) it takes as long all the same, so that the
 * answer's time does not tell which e-mail addresses exist.
 */
export async function passwordFits(password: string, passwordHash: string | null): Promise<boolean> {
  const fits = await verify(passwordHash ?? (await nobodysHash()), password);
  return fits && passwordHash !== null;
}

let nobody: Promise<string> | undefined;
function nobodysHash(): Promise<string> {
  nobody ??= hashPassword('nobody has this password');
  return nobody;
}

/** What is wrong with a new password, as a sentence; null when nothing is. */
export function passwordWeakness(password: string): string | null {
  if (password.length < 12)
    return 'Use at least 12 characters; a sentence is easier to remember than a riddle.';
  if (password.length > 200) return 'Use at most 200 characters.';
  return null;
}
