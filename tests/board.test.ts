import type { AccountId, VersionId } from '@grainwright/domain';
import { type BoardColumnName, type BoardView, holdWorkOrder, readBoard } from '@grainwright/operations';
import { beforeAll, expect, test } from 'vitest';
import { openWeb, type Web } from './support/web.ts';
import {
  asAdministrator,
  finishedLine,
  photographed,
  startedLine,
  writtenUpLine,
} from './support/work-in-hand.ts';
import {
  type Account,
  aBusiness,
  anAccount,
  type Business,
  must,
  openWorld,
  type World,
} from './support/world.ts';
import { sent, writtenUp } from './support/write-ups.ts';

let world: World;
let web: Web;
let business: Business;
let account: Account;
let other: Account;

beforeAll(async () => {
  world = await openWorld();
  web = await openWeb(world);
  business = await aBusiness(world);
  account = await anAccount(business);
  other = await anAccount(business, { shortName: 'OTHER' });
});

const board = async (input: Parameters<typeof readBoard>[2] = {}) =>
  must(await readBoard(world.services, business.office, input));

function column(view: BoardView, name: BoardColumnName) {
  const found = view.columns.find((each) => each.waitsFor === name);
  if (found === undefined) throw new Error(`no column ${name}`);
  return found;
}

test('an empty board says that nothing waits', async () => {
  expect((await board()).columns.map(({ waitsFor, count }) => [waitsFor, count])).toEqual([
    ['technician', 0],
    ['approval', 0],
    ['po', 0],
    ['acceptance', 0],
    ['invoice', 0],
    ['money', 0],
    ['hold', 0],
  ]);
  const office = await web.signInByPage(business.emailOf('office'), business.password);
  expect((await office.get('/office/board')).body).toContain('Nothing waits');
});

test('each work order stands where it waits, with the days since its last step, its vehicle and its amount', async () => {
  world.at('2026-08-01T09:00');
  const held = await writtenUp(account);
  world.at('2026-08-03T09:00');
  const asked = await writtenUpLine(account);
  await sentWithPhoto(account, asked);
  await startedLine(other);
  await finishedLine(account);
  must(
    await holdWorkOrder(world.services, business.office, {
      workOrderId: held,
      reason: 'the door panel is away',
    }),
  );
  world.at('2026-08-05T09:00');
  const view = await board();
  expect(
    view.columns.filter(({ count }) => count > 0).map(({ waitsFor, count }) => [waitsFor, count]),
  ).toEqual([
    ['technician', 1],
    ['approval', 1],
    ['acceptance', 1],
    ['hold', 1],
  ]);
  // VC-M, trade: 165.75 of the invented price list.
  expect(column(view, 'approval').cards).toMatchObject([
    { id: asked.workOrderId, since: '2026-08-03', days: 2, repairsMinor: 16575n, accountId: account.id },
  ]);
  expect(column(view, 'hold').cards).toMatchObject([
    { id: held, holdReason: 'the door panel is away', repairsMinor: null },
  ]);
});

async function sentWithPhoto(
  of: Account,
  work: Awaited<ReturnType<typeof writtenUpLine>>,
): Promise<VersionId> {
  await photographed(of, work.workOrderId, work.lineId, 'before');
  return sent(of, work.workOrderId);
}

test('the board narrows to an account or a technician, and a technician sees their own only', async () => {
  const narrowed = await board({ accountId: other.id });
  expect(narrowed.columns.reduce((sum, { count }) => sum + count, 0)).toBe(1);
  expect(
    (await board({ accountId: world.newId<AccountId>() })).columns.every(({ count }) => count === 0),
  ).toBe(true);
  const view = await board({ technicianId: business.technician.personId });
  expect(view.columns.reduce((sum, { count }) => sum + count, 0)).toBe(4);
  expect(view.technicians.map(({ id }) => id)).toEqual([business.technician.personId]);
  const own = must(
    await readBoard(world.services, business.technician, { technicianId: business.owner.personId }),
  );
  expect(own.columns.reduce((sum, { count }) => sum + count, 0)).toBe(4);
  expect(await readBoard(world.services, account.approver)).toMatchObject({
    problem: { code: 'not_allowed' },
  });
});

test('of 300 that wait, a column shows the 12 that have waited longest and how many more there are', async () => {
  const first = await writtenUp(account);
  await asAdministrator(
    world,
    (sql) => sql`
    with made as (
      insert into work_orders (tenant_id, id, number, account_id, visit_id, vehicle_id, state, written_up_at)
      select tenant_id, gen_random_uuid(), 9000 + n, account_id, visit_id, vehicle_id, 'approved', now()
      from work_orders, generate_series(1, 300) n where id = ${first} returning *)
    insert into work_order_steps (tenant_id, id, work_order_id, event, to_state, person_id, happened_at)
    select tenant_id, gen_random_uuid(), id, 'approved', 'approved', ${business.technician.personId},
      timestamptz '2026-06-01 12:00Z' + (number - 9001) * interval '1 hour'
    from made`,
  );
  const { cards, count } = column(await board(), 'technician');
  expect(count).toBe(302);
  expect(cards.map((card) => card.number)).toEqual(
    Array.from({ length: 12 }, (_, index) => 9001n + BigInt(index)),
  );
  expect(cards[0]).toMatchObject({ since: '2026-06-01', days: 65 });
  const office = await web.signInByPage(business.emailOf('office'), business.password);
  const page = (await office.get(`/office/board?technician=${business.technician.personId}`)).body;
  expect(page).toContain('290 more');
  const more = /href="([^"]+)">290 more/.exec(page)?.[1]?.replaceAll('&amp;', '&') ?? '';
  expect(more).toBe(`/office/work-orders?waits=technician&technician=${business.technician.personId}`);
  expect((await office.get(more)).body).toContain('WO-9300');
});

test('a card leads to the work order and to what gets it on, for whoever may do that', async () => {
  const office = await web.signInByPage(business.emailOf('office'), business.password);
  const page = (await office.get(`/office/board?account=${account.id}`)).body;
  const asked = column(await board({ accountId: account.id }), 'approval').cards[0];
  expect(page).toContain(`href="/office/work-orders/${asked?.id}"`);
  expect(page).toContain(`href="/office/work-orders/${asked?.id}#answer"`);
  const bookkeeper = await web.signInByPage(business.emailOf('bookkeeper'), business.password);
  expect((await bookkeeper.get('/office/board')).body).not.toContain('#answer');
});

test('the API answers the same board', async () => {
  const headers = await web.signIn(business.emailOf('office'), business.password);
  const answer = await web.app.inject({
    method: 'GET',
    url: `/api/v1/board?account_id=${account.id}`,
    headers,
  });
  expect(answer.statusCode).toBe(200);
  const { columns } = answer.json<{
    columns: { waits_for: string; count: number; cards: { repairs: string }[] }[];
  }>();
  expect(columns.find((each) => each.waits_for === 'approval')).toMatchObject({
    count: 1,
    cards: [{ repairs: '165.75', days: 2 }],
  });
});
