import { type Result, refuse } from '@grainwright/domain';
import { systemCode } from './start-problem.ts';

/** One sentence for an error of connecting to a server or of a missing right there; undefined for any other. */
export function explainConnection(
  error: unknown,
  adminUrl: string,
): Extract<Result<never>, { ok: false }> | undefined {
  const { username, host, pathname } = new URL(adminUrl);
  const user = decodeURIComponent(username);
  switch (systemCode(error)) {
    case 'ECONNREFUSED':
    case 'ENOTFOUND':
    case 'EAI_AGAIN':
    case 'EHOSTUNREACH':
    case 'ETIMEDOUT':
    case 'CONNECT_TIMEOUT':
      return refuse(
        'unavailable',
        `No Postgres server answers at ${host}: start it, or correct DATABASE_URL.`,
      );
    case '28P01':
    case '28000':
      return refuse(
        'unavailable',
        `The Postgres server at ${host} does not let the user ${user} in: correct the name or password in DATABASE_URL.`,
      );
    case '3D000':
      return refuse(
        'unavailable',
        `The Postgres server at ${host} has no database ${pathname.slice(1)}: create it, or correct DATABASE_URL.`,
      );
    case '42501':
      return refuse(
        'unavailable',
        `The database user ${user} lacks a right that setting up needs (${messageOf(error)}): give it CREATEROLE and ownership of the database, or use an administrator.`,
      );
    default:
      return undefined;
  }
}

function messageOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}
