/** What a proxy answers in place of the service while that is not there, e.g. while it starts again. */
export function isServiceAway({ status }: Pick<Response, 'status'>): boolean {
  return [502, 503, 504].includes(status);
}

const formMilliseconds = 30_000;

/**
 * So long, in milliseconds, a form may go without an answer before the app takes it up and sends it in parts: one that the
 * server does once by its id, or by where the work stands, so that it does no harm if both come through. Null for any other,
 * which is waited for.
 */
export function formPatience(path: string): number | null {
  return sentAgain.test(path) ? formMilliseconds : null;
}

const sentAgain =
  /^\/field\/(?:write-up|work-orders\/[0-9a-f-]{36}\/(?:lines\/new|photos|walk-around|estimate|start|finish|acceptance|not-signed))\/?$/;
