import { createHmac } from 'node:crypto';

/** The service's login. It owns nothing, and says in each transaction what it is. */
export const loginRole = 'grainwright_login';
/** The worker's login at the job library's tables, and nowhere else. */
export const jobRole = 'grainwright_jobs';

/**
 * The address that the service itself uses: the administrator's, with a login that owns nothing. Its password
 * follows from the administrator's (HMAC-SHA256), so that there is one secret to keep. Undefined for an address
 * without a password, from which anybody could derive the login's.
 */
export function loginUrl(adminUrl: string): string | undefined {
  return urlOf(adminUrl, loginRole);
}

/** As `loginUrl`, for the worker's queue. */
export function jobUrl(adminUrl: string): string | undefined {
  return urlOf(adminUrl, jobRole);
}

/** A login's password in base64url, or undefined when the administrator's address carries none. */
export function loginPassword(adminUrl: string, role: string = loginRole): string | undefined {
  if (!URL.canParse(adminUrl)) return undefined;
  const password = decodeURIComponent(new URL(adminUrl).password);
  return password === '' ? undefined : createHmac('sha256', password).update(role).digest('base64url');
}

function urlOf(adminUrl: string, role: string): string | undefined {
  const password = loginPassword(adminUrl, role);
  if (password === undefined) return undefined;
  const url = new URL(adminUrl);
  url.username = role;
  url.password = password;
  return url.href;
}
