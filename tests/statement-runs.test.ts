import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { text } from 'node:stream/consumers';
import { fileURLToPath } from 'node:url';
import type { StatementRunId } from '@grainwright/domain';
import {
  issueStatements,
  listStatementRuns,
  readStatementRun,
  runStatements,
  type Services,
} from '@grainwright/operations';
import postgres, { type Sql } from 'postgres';
import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest';
import { billingDesk, codeOf } from './support/billing-desk.ts';
import { runJobs } from './support/run-jobs.ts';
import { outcomesOf, statementDesk } from './support/statement-desk.ts';
import { openWeb, type Web } from './support/web.ts';
import { aBusiness, anAccount, type Business, must, openWorld, type World } from './support/world.ts';

let world: World;
let web: Web;
let admin: Sql;

beforeAll(async () => {
  world = await openWorld();
  web = await openWeb(world);
  admin = postgres(world.adminUrl, { max: 1, onnotice: () => undefined });
});
beforeEach(() => world.at('2026-08-05T09:00'));
afterAll(async () => {
  await admin.end({ timeout: 5 });
});

/** A business with accounts that have paid something on account in August: the cheapest thing to tell. */
async function paidInAugust(names: readonly string[]): Promise<Business> {
  const business = await aBusiness(world);
  for (const name of names) await paidBy(business, name);
  return business;
}

async function paidBy(business: Business, name: string) {
  const account = await anAccount(business, { name });
  must(await billingDesk(business).pay({ account, amount: '40.00', on: '2026-08-05' }));
  return account;
}

/** What is kept of every statement of a business, as bytes. */
async function kept(business: Business) {
  const rows = await admin<{ content: string }[]>`
    select account_id, month::text, content, sha256, issued_at from statements
    where tenant_id = ${business.tenantId} order by account_id, month`;
  return [...rows];
}

// What a run does is common practice, no source.
test('a run issues the month for every account that gets statements and has something to tell, each once', async () => {
  const business = await paidInAugust(['Alder Lot', 'Birch Fleet']);
  await anAccount(business, { name: 'Cedar Quiet' });
  const none = await anAccount(business, { name: 'Dogwood None', statementKind: 'none' });
  must(await billingDesk(business).pay({ account: none, amount: '5.00', on: '2026-08-05' }));
  await anAccount(business, { name: 'Elm Later', openedOn: '2026-09-01' });
  const { run } = statementDesk(business);
  world.at('2026-09-01T08:00');
  const first = await run('2026-08', null);
  expect(outcomesOf(first)).toEqual({
    'Alder Lot': 'issued',
    'Birch Fleet': 'issued',
    'Cedar Quiet': 'nothing_to_tell',
  });
  expect(first).toMatchObject({ finished: true, accountsTotal: 3, mailed: 0 });
  const before = await kept(business);
  world.at('2026-09-03T08:00');
  const second = await run('2026-08', null);
  expect(second.counts).toEqual({ waiting: 0, issued: 0, issued_before: 2, nothing_to_tell: 1, failed: 0 });
  expect(await kept(business)).toEqual(before);
  expect(before).toHaveLength(2);
});

test('an account that is named gets its statement whatever its terms say and even with nothing to tell', async () => {
  const business = await aBusiness(world);
  const none = await anAccount(business, { name: 'Dogwood None', statementKind: 'none' });
  world.at('2026-09-01T08:00');
  const run = await statementDesk(business).run('2026-08', [none]);
  expect(outcomesOf(run)).toEqual({ 'Dogwood None': 'issued' });
});

test('a month that is not over is refused with the day from which it can be issued', async () => {
  const business = await paidInAugust(['Alder Lot']);
  const { ask } = statementDesk(business);
  world.at('2026-08-31T23:00');
  const early = await ask('2026-08', null);
  expect(early).toMatchObject({ ok: false, problem: { code: 'invalid_date', field: 'month' } });
  expect(early.ok ? '' : early.problem.detail).toContain('2026-09-01');
  world.at('2026-09-01T00:30');
  expect(codeOf(await ask('2026-08', null))).toBe('ok');
});

