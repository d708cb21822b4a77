import { Readable } from 'node:stream';
import {
  type BusinessView,
  type ChangeBusinessSettingsInput,
  changeBusinessSettings,
  listTenants,
  openLogo,
  readBusinessSettings,
  removeLogo,
  setLogo,
} from '@grainwright/operations';
import postgres, { type Sql } from 'postgres';
import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest';
import { cameraExif, pngClaiming, sample } from '../packages/evidence/src/photo/photo-fixtures.ts';
import { billingDesk, codeOf } from './support/billing-desk.ts';
import { multipart } from './support/multipart.ts';
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
afterAll(() => admin.end({ timeout: 5 }));
beforeEach(() => world.at('2026-08-05T09:00'));

async function shown({ owner }: Business): Promise<BusinessView> {
  return must(await readBusinessSettings(world.services, owner));
}

/** The settings as a form shows them, with what is changed. */
function asShown(
  now: BusinessView,
  changed: Partial<ChangeBusinessSettingsInput> = {},
): ChangeBusinessSettingsInput {
  return {
    revision: now.settingsRevision,
    name: now.name,
    address: now.address,
    phone: now.phone,
    email: now.email,
    documentNote: now.documentNote,
    estimateValidDays: '30',
    smallDifference: '2.00',
    returnFee: '0.00',
    lateChargePercent: '0',
    lateChargeGraceDays: '0',
    writeOffReclaimsTax: false,
    duplicateDays: '30',
    comebackDays: '90',
    warrantyDays: '90',
    acceptanceLinkDays: '14',
    acceptanceCopyDays: '365',
    certificateWarningDays: '30',
    pageSize: 'letter',
    ...changed,
  };
}

function change({ owner }: Business, input: ChangeBusinessSettingsInput, by = owner) {
  return changeBusinessSettings(world.services, by, input);
}

function logo({ owner }: Business, bytes: Buffer, by = owner) {
  const stream = Readable.from([bytes]);
  return setLogo(world.services, by, {
    stream,
    truncated: () => false,
    directory: world.objects.temporaryDirectory,
  });
}

test('what is changed stands there, is on record with what was before, and nothing else is touched', async () => {
  const business = await aBusiness(world);
  const now = await shown(business);
  must(
    await change(business, asShown(now, { lateChargePercent: '1.5%', returnFee: '35', comebackDays: '60' })),
  );
  expect(await shown(business)).toMatchObject({
    ...now,
    returnFeeMinor: 3500n,
    // Three decimals, as it is stored.
    lateChargePercent: { digits: 1500n, scale: 3 },
    comebackDays: 60,
    settingsRevision: 2,
  });
  const [row] = await admin`select detail from audit_records
    where tenant_id = ${business.tenantId} and action = 'settings_changed'`;
  expect(row?.detail).toEqual({
    before: { return_fee: '0.00', late_charge_percent: '0', comeback_days: 90 },
    after: { return_fee: '35.00', late_charge_percent: '1.5', comeback_days: 60 },
  });
});

test('of two who change it at once one is told, and loses nothing of what was typed', async () => {
  const business = await aBusiness(world);
  const now = await shown(business);
  const [one, other] = await Promise.all([
    change(business, asShown(now, { phone: '555-0111' })),
    change(business, asShown(now, { phone: '555-0122' })),
  ]);
  expect([codeOf(one), codeOf(other)].toSorted()).toEqual(['ok', 'shown_changed']);
  const browser = await web.signInByPage(business.emailOf('owner'), business.password);
  const fields = fieldsOf(asShown(now, { phone: '555-0133' }));
  const late = await browser.post('/office/business', fields);
  expect(late.statusCode).toBe(409);
  for (const part of ['value="555-0133"', 'name="revision" value="2"', 'Stands there', '555-01'])
    expect(late.body).toContain(part);
  expect((await browser.post('/office/business', { ...fields, revision: '2' })).statusCode).toBe(303);
  expect((await shown(business)).phone).toBe('555-0133');
});

test('the same change sent again changes nothing, whatever revision it names', async () => {
  const business = await aBusiness(world);
  const input = asShown(await shown(business), { documentNote: 'Pay by check, please.' });
  must(await change(business, input));
  expect(must(await change(business, input)).settingsRevision).toBe(2);
});

test('a new name is on the next invoice and where people choose their business, and not on what was issued', async () => {
  const business = await aBusiness(world);
  const account = await anAccount(business);
  const desk = billingDesk(business);
  const before = await desk.issued(account);
  must(await change(business, asShown(await shown(business), { name: 'Quillfeather & Daughters' })));
  const after = await desk.issued(account);
  expect([(await desk.reread(before)).seller.name, after.seller.name]).toEqual([
    business.name,
    'Quillfeather & Daughters',
  ]);
  const tenants = must(await listTenants(world.services));
  expect(tenants.find((each) => each.id === business.tenantId)?.name).toBe('Quillfeather & Daughters');
});

test('what can’t be is refused at its field, and only the owner changes it', async () => {
  const business = await aBusiness(world);
  const now = await shown(business);
  const wrong: readonly [Partial<ChangeBusinessSettingsInput>, string][] = [
    [{ name: ' ' }, 'name'],
    [{ email: 'two@example.com, one@example.com' }, 'email'],
    [{ returnFee: '-1' }, 'return_fee'],
    [{ lateChargePercent: '101' }, 'late_charge_percent'],
    [{ lateChargePercent: '1.2345' }, 'late_charge_percent'],
    [{ estimateValidDays: '0' }, 'estimate_valid_days'],
    [{ comebackDays: '1.5' }, 'comeback_days'],
    [{ warrantyDays: '1001' }, 'warranty_days'],
    [{ acceptanceLinkDays: '0' }, 'acceptance_link_days'],
    [{ acceptanceCopyDays: '3651' }, 'acceptance_copy_days'],
    [{ pageSize: 'legal' }, 'page_size'],
  ];
  for (const [changed, field] of wrong) {
    const refused = await change(business, asShown(now, changed));
    expect([changed, refused.ok ? 'ok' : refused.problem.field]).toEqual([changed, field]);
  }
  for (const by of [business.bookkeeper, business.office, business.technician])
    expect(codeOf(await change(business, asShown(now, { phone: '1' }), by))).toBe('not_allowed');
});

