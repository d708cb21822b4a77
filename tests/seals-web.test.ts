import { canonicalJson, shownToAccounts } from '@grainwright/domain';
import { checkSeals, openStatementPdf, readStatement } from '@grainwright/operations';
import postgres, { type Sql } from 'postgres';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { readPdf } from '../packages/documents/src/pdf/read-pdf.ts';
import { billingDesk } from './support/billing-desk.ts';
import { runJobs } from './support/run-jobs.ts';
import { isSignedByKey, sha256 } from './support/sealed-work.ts';
import { statementDesk } from './support/statement-desk.ts';
import { type Browsing, openWeb, type Web } from './support/web.ts';
import {
  type Account,
  aBusiness,
  anAccount,
  type Business,
  must,
  openWorld,
  type World,
} from './support/world.ts';

/** What an account can check without trusting anybody: its statement, the days, the keys, and who did what. */

let world: World;
let web: Web;
let admin: Sql;
let business: Business;
let shop: Account;
let other: Account;
let invoiceId: string;
let workOrderId: string;
let bearer: { authorization: string };
let office: Browsing;
let contact: Browsing;

beforeAll(async () => {
  world = await openWorld();
  admin = postgres(world.adminUrl, { max: 1, onnotice: () => undefined });
  web = await openWeb(world);
  business = await aBusiness(world);
  shop = await anAccount(business, { name: 'Umbral Film Works' });
  other = await anAccount(business, { name: 'Cobble Hill Motors' });
  world.at('2026-08-05T09:00');
  const invoice = await billingDesk(business).issued(shop);
  invoiceId = invoice.id;
  workOrderId = invoice.vehicles[0]?.workOrderId ?? '';
  await runJobs(world);
  world.at('2026-09-01T08:00');
  await statementDesk(business).run('2026-08', [shop]);
  bearer = await web.signIn(shop.emailOf('viewer'), business.password);
  office = await web.signInByPage(business.emailOf('owner'), business.password);
  contact = await web.signInByPage(shop.emailOf('viewer'), business.password);
});
afterAll(() => admin.end({ timeout: 5 }));

const api = async (path: string, headers = bearer) => web.app.inject({ url: `/api/v1${path}`, headers });

test('the statement prints the newest sealed day, and every seal of the account leads to that root', async () => {
  const asked = { accountId: shop.id, month: '2026-08' };
  const { sealedDay } = must(await readStatement(world.services, shop.payer, asked));
  const { days } = (await api('/seal-days')).json();
  expect(days[0]).toMatchObject({ day: '2026-08-05', root: sealedDay?.root, sha256: sealedDay?.sha256 });
  expect((await api(`/accounts/${shop.id}/statements/2026-08`)).json().sealed_day).toEqual(sealedDay);
  const page = (await contact.get('/account/statements/2026-08')).body;
  const pdf = must(await openStatementPdf(world.services, shop.payer, asked));
  const printed = (await readPdf(new Uint8Array(await bytesOf(pdf.body)))).heard.join('\n');
  for (const place of [page, printed]) {
    expect(place).toContain(sealedDay?.root);
    expect(place).toContain(sealedDay?.sha256);
    expect(place).toContain('Keep this statement');
  }
  const { keys } = (await api('/seal-keys')).json();
  const { seals } = (await api(`/work-orders/${workOrderId}/seals`)).json();
  expect(seals.map((seal: { kind: string }) => seal.kind).toSorted()).toEqual(['acceptance', 'approval']);
  for (const seal of seals) {
    expect(isSignedByKey(seal.text, seal.signature, keys[0].public_key)).toBe(true);
    expect(JSON.parse(seal.text).content).toBe(sha256(seal.content));
    expect(climb(seal)).toBe(sealedDay?.root);
  }
  const day = (await api('/seal-days/2026-08-05')).json();
  expect(sha256(day.text)).toBe(sealedDay?.sha256);
  expect(isSignedByKey(day.text, day.signature, keys[0].public_key)).toBe(true);
});

/** RFC 9162 section 2.1.3.2, written out once more: from a leaf and its proof to the root. */
function climb({
  text,
  day,
}: {
  text: string;
  day: { index: number; size: number; proof: string[] };
}): string {
  const hash = (...parts: readonly Buffer[]) => Buffer.from(sha256(Buffer.concat(parts)), 'hex');
  let [node, last] = [day.index, day.size - 1];
  let root = hash(Buffer.of(0), Buffer.from(text, 'utf8'));
  for (const step of day.proof) {
    const beside = Buffer.from(step, 'hex');
    if (node % 2 === 1 || node === last) {
      root = hash(Buffer.of(1), beside, root);
      while (node % 2 === 0 && node !== 0) [node, last] = [node >> 1, last >> 1];
    } else root = hash(Buffer.of(1), root, beside);
    [node, last] = [node >> 1, last >> 1];
  }
  return root.toString('hex');
}

async function bytesOf(body: AsyncIterable<Uint8Array> | Uint8Array): Promise<Buffer> {
  if (body instanceof Uint8Array) return Buffer.from(body);
  const parts: Uint8Array[] = [];
  for await (const part of body) parts.push(part);
  return Buffer.concat(parts);
}