test('a run that is killed in the middle is gone on with by the next worker, each statement exactly once', async () => {
  const names = Array.from({ length: 45 }, (_, index) => `Account ${index}`);
  const business = await paidInAugust(names);
  const { ask, read } = statementDesk(business);
  const { tenantId } = business;
  world.at('2026-09-01T08:00');
  const { id: runId } = must(await ask('2026-08', null));
  let made = 0;
  const dying: Services = {
    ...world.services,
    newId: () => {
      made += 1;
      if (made > 70) throw new Error('killed');
      return world.services.newId();
    },
  };
  await expect(issueStatements(dying, { tenantId, runId })).rejects.toThrow('killed');
  const halfway = await read(runId);
  expect(halfway.counts).toMatchObject({ waiting: 25, issued: 20 });
  expect(halfway.finished).toBe(false);
  const before = await kept(business);
  await runJobs(world);
  expect((await read(runId)).counts).toMatchObject({ waiting: 0, issued: 45 });
  const after = await kept(business);
  expect(after).toHaveLength(45);
  expect(after).toEqual(expect.arrayContaining(before));
});

test('two runs of a month at once issue each statement once, and both come to an end', async () => {
  const business = await paidInAugust(Array.from({ length: 25 }, (_, index) => `Account ${index}`));
  const { ask, read } = statementDesk(business);
  const { tenantId } = business;
  world.at('2026-09-01T08:00');
  const runs = [must(await ask('2026-08', null)).id, must(await ask('2026-08', null)).id];
  const work = [...runs, ...runs].map((runId) => issueStatements(world.services, { tenantId, runId }));
  for (const done of await Promise.all(work)) must(done);
  const counts = (await Promise.all(runs.map(read))).map((run) => run.counts);
  expect(counts.map((each) => each.waiting)).toEqual([0, 0]);
  expect(counts.reduce((sum, each) => sum + each.issued, 0)).toBe(25);
  expect(counts.reduce((sum, each) => sum + each.issued_before, 0)).toBe(25);
  expect(await kept(business)).toHaveLength(25);
  expect(await billingDesk(business).faults()).toEqual([]);
});

test('the same id again is the same run, and with another month or other accounts it is refused', async () => {
  const business = await paidInAugust(['Alder Lot']);
  const account = await paidBy(business, 'Birch Fleet');
  const { ask } = statementDesk(business);
  world.at('2026-09-01T08:00');
  const id = world.newId<StatementRunId>();
  const first = must(await ask('2026-08', [account], id));
  expect(must(await ask('2026-08', [account], id))).toEqual(first);
  expect(codeOf(await ask('2026-07', [account], id))).toBe('id_reused');
  expect(codeOf(await ask('2026-08', null, id))).toBe('id_reused');
});

test('a month with something to tell can’t be passed over, nor issued once a later one was', async () => {
  const business = await aBusiness(world);
  const account = await paidBy(business, 'Alder Lot');
  const { pay } = billingDesk(business);
  const { run } = statementDesk(business);
  world.at('2026-09-10T08:00');
  await run('2026-08', [account]);
  must(await pay({ account, amount: '10.00', on: '2026-09-10' }));
  world.at('2026-11-02T08:00');
  expect(Object.values(outcomesOf(await run('2026-10', null)))).toEqual([
    'failed: 2026-09 has something to tell and was not issued. Issue 2026-09 first.',
  ]);
  expect(outcomesOf(await run('2026-09', null))).toEqual({ 'Alder Lot': 'issued' });
  expect(outcomesOf(await run('2026-10', null))).toEqual({ 'Alder Lot': 'issued' });
  expect(Object.values(outcomesOf(await run('2026-07', null)))[0]).toMatch(
    /^failed: The statement of 2026-08 is issued already/,
  );
  expect(await billingDesk(business).faults()).toEqual([]);
});

test('an account whose books do not add up is told so, and keeps nobody else from their statement', async () => {
  const business = await paidInAugust(['Alder Lot', 'Birch Broken']);
  await admin.begin(async (sql) => {
    await sql`alter table journal_entries disable trigger append_only`;
    await sql`update journal_entries e set event = 'payment_applied' from journal_lines l, accounts a
      where l.entry_id = e.id and a.id = l.account_id and a.tenant_id = ${business.tenantId} and a.name = 'Birch Broken'`;
    await sql`alter table journal_entries enable trigger append_only`;
  });
  world.at('2026-09-01T08:00');
  const run = await statementDesk(business).run('2026-08', null);
  expect(run.counts).toMatchObject({ issued: 1, failed: 1 });
  expect(outcomesOf(run)['Birch Broken']).toMatch(/^failed: The figures of this account do not add up/);
});

