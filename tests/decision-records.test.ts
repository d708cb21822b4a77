import { createHash } from 'node:crypto';
import type { DecisionId, LineId, VersionId, WorkOrderId } from '@grainwright/domain';
import {
  addLine,
  endContact,
  listVersions,
  readDecisionRecord,
  readWorkOrder,
  recordDecision,
  reviseEstimate,
} from '@grainwright/operations';
import postgres, { type Sql } from 'postgres';
import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest';
import { answersTo, askedEstimate } from './support/asked-estimates.ts';
import { fieldsOfForm, type LinkHolder, linkHolder, linkMailedTo } from './support/mailed-links.ts';
import { runJobs } from './support/run-jobs.ts';
import { openWeb, type Web } from './support/web.ts';
import { cutLining, photographed } from './support/work-in-hand.ts';
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

/** Who has approved what, with what they saw at that moment, shown years later. Common practice, no published source. */

let world: World;
let web: Web;
let admin: Sql;
let business: Business;
let holder: LinkHolder;

beforeAll(async () => {
  world = await openWorld();
  web = await openWeb(world);
  holder = linkHolder(web);
  business = await aBusiness(world);
  admin = postgres(world.adminUrl, { max: 1, onnotice: () => undefined });
});
beforeEach(() => world.at('2026-08-05T09:00'));
afterAll(() => admin.end({ timeout: 5 }));

/** Approved by the link in the mail, with the pictures and a quote for a new part before somebody's eyes. */
async function answeredByLink(account: Account) {
  const workOrderId = await writtenUp(account, { replacement: '900.00' });
  const lineId = world.newId<LineId>();
  must(await addLine(world.services, business.technician, { lineId, workOrderId, line: cutLining }));
  await photographed(account, workOrderId, lineId, 'before');
  const asked = { workOrderId, lineId, versionId: await sent(account, workOrderId) };
  await runJobs(world);
  const path = await linkMailedTo(business, account.emailOf('approver'));
  const page = await holder.get(path);
  const preview = await holder.post(
    `${path}/work-orders/${asked.workOrderId}/preview`,
    fieldsOfForm(page.body, `${path}/work-orders/${asked.workOrderId}/preview`),
  );
  const action = `${path}/work-orders/${asked.workOrderId}/decision`;
  const given = await holder.post(action, { ...fieldsOfForm(preview.body, action), choice: 'as_shown' });
  expect(given.statusCode).toBe(303);
  return { asked, decision: await decisionOf(account, asked) };
}

async function decisionOf(
  account: Account,
  asked: { readonly workOrderId: WorkOrderId },
): Promise<DecisionId> {
  const { decision } = must(await readWorkOrder(world.services, account.viewer, asked.workOrderId));
  if (decision === null) throw new Error('it is not answered');
  return decision.id;
}

const read = (id: DecisionId) => readDecisionRecord(world.services, business.office, id);

/** The page without what belongs to whoever looks: its head and foot, and the addresses of the stylesheets. */
async function pageOf(asked: { readonly workOrderId: WorkOrderId }, decision: DecisionId): Promise<string> {
  const office = await web.signInByPage(business.emailOf('office'), business.password);
  const page = await office.get(`/office/work-orders/${asked.workOrderId}/decisions/${decision}`);
  expect(page.statusCode).toBe(200);
  return /<main[\s\S]*<\/main>/.exec(page.body)?.[0] ?? '';
}

test('years later, after prices, contacts and pictures have changed, the record reads the same', async () => {
  const account = await anAccount(business, { limit: null });
  const { asked, decision } = await answeredByLink(account);
  await runJobs(world);
  const before = must(await read(decision));
  const page = await pageOf(asked, decision);
  expect(page).toContain('Matches');
  expect(page).toContain('Ansel Corvin, by the link in the mail');
  expect(page).toContain('$900.00');
  expect(before.mismatches).toEqual([]);
  expect(before.seen?.record?.photos).toHaveLength(1);

  world.at('2031-03-10T09:00');
  await photographed(account, asked.workOrderId, asked.lineId, 'progress');
  const gone = { accountId: account.id, personId: account.approver.personId };
  must(await endContact(world.services, business.office, gone));
  await admin`update rates set list_minor = list_minor * 2 where tenant_id = ${business.tenantId}`;
  await admin`update accounts set name = 'Renamed & Sons' where id = ${account.id}`;
  await runJobs(world);
  const after = must(await read(decision));
  expect({ ...after, accountName: '', photosNow: null }).toEqual({
    ...before,
    accountName: '',
    photosNow: null,
  });
  expect(
    (await pageOf(asked, decision)).replaceAll('Renamed &amp; Sons', 'Brackwater Glass &amp; Screen'),
  ).toBe(page);
  expect(createHash('sha256').update(after.version.content).digest('hex')).toBe(after.version.digest);
});

test('the account sees its own record, and nobody else’s', async () => {
  const account = await anAccount(business, { limit: null });
  const { asked, decision } = await answeredByLink(account);
  const contact = await web.signInByPage(account.emailOf('viewer'), business.password);
  const path = `/account/work-orders/${asked.workOrderId}/decisions/${decision}`;
  expect((await contact.get(path)).body).toContain('Matches');
  expect((await contact.get(`/account/work-orders/${asked.workOrderId}`)).body).toContain(path);
  const other = await anAccount(business, { limit: null });
  const stranger = await web.signInByPage(other.emailOf('viewer'), business.password);
  expect((await stranger.get(path)).statusCode).toBe(404);
  // Under another work order there is no such record.
  const elsewhere = await askedEstimate(account, [cutLining]);
  expect((await contact.get(path.replace(asked.workOrderId, elsewhere.workOrderId))).statusCode).toBe(404);
});

