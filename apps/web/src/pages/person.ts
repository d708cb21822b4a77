import type { Me } from '@grainwright/operations';
import { readMe, type Services } from '@grainwright/operations';
import type { FastifyReply, FastifyRequest } from 'fastify';
import type { Assets } from '../look/assets.ts';
import type { Link, Person } from '../look/layout.ts';
import { csrfToken } from '../plugins/forms.ts';
import { unwrap } from '../plugins/problem-error.ts';
import { actorOf } from '../plugins/session.ts';

/** What the pages of an area are built with. */
export interface PageOptions {
  readonly services: Services;
  readonly assets: Assets;
}

/** The part of every signed-in page that is the same: who, which business, the token, the stylesheet. */
export interface Frame {
  readonly person: Person;
  readonly csrfToken: string;
  readonly assets: Assets['urls'];
  readonly elsewhere: readonly Link[];
  readonly me: Me;
  /** Whose phone a field page may become: the tenant's and the person's id. */
  readonly phoneOf: string;
}

/** As much of the frame as pages at the vehicle show: what a phone without signal knows as well. */
export interface FieldFrame extends Omit<Frame, 'me'> {
  readonly me: Pick<Me, 'name' | 'role' | 'pricesByHand' | 'today'> & {
    readonly business: Pick<Me['business'], 'name' | 'phone' | 'currency' | 'timeZone'>;
  };
}

export async function frameOf(
  request: FastifyRequest,
  reply: FastifyReply,
  options: PageOptions,
): Promise<Frame> {
  const actor = actorOf(request);
  const me = unwrap(await readMe(options.services, actor));
  return {
    phoneOf: `${actor.tenantId}.${actor.personId}`,
    person: { name: me.name, business: me.accountName ?? me.business.name },
    csrfToken: csrfToken(reply),
    assets: options.assets.urls,
    elsewhere: elsewhereFor(me, request.url),
    me,
  };
}

function elsewhereFor(me: Me, url: string): readonly Link[] {
  const password = { label: 'Password', href: '/password' };
  if (me.accountId !== null || me.role === 'bookkeeper') return [password];
  if (url.startsWith('/office')) return [{ label: 'Field', href: '/field' }, password];
  return me.role === 'technician' ? [password] : [{ label: 'Office', href: '/office/work-orders' }, password];
}

/** Where somebody of this role starts. */
export function startPage(me: Me): string {
  if (me.accountId !== null) return '/account';
  return me.role === 'technician' ? '/field' : '/office/work-orders';
}
