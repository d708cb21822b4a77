import { createHash, randomBytes } from 'node:crypto';
import type { LineId, MissingSignatureId, WorkOrderId } from '@grainwright/domain';
import {
  addLine,
  closeSealDays,
  openEvidencePack,
  recordNoAcceptance,
  releaseAcceptance,
  releaseSeam,
  type Services,
  sealRecords,
  writeRework,
} from '@grainwright/operations';
import postgres, { type Sql } from 'postgres';
import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest';
import { billingDesk } from './support/billing-desk.ts';
import { billedJob, credited, dealerJob, lineOf } from './support/credit-desk.ts';
import { faultsOf, jsonIn, packOf, reportOf, unpacked } from './support/evidence-desk.ts';
import { notesOf, packDesk, type Trade, wordsIn } from './support/pack-desk.ts';
import { runJobs } from './support/run-jobs.ts';
import { signed } from './support/sealed-work.ts';
import { approvedLine, cutLining, finishedLine, photographed, startedLine } from './support/work-in-hand.ts';
import { aBusiness, anAccount, must, openWorld, type World } from './support/world.ts';
import { aLine, sent } from './support/write-ups.ts';

/** Every way in which work is answered, as packs tell it: each is made, and checked by the verifier and the command. */

let world: World;
let admin: Sql;
let packs: ReturnType<typeof packDesk>;

beforeAll(async () => {
  world = await openWorld();
  packs = packDesk(world);
  admin = postgres(world.adminUrl, { max: 1, onnotice: () => undefined });
});
beforeEach(() => world.at('2026-08-05T09:00'));
afterAll(() => admin.end({ timeout: 5 }));

const sha256 = (bytes: Uint8Array | string) => createHash('sha256').update(bytes).digest('hex');

test('a seam that the owner of the business released is work like any other, and its reason stays with the business', async () => {
  const trade = await packs.aTrade();
  const { business, account } = trade;
  const seam = aLine({
    part: 'seat_back',
    damage: 'open_seam',
    methods: ['re_sew'],
    byHandPrice: '140.00',
    byHandReason: 'no rate',
    byHandMaterialsPercent: '10',
  });
  const work = await approvedLine(account, seam);
  const reason = 'the maker’s instructions show a plain seam here';
  must(await releaseSeam(world.services, business.owner, { ...work, reason }));
  const { own } = await packs.bothHold(trade, work.workOrderId);
  expect(await wordsIn(own)).toContain('Approval, seal 1');
  expect(await wordsIn(own)).not.toContain(reason);
});

test('who would not sign, who saw that, and who signed later on is told in the order in which it was', async () => {
  const trade = await packs.aTrade();
  const work = await finishedLine(trade.account);
  world.at('2026-08-05T10:00');
  await notSigned(trade, work.workOrderId, 'refused', 'wants a new panel');
  world.at('2026-08-05T11:00');
  await signed(trade.account, work.workOrderId, 'not_accepted');
  world.at('2026-08-06T09:00');
  await signed(trade.account, work.workOrderId);
  const { own } = await packs.bothHold(trade, work.workOrderId);
  const words = await wordsIn(own);
  let from = 0;
  for (const each of [
    'Approval, seal 1',
    'No signature',
    'Refused to sign.',
    'Wants a new panel.',
    'Ansel Corvin',
    'Not accepted, seal 2',
    'a trace is left in the sun',
    'Acceptance, seal 3',
    'Orrin Vasek, vehicle’s owner',
  ]) {
    const place = words.indexOf(each, from);
    expect([each, place]).not.toEqual([each, -1]);
    from = place;
  }
});

