import type { WorkOrderId } from '@grainwright/domain';
import { beforeAll, expect, test } from 'vitest';
import { openWeb, type Web } from './support/web.ts';
import { asAdministrator, finishedLine } from './support/work-in-hand.ts';
import { type Account, aBusiness, anAccount, type Business, openWorld, type World } from './support/world.ts';

/** A work order on which more happened than stands on one page: 450 records more, a minute apart. */

let world: World;
let business: Business;
let account: Account;
let web: Web;
let id: WorkOrderId;

beforeAll(async () => {
  world = await openWorld();
  web = await openWeb(world);
  business = await aBusiness(world);
  account = await anAccount(business, { limit: null });
  id = (await finishedLine(account)).workOrderId;
  await asAdministrator(
    world,
    (
      sql,
    ) => sql`insert into audit_records (tenant_id, id, at, person_id, account_id, action, subject_kind, subject_id,
        detail, from_address)
      select tenant_id, gen_random_uuid(), at + n * interval '1 minute', person_id, account_id, action, subject_kind,
        subject_id, detail, from_address
      from audit_records, generate_series(1, 450) as n
      where tenant_id = ${business.tenantId} and action = 'work_order_submitted'`,
  );
});

type Trail = {
  entries: { at: string; action: string }[];
  earlier: string | null;
  later: string | null;
};

test('every record is on one page, in order, from the newest page back and forth again', async () => {
  for (const email of [business.emailOf('office'), account.emailOf('viewer')]) {
    const token = await web.signIn(email, business.password);
    const trail = async (query: string): Promise<Trail> => {
      const url = `/api/v1/work-orders/${id}/trail${query}`;
      return (await web.app.inject({ method: 'GET', url, headers: token })).json();
    };
    const pages = [await trail('')];
    for (let first = pages[0]; first?.earlier; first = pages[0])
      pages.unshift(await trail(`?before=${first.earlier}`));
    expect(pages.length).toBeGreaterThan(2);
    expect(pages.at(-1)?.later).toBeNull();
    const moments = pages.flatMap(({ entries }) => entries.map(({ at }) => at));
    expect(moments).toEqual(moments.toSorted());
    const sent = pages.flatMap(({ entries }) =>
      entries.filter(({ action }) => action === 'work_order_submitted'),
    );
    expect(sent).toHaveLength(451);
    const forth = [pages[0]];
    for (let last = forth.at(-1); last?.later; last = forth.at(-1))
      forth.push(await trail(`?after=${last.later}`));
    expect(forth.flatMap((page) => page?.entries)).toEqual(pages.flatMap((page) => page.entries));
  }
});

test('the pages lead to each other by links; what is no place of this trail is refused', async () => {
  for (const [email, area] of [
    [business.emailOf('office'), 'office'],
    [account.emailOf('viewer'), 'account'],
  ] as const) {
    const reader = await web.signInByPage(email, business.password);
    const path = `/${area}/work-orders/${id}/trail`;
    const newest = await reader.get(path);
    expect(newest.body).not.toContain('>Later<');
    const earlier = hrefOf(newest.body, 'Earlier');
    expect(earlier).toContain(`${path}?before=`);
    const before = await reader.get(earlier);
    const later = hrefOf(before.body, 'Later');
    expect(hrefOf(before.body, 'Newest')).toBe(path);
    expect((await reader.get(later)).body).toContain('>Earlier<');
    expect((await reader.get(`${path}?before=${world.newId()}`)).statusCode).toBe(404);
    expect((await reader.get(`${path}?before=nonsense`)).statusCode).toBe(200);
  }
});

function hrefOf(body: string, label: string): string {
  const found = new RegExp(`href="([^"]+)"[^>]*>${label}<`).exec(body)?.[1];
  if (found === undefined) throw new Error(`the page has no link “${label}”`);
  return found;
}

test('amounts and exact decimals of what is on record are written out as figures', async () => {
  await asAdministrator(
    world,
    (
      sql,
    ) => sql`insert into audit_records (tenant_id, id, at, person_id, account_id, action, subject_kind, subject_id,
        detail, from_address)
      select tenant_id, gen_random_uuid(), at + interval '900 minutes', person_id, account_id, 'line_changed',
        subject_kind, subject_id, ${sql.json({
          inches: { digits: { bigint: '21' }, scale: 1 },
          net_minor: { bigint: '16575' },
        })}, from_address
      from audit_records where tenant_id = ${business.tenantId} and action = 'work_order_written_up' limit 1`,
  );
  const office = await web.signInByPage(business.emailOf('office'), business.password);
  const { body } = await office.get(`/office/work-orders/${id}/trail`);
  expect(body).toContain('<b>inches</b> 2.1<');
  expect(body).toContain('<b>net minor</b> 16575<');
  expect(body).not.toContain('bigint');
});
