import type { FastifyInstance } from 'fastify';
import fp from 'fastify-plugin';
import { isApi } from './api-scope.ts';
import { ProblemError } from './problem-error.ts';
import { unprintable } from './unprintable.ts';

/**
 * One door for all text from outside: under /api nothing that can't be printed comes in, wherever it stands. In pages
 * the same goes for addresses; what forms bring is cleaned by `FormValues`.
 */
export const printableOnly = fp(
  async (app: FastifyInstance) => {
    app.addHook('preValidation', async (request) => {
      if (request.routeOptions.url === undefined) return;
      refuseUnprintable(request.params);
      refuseUnprintable(request.query);
      if (isApi(request)) refuseUnprintable(request.body);
    });
  },
  { name: 'printable-only' },
);

function refuseUnprintable(input: unknown): void {
  const field = unprintableField(input, '');
  if (field === null) return;
  throw new ProblemError({
    code: 'invalid_input',
    detail: 'There is a sign in it that can’t be printed. Send it again without that.',
    ...(field === '' ? {} : { field }),
  });
}

/** Where the first text stands that is not fit, as `lines.0.note`; null when all of it is. */
function unprintableField(input: unknown, path: string): string | null {
  if (typeof input === 'string') return isPrintable(input) ? null : path;
  if (input === null || typeof input !== 'object' || ArrayBuffer.isView(input)) return null;
  for (const [name, value] of Object.entries(input)) {
    if (!isPrintable(name)) return path;
    const found = unprintableField(value, path === '' ? name : `${path}.${name}`);
    if (found !== null) return found;
  }
  return null;
}

function isPrintable(text: string): boolean {
  return text.isWellFormed() && text.search(unprintable) === -1;
}
