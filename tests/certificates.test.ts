import type { CertificateId } from '@grainwright/domain';
import { addCertificate, listCautions, readAccount, readCertificateWarning } from '@grainwright/operations';
import { beforeAll, beforeEach, expect, test } from 'vitest';
import { codeOf } from './support/billing-desk.ts';
import { openWeb, type Web } from './support/web.ts';
import { approvedLine } from './support/work-in-hand.ts';
import {
  type Account,
  aBusiness,
  anAccount,
  type Business,
  must,
  openWorld,
  type World,
} from './support/world.ts';
import { writtenUp } from './support/write-ups.ts';

/** A certificate counts by the date of work; a new one is asked for 30 days ahead. Common practice, no source. */

let world: World;
let web: Web;
let business: Business;

beforeAll(async () => {
  world = await openWorld();
  web = await openWeb(world);
  business = await aBusiness(world);
});
beforeEach(() => world.at('2026-08-05T09:00'));

const until = (validTo: string) => ({
  kind: 'resale' as const,
  number: 'KV-RS-10488',
  validFrom: '2026-01-01',
  validTo,
});
const plain = (body: string) => body.replaceAll(/<[^>]*>/g, ' ').replaceAll(/\s+/g, ' ');
const warningOf = async (account: Account) =>
  must(await readAccount(world.services, business.office, account.id)).certificateWarning;

test('the account page warns thirty days before the last day, and not a day earlier', async () => {
  const soon = await anAccount(business, { certificate: until('2026-09-04') });
  const later = await anAccount(business, { certificate: until('2026-09-05') });
  expect(await warningOf(soon)).toEqual({
    kind: 'ending',
    number: 'KV-RS-10488',
    lastDay: '2026-09-04',
    daysLeft: 30,
  });
  expect(await warningOf(later)).toBeNull();
  const office = await web.signInByPage(business.emailOf('office'), business.password);
  const words = 'Certificate KV-RS-10488 ends on Sep 4, 2026';
  expect(plain((await office.get(`/office/accounts/${soon.id}`)).body)).toContain(words);
  expect(plain((await office.get(`/office/accounts/${later.id}`)).body)).not.toContain('KV-RS-10488 ends');
});

test('one that has ended is asked for until a new one is filed', async () => {
  const account = await anAccount(business, { certificate: until('2026-07-31') });
  expect(await warningOf(account)).toEqual({ kind: 'ended', number: 'KV-RS-10488', lastDay: '2026-07-31' });
  must(
    await addCertificate(world.services, business.office, {
      id: world.newId<CertificateId>(),
      accountId: account.id,
      kind: 'resale',
      number: 'KV-RS-31008',
      validFrom: '2026-08-01',
      validTo: '2027-07-31',
    }),
  );
  expect(await warningOf(account)).toBeNull();
});

test('the technician is told before the work starts, and in the list of the day', async () => {
  const account = await anAccount(business, { certificate: until('2026-08-01') });
  const { workOrderId } = await approvedLine(account);
  const technician = await web.signInByPage(business.emailOf('technician'), business.password);
  const words = 'Certificate KV-RS-10488 ended on Aug 1, 2026';
  for (const path of [`/field/work-orders/${workOrderId}/start`, '/field'])
    expect([path, plain((await technician.get(path)).body).includes(words)]).toEqual([path, true]);
  const headers = await web.signIn(business.emailOf('technician'), business.password);
  const warning = { kind: 'ended', number: 'KV-RS-10488', last_day: '2026-08-01', days_left: null };
  const asked = async (path: string) =>
    (await web.app.inject({ url: `/api/v1${path}`, headers })).json<Record<string, unknown>>();
  expect(await asked(`/work-orders/${workOrderId}/cautions`)).toMatchObject({ certificate_warning: warning });
  expect(JSON.stringify(await asked('/today'))).toContain(JSON.stringify(warning));
});

test('what counts is the date of work, not the day it is looked at', async () => {
  const account = await anAccount(business, { certificate: until('2026-09-10') });
  const workOrderId = await writtenUp(account, { day: '2026-09-14' });
  const asked = { workOrderId, circumstances: [] };
  const { certificateWarning } = must(await listCautions(world.services, business.technician, asked));
  expect(certificateWarning).toEqual({ kind: 'ended', number: 'KV-RS-10488', lastDay: '2026-09-10' });
  expect(await warningOf(account)).toBeNull();
});

test('the account’s people see their own, and nobody else’s', async () => {
  const account = await anAccount(business, { certificate: until('2026-08-20') });
  const stranger = await anAccount(business);
  const payer = await web.signInByPage(account.emailOf('payer'), business.password);
  const words = 'Your certificate KV-RS-10488 ends on Aug 20, 2026';
  for (const path of ['/account/invoices', '/account/work-orders'])
    expect([path, plain((await payer.get(path)).body).includes(words)]).toEqual([path, true]);
  const headers = await web.signIn(account.emailOf('viewer'), business.password);
  const own = await web.app.inject({ url: `/api/v1/accounts/${account.id}/certificate-warning`, headers });
  expect(own.json()).toMatchObject({ certificate_warning: { kind: 'ending', days_left: 15 } });
  expect(codeOf(await readCertificateWarning(world.services, stranger.payer, account.id))).toBe('not_found');
});
