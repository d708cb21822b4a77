import type { HandedInId } from '@grainwright/domain';
import {
  type Actor,
  checkHandedIn,
  handInCertificate,
  listHandedIn,
  listHandedInToCheck,
  listNeeds,
  readAccount,
  readOwnAccount,
} from '@grainwright/operations';
import postgres from 'postgres';
import { v7 } from 'uuid';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { codeOf } from './support/billing-desk.ts';
import { openWeb, type Web } from './support/web.ts';
import {
  type Account,
  aBusiness,
  anAccount,
  type Business,
  must,
  openWorld,
  type World,
} from './support/world.ts';

let world: World;
let web: Web;
let business: Business;
let sql: postgres.Sql;

beforeAll(async () => {
  world = await openWorld();
  world.at('2026-10-14T09:00');
  web = await openWeb(world);
  business = await aBusiness(world);
  sql = postgres(world.loginUrl, { max: 1, onnotice: () => {} });
});
afterAll(() => sql.end());

/** A dealer whose certificate ends with October. */
const dealer = () =>
  anAccount(business, {
    certificate: { kind: 'resale', number: 'R-1', validFrom: '2025-11-01', validTo: '2026-10-31' },
  });

const paper = { kind: 'resale', number: 'R-2', validFrom: '2026-11-01', validTo: '2027-10-31' } as const;

async function handedIn(actor: Actor, id = world.newId<HandedInId>()) {
  return must(await handInCertificate(world.services, actor, { id, ...paper }));
}

const check = (id: HandedInId, answer: 'confirmed' | 'not_taken', reason = '', actor = business.bookkeeper) =>
  checkHandedIn(world.services, actor, { id, answer, reason });

const needOf = async ({ viewer }: Account) => must(await listNeeds(world.services, viewer)).certificate;
const filedOf = async ({ id }: Account) =>
  must(await readAccount(world.services, business.office, id)).certificates.map(({ number }) => number);

test('a certificate that ends within thirty days is needed, from the day after work is taxed', async () => {
  const account = await dealer();
  expect(await needOf(account)).toMatchObject({
    warning: { kind: 'ending', number: 'R-1', lastDay: '2026-10-31', daysLeft: 17 },
    taxedFrom: '2026-11-01',
    notTaken: '',
  });
});

test('handed in it is needed no more, but counts only once the business has confirmed it', async () => {
  const account = await dealer();
  const { id, standing } = await handedIn(account.payer);
  expect(standing).toBe('to_check');
  expect(await needOf(account)).toBeNull();
  expect(await filedOf(account)).toEqual(['R-1']);
  const waiting = must(await listHandedInToCheck(world.services, business.office));
  expect(waiting.map((each) => each.id)).toContain(id);
  must(await check(id, 'confirmed'));
  expect(await filedOf(account)).toEqual(['R-2', 'R-1']);
  expect(await needOf(account)).toBeNull();
  expect(must(await readOwnAccount(world.services, account.viewer)).handedIn).toEqual([]);
});

test('one that is not taken is needed again, with the reason for the account to read', async () => {
  const account = await dealer();
  const { id } = await handedIn(account.approver);
  expect(codeOf(await check(id, 'not_taken', ' '))).toBe('invalid_input');
  must(await check(id, 'not_taken', 'The number is of another company.'));
  expect(await filedOf(account)).toEqual(['R-1']);
  expect(await needOf(account)).toMatchObject({ notTaken: 'The number is of another company.' });
});

test('the same sent twice is handed in once and filed once; another answer comes too late', async () => {
  const account = await dealer();
  const id = world.newId<HandedInId>();
  const first = await handedIn(account.payer, id);
  expect(await handedIn(account.payer, id)).toEqual(first);
  const other = { id, ...paper, number: 'R-3' };
  expect(codeOf(await handInCertificate(world.services, account.payer, other))).toBe('id_reused');
  const both = await Promise.all([check(id, 'confirmed'), check(id, 'confirmed')]);
  expect(both.map(codeOf)).toEqual(['ok', 'ok']);
  expect(await filedOf(account)).toEqual(['R-2', 'R-1']);
  expect(codeOf(await check(id, 'not_taken', 'no'))).toBe('already_decided');
});

test('who only looks hands in nothing, a technician checks nothing, and an end before the start is refused', async () => {
  const account = await dealer();
  const id = world.newId<HandedInId>();
  expect(codeOf(await handInCertificate(world.services, account.viewer, { id, ...paper }))).toBe(
    'not_allowed',
  );
  expect(codeOf(await handInCertificate(world.services, business.office, { id, ...paper }))).toBe(
    'not_allowed',
  );
  const backwards = { id, ...paper, validTo: '2026-10-01' };
  expect(codeOf(await handInCertificate(world.services, account.payer, backwards))).toBe(
    'dates_out_of_order',
  );
  const given = await handedIn(account.payer);
  expect(codeOf(await check(given.id, 'confirmed', '', business.technician))).toBe('not_allowed');
});

test('another account and another business learn nothing of what was handed in', async () => {
  const [account, other] = [await dealer(), await dealer()];
  const { id } = await handedIn(account.payer);
  expect(codeOf(await listHandedIn(world.services, other.payer, account.id))).toBe('not_found');
  expect(must(await readOwnAccount(world.services, other.viewer)).handedIn).toEqual([]);
  expect(codeOf(await check(id, 'confirmed', '', account.payer))).toBe('not_allowed');
  const elsewhere = await aBusiness(world);
  expect(codeOf(await check(id, 'confirmed', '', elsewhere.owner))).toBe('not_found');
  expect(must(await listHandedInToCheck(world.services, elsewhere.owner))).toEqual([]);
});