test('work that nobody signed for is told by whom it was released and why, under a seal of its own', async () => {
  const trade = await packs.aTrade();
  const work = await finishedLine(trade.account);
  await notSigned(trade, work.workOrderId, 'absent', 'nobody came out');
  const reason = 'the account vouches for it';
  must(
    await releaseAcceptance(world.services, trade.business.office, {
      workOrderId: work.workOrderId,
      reason,
    }),
  );
  const { own } = await packs.bothHold(trade, work.workOrderId);
  const words = await wordsIn(own);
  for (const each of [
    'Released without a signature, seal 2',
    'Nobody there to sign.',
    'Nobody came out.',
    'Ottoline Fairbrook',
    'The account vouches for it.',
  ])
    expect(words).toContain(each);
  expect(words.match(/Nobody came out\./g)).toHaveLength(1);
  const [, seal] = jsonIn(unpacked(own), 'manifest.json').seals;
  expect(seal.says).toEqual(
    expect.arrayContaining([
      { name: 'Released because', value: reason },
      { name: 'Witness', value: 'Ansel Corvin' },
    ]),
  );
});

function notSigned({ business }: Trade, workOrderId: WorkOrderId, why: 'refused' | 'absent', reason: string) {
  return recordNoAcceptance(world.services, business.technician, {
    ...{ id: world.newId<MissingSignatureId>(), workOrderId, why, reason },
    witness: 'Ansel Corvin',
  }).then(must);
}

test('a credit note for the work is in its pack, with its seal', async () => {
  const business = await aBusiness(world);
  const { account, invoice, workOrderId } = await billedJob(business, admin, dealerJob);
  const lines = [{ kind: 'dropped' as const, lineId: lineOf(invoice, 'SC-S') }];
  const note = await credited(business, invoice, { lines });
  const { own } = await packs.bothHold({ business, account }, workOrderId);
  const words = await wordsIn(own);
  expect(words).toContain(`Credit note ${note.number}, seal 2`);
  expect(words).toContain('The ruler picture shows a smaller tear.');
  expect(words).toContain(`Invoice ${invoice.number}`);
  expect(words).toContain('Issued\nAug 5, 2026');
  const { seals } = jsonIn(unpacked(own), 'manifest.json');
  expect(seals.map(({ kind }: { kind: string }) => kind)).toEqual(['approval', 'credit']);
});

test('a credit note of the invoice as a whole is in the packs of its work orders, and in no other', async () => {
  const business = await aBusiness(world);
  const account = await anAccount(business, { limit: null });
  const books = billingDesk(business);
  const [invoice, other] = [await books.issued(account), await books.issued(account)];
  const charges = [{ kind: 'trip' as const }];
  const trip = await credited(business, invoice, { charges, reason: 'No trip was made.' });
  for (const [billed, isThere] of [
    [invoice, true],
    [other, false],
  ] as const) {
    const workOrderId = billed.vehicles[0]?.workOrderId;
    if (!workOrderId) throw new Error('an invoice without a vehicle');
    const { own } = await packs.bothHold({ business, account }, workOrderId);
    expect((await wordsIn(own)).includes(`Credit note ${trip.number}, seal`)).toBe(isThere);
  }
});

test('where the terms ask for no acceptance, papers and verifier say which pictures no seal names, and why', async () => {
  const business = await aBusiness(world);
  const account = await anAccount(business, { limit: null, acceptanceRule: 'none' });
  const { workOrderId, lineId } = await startedLine(account);
  await runJobs(world);
  await photographed(account, workOrderId, lineId, 'after');
  const { own } = await packs.bothHold({ business, account }, workOrderId);
  const words = await wordsIn(own);
  for (const each of [
    'Under a seal: picture 1.',
    'Under no seal: picture',
    'stands only the signature of the archive, which the business makes on the day of the archive',
    'The account’s terms ask for no acceptance of finished work',
  ])
    expect(words.replaceAll('\n', ' ')).toContain(each);
  expect(await notesOf(own)).toContain('no acceptance of the finished work is in the pack');
});

test('nothing in the papers is of a later day than the one that they say they are of', async () => {
  const trade = await packs.aTrade();
  const work = await finishedLine(trade.account);
  await runJobs(world);
  world.at('2026-08-07T17:59');
  await notSigned(trade, work.workOrderId, 'refused', 'wants a new panel');
  const { own } = await packs.bothHold(trade, work.workOrderId);
  expect(await wordsIn(own)).toContain('Aug 7, 2026, 5:59 PM');
  expect(jsonIn(unpacked(own), 'manifest.json').asOf).toMatch(/^2026-08-07T/);
});