test('an answer by phone names who wrote it down, and says that what was seen was not kept', async () => {
  const account = await anAccount(business, { limit: null });
  const asked = await askedEstimate(account, [cutLining]);
  const decision = world.newId<DecisionId>();
  const { estimate } = must(await readWorkOrder(world.services, business.office, asked.workOrderId));
  const total = estimate?.price.invoice.totals.withTaxMinor ?? 0n;
  must(
    await recordDecision(world.services, business.office, {
      decisionId: decision,
      workOrderId: asked.workOrderId,
      versionId: asked.versionId,
      digest: asked.digest,
      answers: answersTo(asked),
      total: `${total / 100n}.${String(total % 100n).padStart(2, '0')}`,
      decidedBy: account.approver.personId,
      given: 'by_phone',
    }),
  );
  const record = must(await read(decision));
  expect(record).toMatchObject({ recordedBy: 'Ottoline Fairbrook', mismatches: [] });
  const page = await pageOf(asked, decision);
  for (const words of ['Ansel Corvin, by phone', 'Ottoline Fairbrook', 'Matches'])
    expect(page).toContain(words);
});

test('every version is listed, with what became of it', async () => {
  const account = await anAccount(business, { limit: null });
  const asked = await askedEstimate(account, [cutLining]);
  world.at('2026-08-05T10:00');
  const second = world.newId<VersionId>();
  const renewed = { workOrderId: asked.workOrderId, versionId: second, added: [], changed: [], removed: [] };
  must(await reviseEstimate(world.services, business.office, renewed));
  const versions = must(await listVersions(world.services, account.viewer, asked.workOrderId));
  expect(versions.map(({ id, number, stands }) => [id, number, stands])).toEqual([
    [asked.versionId, 1, 'superseded'],
    [second, 2, 'waits'],
  ]);
  await runJobs(world);
  const path = await linkMailedTo(business, account.emailOf('approver'));
  const action = `${path}/work-orders/${asked.workOrderId}`;
  const preview = await holder.post(
    `${action}/preview`,
    fieldsOfForm((await holder.get(path)).body, `${action}/preview`),
  );
  await holder.post(`${action}/decision`, {
    ...fieldsOfForm(preview.body, `${action}/decision`),
    choice: 'as_shown',
  });
  const page = await pageOf(asked, await decisionOf(account, asked));
  for (const words of ['Version 1', 'superseded, never answered', 'Version 2', 'answered by Ansel Corvin'])
    expect(page).toContain(words);
});

interface Tampering {
  readonly what: string;
  readonly how: (decision: DecisionId, version: VersionId) => Promise<unknown>;
  readonly found: readonly string[];
}

const otherContent = 'The estimate’s content is not what its digest was made of.';
const otherLines = 'The lines and amounts on record are not those of the estimate’s content.';
const otherAnswer = 'The answer on record is not the one that was given to what was seen.';

test.each<Tampering>([
  {
    what: 'an amount in the estimate’s content',
    how: (_decision, version) =>
      admin`update estimate_versions set content = replace(content, '"netMinor":"', '"netMinor":"1') where id = ${version}`,
    found: [otherContent, otherLines],
  },
  {
    what: 'all of the estimate’s content',
    how: (_decision, version) =>
      admin`update estimate_versions set content = 'nothing' where id = ${version}`,
    found: [otherContent, otherLines],
  },
  {
    what: 'an estimate’s line',
    how: (_decision, version) =>
      admin`update estimate_lines set net_minor = net_minor + 1, labor_minor = labor_minor + 1 where version_id = ${version}`,
    found: [otherLines],
  },
  {
    what: 'the digest that an answer names',
    how: (decision) => admin`update decisions set digest = ${'0'.repeat(64)} where id = ${decision}`,
    found: ['The answer names another digest than the estimate has.'],
  },
  {
    what: 'what was seen',
    how: (decision) =>
      admin`update decisions set seen = replace(seen, '900.00', '999.00') where id = ${decision}`,
    found: ['What was seen is not what its digest was made of.'],
  },
  {
    what: 'the price of an approved line',
    how: (decision) =>
      admin`update decision_lines set net_minor = net_minor - 100, labor_minor = labor_minor - 100 where decision_id = ${decision}`,
    found: [otherAnswer],
  },
  {
    what: 'a picture',
    how: (_decision, version) =>
      admin`update photos set sha256 = ${'a'.repeat(64)}
        where work_order_id = (select work_order_id from estimate_versions where id = ${version})`,
    found: ['A picture on record is not the one that was seen.'],
  },
])('who changes $what behind the program’s back is found out', async ({ how, found }) => {
  const { asked, decision } = await answeredByLink(await anAccount(business, { limit: null }));
  expect(must(await read(decision)).mismatches).toEqual([]);
  await openTables();
  await how(decision, asked.versionId);
  expect(must(await read(decision)).mismatches).toEqual(found);
  expect(await pageOf(asked, decision)).toContain('Does not match');
});

/** What only a superuser can do: nothing on record may be changed by anybody else. */
async function openTables(): Promise<void> {
  for (const table of ['estimate_versions', 'estimate_lines', 'decisions', 'decision_lines', 'photos'])
    await admin`alter table ${admin(table)} disable trigger user`;
  await admin`alter table decisions drop constraint if exists decisions_seen`;
}
