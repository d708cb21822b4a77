import type { AccessLinkId } from '@grainwright/domain';
import { askOwner } from '@grainwright/operations';
import { beforeAll, expect, test } from 'vitest';
import { rowsOf } from './isolation/stored-rows.ts';
import { anotherApprover } from './support/asked-estimates.ts';
import { keptMails } from './support/mailed-links.ts';
import { runJobs } from './support/run-jobs.ts';
import { openWeb, type Web } from './support/web.ts';
import { asAdministrator, finishedLine, photographed, writtenUpLine } from './support/work-in-hand.ts';
import { aBusiness, anAccount, type Business, must, openWorld, type World } from './support/world.ts';
import { aLine, sent } from './support/write-ups.ts';

let world: World;
let web: Web;
let business: Business;

beforeAll(async () => {
  world = await openWorld();
  web = await openWeb(world);
  business = await aBusiness(world);
});

test('a scanner that fetches every link in every mail, and all that their pages name, twice, changes nothing', {
  timeout: 120_000,
}, async () => {
  await mailsOfAllKinds();
  const links = [...new Set((await keptMails(business)).flatMap(({ path }) => path ?? []))];
  expect(links.length).toBe(3);
  const before = await everything();
  const statuses: number[] = [];
  for (const link of [...links, ...links]) statuses.push(...(await scanned(link)));
  expect([...new Set(statuses)]).toEqual([200]);
  expect(statuses.length).toBeGreaterThan(30);
  expect(await everything()).toEqual(before);
});

/** Two approvers of a lot with three vehicles, and the owner of a finished vehicle. */
async function mailsOfAllKinds(): Promise<void> {
  const lot = await anAccount(business, { limit: '50.00' });
  await anotherApprover(lot, { name: 'Thea Lindqvist', email: business.emailOf('thea'), limit: null });
  const dear = aLine({ byHandPrice: '300.00', byHandReason: 'agreed', byHandMaterialsPercent: '20' });
  for (const line of [dear, dear, dear]) {
    const { workOrderId, lineId } = await writtenUpLine(lot, line);
    await photographed(lot, workOrderId, lineId, 'before');
    await sent(lot, workOrderId);
  }
  await runJobs(world);
  const glass = await anAccount(business, { limit: null });
  const finished = await finishedLine(glass);
  await runJobs(world);
  const owner = { ownerName: 'Caspian Rooke', phone: '', email: 'caspian@example.com' };
  const linkId = world.newId<AccessLinkId>();
  const asked = { linkId, workOrderId: finished.workOrderId, ...owner };
  must(await askOwner(world.services, business.technician, asked));
  await runJobs(world);
}

/** Opens a link with GET and HEAD, and everything of the link that its page leads to or shows; the answers' statuses. */
async function scanned(link: string): Promise<readonly number[]> {
  const page = await web.app.inject({ method: 'GET', url: link });
  const named = [...page.body.matchAll(/(?:href|src|data-picture)="([^"]+)"/g)].flatMap(
    ([, address]) => address ?? [],
  );
  const statuses = [page.statusCode];
  for (const url of new Set([link, ...named.filter((address) => address.startsWith(link))]))
    for (const method of ['GET', 'HEAD'] as const)
      statuses.push((await web.app.inject({ method, url: url.replace(/#.*$/, '') })).statusCode);
  return statuses;
}

/** Every row of the business, and how many jobs wait. */
async function everything() {
  const jobs = await asAdministrator<{ count: number }>(
    world,
    async (sql) => sql<{ count: number }[]>`select count(*)::integer as count from graphile_worker.jobs`,
  );
  return { rows: await rowsOf(world, business.tenantId), jobs: jobs[0]?.count };
}