test('who may not issue statements is refused, and a run of another business is not there', async () => {
  const business = await paidInAugust(['Alder Lot']);
  const other = await aBusiness(world);
  world.at('2026-09-01T08:00');
  const run = await statementDesk(business).run('2026-08', null);
  const input = { runId: world.newId<StatementRunId>(), month: '2026-08', accountIds: null };
  expect(codeOf(await runStatements(world.services, business.office, input))).toBe('not_allowed');
  expect(codeOf(await runStatements(world.services, business.technician, input))).toBe('not_allowed');
  expect(codeOf(await readStatementRun(world.services, other.owner, run.id))).toBe('not_found');
  expect(must(await listStatementRuns(world.services, other.owner, null)).rows).toEqual([]);
});

test('the page of a run shows how far it is, loads itself again without JavaScript, and says what failed', async () => {
  const business = await paidInAugust(['Alder Lot', 'Birch Fleet']);
  const browser = await web.signInByPage(business.emailOf('bookkeeper'), business.password);
  world.at('2026-09-01T08:00');
  const runId = world.newId();
  const asked = await browser.post('/office/statements/runs', { run_id: runId, month: '2026-08' });
  expect([asked.statusCode, asked.headers.location]).toEqual([303, `/office/statements/runs/${runId}`]);
  const waiting = await browser.get(`/office/statements/runs/${runId}`);
  expect(waiting.body).toContain('0 of 2 accounts done');
  expect(waiting.body).toMatch(/<noscript><meta http-equiv="refresh" content="3"><\/noscript>/);
  expect(waiting.body).toContain(`data-progress="/office/statements/runs/${runId}/progress"`);
  await runJobs(world);
  const moving = await browser.get(`/office/statements/runs/${runId}/progress`);
  expect(moving.body).toContain('2 of 2 accounts done: 2 issued');
  expect(moving.body).not.toContain('data-progress');
  const done = await browser.get(`/office/statements/runs/${runId}`);
  expect(done.body).not.toContain('http-equiv');
  expect(done.body).toContain('Mail 2 statements');
  const early = await browser.post('/office/statements/runs', { run_id: world.newId(), month: '2026-09' });
  expect([early.statusCode, early.body.includes('2026-09 is not over')]).toEqual([422, true]);
  const headers = await web.signIn(business.emailOf('bookkeeper'), business.password);
  const read = await web.app.inject({ url: `/api/v1/statement-runs/${runId}`, headers });
  expect(read.json()).toMatchObject({ month: '2026-08', finished: true, counts: { issued: 2, waiting: 0 } });
});

test('the command line issues a month and prints a line for each account', { timeout: 120_000 }, async () => {
  const business = await paidInAugust(['Alder Lot', 'Birch Fleet']);
  const [account] = await admin<{ short: string }[]>`
    select short_name as short from accounts where tenant_id = ${business.tenantId} and name = 'Alder Lot'`;
  const short = account?.short ?? '';
  const own = ['statements', 'run', '--tenant', business.tenantId];
  const first = await commandLine([...own, '--month', '2026-08', '--account', short]);
  expect(first).toEqual({ code: 0, said: `${short} Alder Lot: issued\n`, complained: '' });
  const all = await commandLine([...own, '--month', '2026-08']);
  expect(all.said).toMatch(/^\S+ Alder Lot: issued already\n\S+ Birch Fleet: issued\n$/);
  const wrong = await commandLine([...own, '--month', '2026-08', '--account', 'NOBODY']);
  expect(wrong).toEqual({
    code: 1,
    said: '',
    complained: 'There is no account “NOBODY”. Give its short name.\n',
  });
  const [record] = await admin`
    select from_address from audit_records where tenant_id = ${business.tenantId} and action = 'statements_asked_for' limit 1`;
  expect(record?.from_address).toBe('command line');
});

const script = fileURLToPath(new URL('../apps/cli/src/main.ts', import.meta.url));

/** The command as people run it, less npm, over the world's database. */
async function commandLine(args: readonly string[]) {
  const child = spawn(process.execPath, [script, ...args], {
    env: { ...process.env, DATABASE_URL: world.adminUrl, DATA_DIR: world.objectsFolder },
  });
  const ended = once(child, 'exit');
  const [said, complained] = await Promise.all([text(child.stdout), text(child.stderr)]);
  const [code] = await ended;
  return { code, said, complained };
}
