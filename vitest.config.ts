import { availableParallelism } from 'node:os';
import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  resolve: {
    alias: {
      '@node-rs/argon2': fileURLToPath(new URL('./tests/support/remembered-hashes.ts', import.meta.url)),
    },
  },
  test: {
    include: ['packages/**/src/**/*.test.ts', 'apps/**/src/**/*.test.ts', 'tests/**/*.test.ts'],
    globalSetup: ['tests/support/global-setup.ts'],
    // Tests wait for Postgres and browsers about as long as they compute: one file more than by itself runs at once.
    maxWorkers: availableParallelism() + 1,
    // Files of one worker share the modules: loading them anew for each was a third of the time. No test changes a module.
    isolate: false,
    testTimeout: 60_000,
    hookTimeout: 300_000,
  },
});