test('a rework says which work it repairs again and why, and that nobody had to be asked', async () => {
  const trade = await packs.aTrade();
  const { business, account } = trade;
  const { workOrderId: reworkOfId } = await finishedLine(account);
  await signed(account, reworkOfId);
  const again = { id: world.newId<WorkOrderId>(), reworkOfId, reason: 'finish' as const };
  must(await writeRework(world.services, business.technician, { ...again, day: '', afterHours: false }));
  const { own } = await packs.bothHold(trade, again.id);
  const words = await wordsIn(own);
  expect(words).toContain('Rework, seal 3');
  expect(words).toContain('WO-1001');
  expect(words).toContain('Finish.');
  const lineId = world.newId<LineId>();
  must(
    await addLine(world.services, business.technician, { workOrderId: again.id, lineId, line: cutLining }),
  );
  await photographed(account, again.id, lineId, 'before');
  expect(await notesOf(await packOf(world, business.office, again.id))).toContain('no seal names them');
  await sent(account, again.id);
  const later = await packs.bothHold(trade, again.id);
  expect(await wordsIn(later.own)).toContain('Nobody had to be asked');
  expect(await notesOf(later.own)).not.toContain('no seal names them');
});

test('after the secret has changed a pack says that its new key vouches for itself alone, and holds', async () => {
  const trade = await packs.aTrade();
  const { business, account } = trade;
  const { workOrderId } = await finishedLine(account);
  await runJobs(world);
  world.at('2026-08-06T09:00');
  must(await closeSealDays(world.services, business.tenantId));
  await signed(account, workOrderId);
  const elsewhere = {
    ...world.services,
    links: { ...world.services.links, key: new Uint8Array(randomBytes(32)) },
  };
  // The old key can’t be made again, and the new one begins with the next seal.
  const tooEarly = await openEvidencePack(elsewhere, account.viewer, workOrderId);
  expect(tooEarly).toMatchObject({ ok: false, problem: { code: 'unavailable' } });
  must(await sealRecords(elsewhere, business.tenantId));
  world.at('2026-08-07T09:00');
  must(await closeSealDays(elsewhere, business.tenantId));
  const pack = await packOf({ ...world, services: elsewhere }, account.viewer, workOrderId);
  const report = await reportOf(pack);
  expect(faultsOf(report)).toEqual([]);
  expect(report.checks).toContainEqual(
    expect.objectContaining({
      about: 'keys',
      result: 'note',
      sentence: expect.stringContaining('was begun anew and only vouches for itself'),
    }),
  );
  const { words } = await packs.commandSays(pack);
  expect(words).toContain('was begun anew');
  expect(await wordsIn(pack)).toContain('change of the signing key, sealed Aug 6, 2026');
  // What was printed before the change does not speak for what the new key signed.
  const printed = jsonIn(unpacked(pack), 'days/2026-08-05.json').text;
  expect(faultsOf(await reportOf(pack, { day: sha256(printed), keyId: '' }))).not.toEqual([]);
  const later = jsonIn(unpacked(pack), 'days/2026-08-06.json').text;
  expect(faultsOf(await reportOf(pack, { day: sha256(later), keyId: '' }))).toEqual([]);
});

test('a pack of the old secret’s time can’t be made by it once the new key has taken over', async () => {
  const trade = await packs.aTrade();
  const { workOrderId } = await finishedLine(trade.account);
  await runJobs(world);
  const services: Services = {
    ...world.services,
    links: { ...world.services.links, key: new Uint8Array(randomBytes(32)) },
  };
  await approvedLine(trade.account);
  must(await sealRecords(services, trade.business.tenantId));
  expect(await openEvidencePack(world.services, trade.account.viewer, workOrderId)).toMatchObject({
    ok: false,
    problem: { code: 'unavailable' },
  });
});