test('a logo is decoded before it counts: PNG or JPEG, one megabyte, nothing that says where it was taken', async () => {
  const business = await aBusiness(world);
  const account = await anAccount(business);
  const png = await sample({ width: 300, height: 90 }).png().toBuffer();
  expect(must(await logo(business, png)).logoKey).toMatch(/^tenant\/[0-9a-f-]{36}\/logo\//);
  const seen = must(await openLogo(world.services, account.viewer, undefined));
  expect([seen.mediaType, seen.bytes]).toEqual(['image/png', png.length]);
  seen.stream?.resume();
  const jpeg = await sample({ width: 300, height: 90 }).jpeg().toBuffer();
  const refused = {
    photo_not_an_image: await sample().webp().toBuffer(),
    photo_unreadable: pngClaiming(300, 90),
    photo_too_large: Buffer.concat([png, Buffer.alloc(1_000_000)]),
    photo_too_many_pixels: await sample({ width: 4001, height: 2 }).png().toBuffer(),
    invalid_input: await sample({ exif: cameraExif }).jpeg().toBuffer(),
  };
  for (const [code, bytes] of Object.entries(refused)) {
    const answer = await logo(business, bytes);
    expect(answer.ok ? 'ok' : [answer.problem.code, answer.problem.field]).toEqual([code, 'logo']);
  }
  expect(codeOf(await logo(business, jpeg, business.bookkeeper))).toBe('not_allowed');
  expect((await shown(business)).logoMediaType).toBe('image/png');
  expect(must(await logo(business, jpeg)).logoMediaType).toBe('image/jpeg');
  must(await removeLogo(world.services, business.owner));
  expect(codeOf(await openLogo(world.services, account.viewer, undefined))).toBe('not_found');
});

test('the owner sets the logo on the page, and the sheets of invoices carry it', async () => {
  const business = await aBusiness(world);
  const invoice = await billingDesk(business).issued(await anAccount(business));
  const browser = await web.signInByPage(business.emailOf('owner'), business.password);
  const bytes = await sample({ width: 300, height: 90 }).png().toBuffer();
  const upload = multipart({ _csrf: browser.token }, { name: 'logo.png', bytes });
  const sent = await web.app.inject({
    method: 'POST',
    url: '/office/business/logo',
    cookies: browser.cookies,
    ...upload,
  });
  expect([sent.statusCode, sent.headers.location]).toEqual([303, '/office/business?saved=yes']);
  expect((await browser.get(`/office/invoices/${invoice.id}`)).body).toContain(
    '<img class="logo" src="/logo?of=',
  );
  const picture = await browser.get('/logo');
  expect([picture.statusCode, picture.headers['content-type'], picture.rawPayload.equals(bytes)]).toEqual([
    200,
    'image/png',
    true,
  ]);
  const without = multipart({ _csrf: browser.token }, null);
  const empty = await web.app.inject({
    method: 'POST',
    url: '/office/business/logo',
    cookies: browser.cookies,
    ...without,
  });
  expect([empty.statusCode, empty.body.includes('Choose a picture first.')]).toEqual([422, true]);
});

test('the API reads and changes the same settings', async () => {
  const business = await aBusiness(world);
  const headers = await web.signIn(business.emailOf('owner'), business.password);
  const read = await web.app.inject({ url: '/api/v1/business', headers });
  const { id, currency, time_zone, invoice_prefix, ...settings } = read.json<Record<string, unknown>>();
  expect([id, currency, time_zone, invoice_prefix]).toEqual([
    business.tenantId,
    'USD',
    'America/Chicago',
    'INV-',
  ]);
  const payload = { ...settings, return_fee: '35.00' };
  const changed = await web.app.inject({ method: 'PUT', url: '/api/v1/business', headers, payload });
  expect([changed.statusCode, changed.json()]).toMatchObject([200, { return_fee: '35.00', revision: 2 }]);
  const late = await web.app.inject({
    method: 'PUT',
    url: '/api/v1/business',
    headers,
    payload: { ...payload, return_fee: '1' },
  });
  expect([late.statusCode, late.json()]).toMatchObject([409, { code: 'shown_changed' }]);
});

function fieldsOf(input: ChangeBusinessSettingsInput): Record<string, string> {
  return {
    revision: String(input.revision),
    name: input.name,
    address: input.address,
    phone: input.phone,
    email: input.email,
    document_note: input.documentNote,
    estimate_valid_days: input.estimateValidDays,
    small_difference: input.smallDifference,
    return_fee: input.returnFee,
    late_charge_percent: input.lateChargePercent,
    late_charge_grace_days: input.lateChargeGraceDays,
    duplicate_days: input.duplicateDays,
    comeback_days: input.comebackDays,
    warranty_days: input.warrantyDays,
    acceptance_link_days: input.acceptanceLinkDays,
    acceptance_copy_days: input.acceptanceCopyDays,
    certificate_warning_days: input.certificateWarningDays,
    page_size: input.pageSize,
  };
}
