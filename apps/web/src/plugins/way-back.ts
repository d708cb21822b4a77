import type { ProblemCode } from '@grainwright/domain';
import type { FastifyRequest } from 'fastify';

export interface Way {
  readonly label: string;
  readonly href: string;
}

/** What a page is about, by the folder of its address: the thing itself, and all of them. */
const things: Readonly<Record<string, readonly [string, string]>> = {
  accounts: ['account', 'accounts'],
  'credit-notes': ['credit note', 'credit notes'],
  invoices: ['invoice', 'invoices'],
  payments: ['payment', 'payments'],
  'work-orders': ['work order', 'work orders'],
};

/** Folders without a page of their own. */
const withoutList: readonly string[] = ['/account/credit-notes', '/field/work-orders'];

/**
 * Where to go on after a page that could not be shown or a form that was not taken, the best first: to sign in and come
 * back, to the thing that it was about, or to the list of such things. It tells nothing but what the address said.
 */
export function waysBack(request: FastifyRequest, code: ProblemCode | 'internal'): readonly Way[] {
  const start = { label: 'To the start page', href: '/' };
  const record = recordOf(request.url);
  const before = cameFrom(request);
  if (code === 'not_signed_in') {
    const next = before ?? record?.itself.href ?? '/';
    return [{ label: 'Sign in', href: `/sign-in?next=${encodeURIComponent(next)}` }];
  }
  if (record === null) {
    const back = before !== null &&
      request.method !== 'GET' && { label: 'Back to the page before', href: before };
    return back === false ? [start] : [back, start];
  }
  if (code === 'not_found') return record.list === null ? [start] : [record.list, start];
  return record.isItself ? [start] : [record.itself, start];
}

function recordOf(url: string) {
  const path = url.split('?', 1)[0] ?? '';
  const found = /^(\/(?:account|field|office)\/([a-z-]+))\/([0-9a-f-]{36})(\/.*)?$/i.exec(path);
  const [, folder = '', kind = '', id = '', rest] = found ?? [];
  const words = Object.hasOwn(things, kind) ? things[kind] : undefined;
  if (words === undefined) return null;
  const [one, many] = words;
  return {
    isItself: rest === undefined,
    itself: { label: `Back to the ${one}`, href: `${folder}/${id}` },
    list: withoutList.includes(folder) ? null : { label: `All ${many}`, href: folder },
  };
}

/** The page of ours that a form was on. */
function cameFrom(request: FastifyRequest): string | null {
  const { referer } = request.headers;
  if (referer === undefined || !URL.canParse(referer)) return null;
  const { host, pathname, search } = new URL(referer);
  return host === request.host ? `${pathname}${search}` : null;
}
