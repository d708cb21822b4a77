import { createRequire } from 'node:module';

/**
 * Stands in for the password library in tests (vitest.config.ts). Every world has a handful of people with the same
 * password, and a hash is slow on purpose: each password is hashed, and each pair checked, once a process.
 */
const real: typeof import('@node-rs/argon2') = createRequire(import.meta.url)('@node-rs/argon2');

type Hash = typeof real.hash;
type Verify = typeof real.verify;

const hashes = new Map<string, ReturnType<Hash>>();
const checks = new Map<string, ReturnType<Verify>>();

export const hash: Hash = (password, options, abort) =>
  remembered(hashes, JSON.stringify([String(password), options]), () => real.hash(password, options, abort));

export const verify: Verify = (hashed, password, options, abort) =>
  remembered(checks, JSON.stringify([String(hashed), String(password), options]), () =>
    real.verify(hashed, password, options, abort),
  );

function remembered<T>(known: Map<string, Promise<T>>, key: string, make: () => Promise<T>): Promise<T> {
  const before = known.get(key);
  if (before !== undefined) return before;
  const made = make();
  known.set(key, made);
  return made;
}