test('a statement that was issued before there were seals reads as it did', async () => {
  const [row] = await admin`select content from statements where account_id = ${shop.id}`;
  const { sealedDay: _sealedDay, ...statement } = JSON.parse(row?.content).statement;
  const old = canonicalJson({ format: 1, statement });
  await admin`set session_replication_role = replica`;
  await admin`update statements set content = ${old}, sha256 = ${sha256(old)} where account_id = ${shop.id}`;
  const asked = { accountId: shop.id, month: '2026-08' };
  expect(must(await readStatement(world.services, shop.payer, asked))).toMatchObject({
    sealedDay: null,
    closingMinor: 28490n,
  });
  const page = await contact.get('/account/statements/2026-08');
  expect([page.statusCode, page.body.includes('Keep this statement')]).toEqual([200, false]);
  await admin`update statements set content = ${row?.content}, sha256 = ${sha256(row?.content)} where account_id = ${shop.id}`;
  await admin`set session_replication_role = origin`;
});

test('the owner sees how the seals stand and changes the key; nobody else of the staff does', async () => {
  const page = await office.get('/office/seals');
  expect(page.body).toContain('Sealed through');
  const id = world.newId();
  expect((await office.post('/office/seals/keys', { id })).statusCode).toBe(303);
  await runJobs(world);
  const changed = (await office.get('/office/seals')).body;
  expect(changed).toContain('Introduced by the key before it');
  expect(must(await checkSeals(world.services, business.tenantId))).toMatchObject({ faults: [] });
  const clerk = await web.signInByPage(business.emailOf('office'), business.password);
  expect((await clerk.get('/office/seals')).statusCode).toBe(403);
  expect((await clerk.post('/office/seals/keys', { id: world.newId() })).statusCode).toBe(403);
  const theirs = (await contact.get('/account/seals?from=2026-08-01')).body;
  for (const words of ['Sealed days', 'In use', 'Retired']) expect(theirs).toContain(words);
  expect(theirs).toContain(`href="/account/work-orders/${workOrderId}"`);
  const { seals } = (await api('/seals?from=2026-08-01')).json();
  expect(seals).toContainEqual(
    expect.objectContaining({ kind: 'approval', work_order: expect.objectContaining({ id: workOrderId }) }),
  );
  expect((await contact.get(`/account/work-orders/${workOrderId}`)).body).toContain('href="/account/seals"');
  const stranger = await web.signIn(other.emailOf('viewer'), business.password);
  expect((await api('/seals?from=2026-08-01', stranger)).json().seals).toEqual([]);
  expect((await contact.get('/account/seals?from=nonsense')).body).toContain(
    'Write the date as year-month-day',
  );
});

test('an account reads who did what to what is its own: names and actions, no detail, no address', async () => {
  const { entries } = (await api(`/work-orders/${workOrderId}/trail`)).json();
  const told = entries.map(({ words, side }: { words: string; side: string }) => `${side}: ${words}`);
  for (const line of [
    'business: Written up',
    'account: Approved',
    'business: Answer to the finished work signed',
  ])
    expect(told).toContain(line);
  const shown: readonly string[] = Object.keys(shownToAccounts);
  for (const entry of entries) {
    expect(entry.internal).toBeNull();
    expect(shown).toContain(entry.action);
  }
  const whole = (
    await api(
      `/work-orders/${workOrderId}/trail`,
      await web.signIn(business.emailOf('office'), business.password),
    )
  ).json();
  expect(whole.entries.length).toBeGreaterThan(entries.length);
  expect(whole.entries.map((entry: { action: string }) => entry.action)).toContain('line_added');
  expect(
    whole.entries.every((entry: { internal: { chain_number: number } }) => entry.internal.chain_number > 0),
  ).toBe(true);
  const paths = [
    `/account/work-orders/${workOrderId}/trail`,
    `/account/invoices/${invoiceId}/trail`,
    '/account/statements/2026-08/trail',
  ];
  for (const path of paths) expect((await contact.get(path)).statusCode, path).toBe(200);
  expect((await contact.get(paths[2] ?? '')).body).toContain('Statement issued');
  expect((await office.get(`/office/work-orders/${workOrderId}/trail`)).body).toContain('On record');
});

test('another account reads nothing of it, and the database’s role for accounts has no column for the rest', async () => {
  const stranger = await web.signIn(other.emailOf('viewer'), business.password);
  for (const path of [
    `/work-orders/${workOrderId}/trail`,
    `/work-orders/${workOrderId}/seals`,
    `/invoices/${invoiceId}/trail`,
  ])
    expect((await api(path, stranger)).statusCode, path).toBe(404);
  const asAccount = (accountId: string, query: string) =>
    admin.begin(async (sql) => {
      await sql`select set_config('role', 'grainwright_account', true), set_config('app.tenant_id', ${business.tenantId}, true),
        set_config('app.account_id', ${accountId}, true)`;
      return sql.unsafe(query);
    });
  expect((await asAccount(shop.id, 'select action from audit_records')).length).toBeGreaterThan(10);
  expect(await asAccount(other.id, 'select action from audit_records')).toHaveLength(0);
  expect(await asAccount(other.id, `select number from seals where kind <> 'key'`)).toHaveLength(0);
  for (const query of [
    'select detail from audit_records',
    'select from_address from audit_records',
    'select withheld from seals',
    'select salt from signing_keys',
  ])
    await expect(asAccount(shop.id, query), query).rejects.toThrow('permission denied');
  const seen = await asAccount(shop.id, 'select distinct action from audit_records');
  const known: readonly string[] = Object.keys(shownToAccounts);
  expect(seen.filter(({ action }) => !known.includes(action))).toEqual([]);
  const [listed] =
    await admin`select count(*)::int as shown from unnest(${[...known]}::text[]) as each (action) where shown_to_accounts(action)`;
  expect(listed?.shown).toBe(known.length);
});