test('the database itself takes from an account only papers of its own, by those who may, and no check', async () => {
  const [account, other] = [await dealer(), await dealer()];
  const insert = (accountId: string, personId: string) =>
    asAccount(
      account,
      (tx) => tx`insert into handed_in_certificates
        (tenant_id, id, account_id, kind, number, valid_from, handed_in_by, handed_in_at)
      values (${business.tenantId}, ${v7()}, ${accountId}, 'resale', 'R-9', '2026-11-01', ${personId}, now())`,
    );
  const refused = { code: '42501' };
  await expect(insert(account.id, account.viewer.personId)).rejects.toMatchObject(refused);
  await expect(insert(other.id, other.payer.personId)).rejects.toMatchObject(refused);
  await expect(insert(account.id, other.payer.personId)).rejects.toMatchObject(refused);
  await insert(account.id, account.payer.personId);
  const { id } = await handedIn(account.payer);
  const checking = asAccount(
    account,
    (
      tx,
    ) => tx`insert into certificate_checks (tenant_id, handed_in_id, account_id, answer, reason, checked_by, checked_at)
      values (${business.tenantId}, ${id}, ${account.id}, 'not_taken', 'x', ${business.owner.personId}, now())`,
  );
  await expect(checking).rejects.toMatchObject(refused);
  const filing = asAccount(
    account,
    (tx) => tx`insert into certificates (tenant_id, id, account_id, kind, number, valid_from)
      values (${business.tenantId}, ${v7()}, ${account.id}, 'resale', 'R-9', '2026-11-01')`,
  );
  await expect(filing).rejects.toMatchObject(refused);
});

async function asAccount({ id }: Account, query: (tx: postgres.TransactionSql) => Promise<unknown>) {
  return sql.begin(async (tx) => {
    await tx`select set_config('role', 'grainwright_account', true), set_config('app.tenant_id', ${business.tenantId}, true),
      set_config('app.account_id', ${id}, true)`;
    return query(tx);
  });
}

test('by pages: the account hands it in, the office finds it on its accounts, and files it', async () => {
  const account = await dealer();
  const payer = await web.signInByPage(account.emailOf('payer'), business.password);
  expect((await payer.get('/account')).body).toMatch(
    /A new certificate[\s\S]*Work from Nov 1, 2026 on is taxed/,
  );
  const form = (await payer.get('/account/certificates/new')).body;
  const id = /name="id" value="([^"]*)"/.exec(form)?.[1] ?? '';
  const typed = { id, kind: 'resale', number: 'R-<2>', valid_from: '', valid_to: '' };
  const wrong = await payer.post('/account/certificates/new', typed);
  expect([wrong.statusCode, wrong.body.includes('R-&lt;2&gt;')]).toEqual([422, true]);
  const sent = await payer.post('/account/certificates/new', { ...typed, valid_from: '2026-11-01' });
  expect([sent.statusCode, sent.headers.location]).toEqual([303, '/account/details']);
  expect((await payer.get('/account/details')).body).toContain('to be checked');
  const office = await web.signInByPage(business.emailOf('office'), business.password);
  expect((await office.get('/office/accounts')).body).toContain(`/office/handed-in/${id}`);
  expect((await office.get(`/office/accounts/${account.id}`)).body).toContain(`/office/handed-in/${id}`);
  const noReason = await office.post(`/office/handed-in/${id}`, { answer: 'not_taken', reason: '' });
  expect(noReason.statusCode).toBe(422);
  const filed = await office.post(`/office/handed-in/${id}`, { answer: 'confirmed', reason: '' });
  expect([filed.statusCode, filed.headers.location]).toEqual([303, `/office/accounts/${account.id}`]);
  expect(await filedOf(account)).toEqual(['R-<2>', 'R-1']);
});

test('by the API: handed in, listed, confirmed', async () => {
  const account = await dealer();
  const asPayer = await web.signIn(account.emailOf('payer'), business.password);
  const asOffice = await web.signIn(business.emailOf('office'), business.password);
  const payload = {
    id: v7(),
    kind: 'resale',
    number: 'R-2',
    valid_from: '2026-11-01',
    valid_to: '2027-10-31',
  };
  const post = { method: 'POST', url: '/api/v1/account/certificates', headers: asPayer, payload } as const;
  const made = await web.app.inject(post);
  expect([made.statusCode, made.json<{ standing: string }>().standing]).toEqual([201, 'to_check']);
  const needs = await web.app.inject({ method: 'GET', url: '/api/v1/account/needs', headers: asPayer });
  expect(needs.json()).toMatchObject({ nothing: true, certificate: null });
  const url = `/api/v1/handed-in-certificates/${payload.id}/check`;
  const checked = await web.app.inject({
    method: 'POST',
    url,
    headers: asOffice,
    payload: { answer: 'confirmed' },
  });
  expect(checked.json()).toMatchObject({ standing: 'confirmed', checked_by: 'Ottoline Fairbrook' });
  const own = await web.app.inject({ method: 'GET', url: '/api/v1/account', headers: asPayer });
  expect(own.json()).toMatchObject({
    certificates: [{ number: 'R-2' }, { number: 'R-1' }],
    handed_in: [],
    certificate_warning: null,
  });
});
