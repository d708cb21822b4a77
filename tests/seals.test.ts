import { randomBytes } from 'node:crypto';
import { type DecisionId, day, type MissingSignatureId, ok, type SigningKeyId } from '@grainwright/domain';
import {
  chainAudit,
  checkSeals,
  closeSealDays,
  decideEstimate,
  listSealKeys,
  readSealDay,
  readStatement,
  recordNoAcceptance,
  releaseAcceptance,
  rotateSealKey,
  type Services,
  sealDaysOver,
  sealRecords,
  writeRework,
} from '@grainwright/operations';
import { sql as drizzleSql } from 'drizzle-orm';
import postgres, { type Sql } from 'postgres';
import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest';
import { billingDesk } from './support/billing-desk.ts';
import { billedJob, credited, dealerJob, lineOf } from './support/credit-desk.ts';
import { runJobs } from './support/run-jobs.ts';
import { approvedScuff, isSignedByKey, readyAnswer, rootOf, sha256, signed } from './support/sealed-work.ts';
import { statementDesk } from './support/statement-desk.ts';
import { finishedLine } from './support/work-in-hand.ts';
import {
  type Account,
  aBusiness,
  anAccount,
  type Business,
  must,
  openWorld,
  type World,
} from './support/world.ts';

/** Seals: RFC 8785, SHA-256, RFC 8032 and RFC 6962, checked here by OpenSSL and by the trees written out once more. */

let world: World;
let admin: Sql;

beforeAll(async () => {
  world = await openWorld();
  admin = postgres(world.adminUrl, { max: 1, onnotice: () => undefined });
});
beforeEach(() => world.at('2026-08-05T09:00'));
afterAll(() => admin.end({ timeout: 5 }));

async function aLot(): Promise<{ readonly business: Business; readonly lot: Account }> {
  const business = await aBusiness(world);
  return { business, lot: await anAccount(business, { name: 'Cobble Hill Motors', limit: null }) };
}

/** Behind the product's back: what was answered is no longer what its digest says. */
async function tornEstimate(decisionId: DecisionId): Promise<void> {
  await admin`set session_replication_role = replica`;
  await admin`update estimate_versions set digest = ${'0'.repeat(64)}
    where id = (select version_id from decisions where id = ${decisionId})`;
  await admin`set session_replication_role = origin`;
}

const sealsOf = ({ tenantId }: Business) =>
  admin<
    {
      number: string;
      kind: string;
      subject_id: string;
      previous: string | null;
      text: string;
      sha256: string;
      content: string;
      content_sha256: string;
      withheld: string | null;
      key_id: string;
      signature: string;
    }[]
  >`select * from seals where tenant_id = ${tenantId} order by number`;

const check = async (business: Business) => must(await checkSeals(world.services, business.tenantId));

test('20 approvals at once wait for no seal, and get one each: no gap, no fork, everything signed', async () => {
  const { business, lot } = await aLot();
  const answers: Awaited<ReturnType<typeof readyAnswer>>[] = [];
  for (let made = 0; made < 20; made += 1) answers.push(await readyAnswer(lot));
  const sealing = () => sealRecords(world.services, business.tenantId);
  const [first, second] = [answers.slice(0, 10), answers.slice(10)];
  const decide = (answer: (typeof answers)[number]) => decideEstimate(world.services, lot.approver, answer);
  const atOnce = await Promise.all([...first.map(decide), sealing(), ...second.map(decide), sealing()]);
  expect(atOnce.filter(({ ok: done }) => !done)).toEqual([]);
  await runJobs(world);
  const seals = await sealsOf(business);
  expect(seals.map(({ number }) => Number(number))).toEqual(
    Array.from({ length: 20 }, (_, index) => index + 1),
  );
  expect(new Set(seals.map((seal) => seal.subject_id))).toEqual(
    new Set(answers.map((answer) => answer.decisionId)),
  );
  const [key] = must(await listSealKeys(world.services, lot.approver));
  for (const [index, seal] of seals.entries()) {
    expect(seal.previous).toBe(seals[index - 1]?.sha256 ?? null);
    expect(sha256(seal.text)).toBe(seal.sha256);
    expect(sha256(seal.content)).toBe(seal.content_sha256);
    expect(JSON.parse(seal.text)).toMatchObject({ previous: seal.previous, content: seal.content_sha256 });
    expect(isSignedByKey(seal.text, seal.signature, key?.publicKey ?? '')).toBe(true);
  }
  expect(must(await sealing())).toBe(0);
});

test('a yes, a no, a release, a credit note and a rework are each sealed, and with the pictures there are by then', async () => {
  const { business, lot } = await aLot();
  const refused = await finishedLine(lot);
  await signed(lot, refused.workOrderId, 'not_accepted');
  await signed(lot, refused.workOrderId);
  const { id: released } = await aRelease(lot);
  const reworked = { reworkOfId: refused.workOrderId, reason: 'finish' as const, day: '', afterHours: false };
  must(await writeRework(world.services, business.technician, { id: world.newId(), ...reworked }));
  const { invoice } = await billedJob(business, admin, dealerJob);
  const note = await credited(business, invoice, {
    lines: [{ kind: 'dropped', lineId: lineOf(invoice, 'SC-S') }],
  });
  await runJobs(world);
  const seals = await sealsOf(business);
  const told = seals.map(({ kind, content }) => ({ kind, ...JSON.parse(content) }));
  expect(told.map(({ kind }) => kind).toSorted()).toEqual([
    'acceptance',
    'acceptance',
    'approval',
    'approval',
    'approval',
    'credit',
    'release',
    'rework',
  ]);
  const answers = told
    .filter(({ kind }) => kind === 'acceptance')
    .map(({ acceptance }) => acceptance.outcome);
  expect(answers.toSorted()).toEqual(['accepted', 'not_accepted']);
  const yes = told.find((each) => each.acceptance?.outcome === 'accepted');
  expect(yes.photos.map((photo: { purpose: string }) => photo.purpose).toSorted()).toEqual([
    'after',
    'after_heat',
    'before',
  ]);
  expect(sha256(yes.shown.text)).toBe(yes.shown.digest);
  expect(told.find(({ kind }) => kind === 'release')).toMatchObject({
    missing: { id: released, why: 'absent' },
  });
  expect(told.find(({ kind }) => kind === 'credit')).toMatchObject({
    creditNote: { number: note.number },
    totalMinor: note.totalMinor.toString(),
  });
  expect(told.find(({ kind }) => kind === 'rework')).toMatchObject({
    rework: { of: { id: refused.workOrderId } },
  });
  expect((await check(business)).faults).toEqual([]);
});

async function aRelease(account: Account): Promise<{ readonly id: MissingSignatureId }> {
  const { technician, office } = account.business;
  const { workOrderId } = await finishedLine(account);
  const id = world.newId<MissingSignatureId>();
  const missing = {
    id,
    workOrderId,
    why: 'absent' as const,
    reason: 'nobody at home',
    witness: 'Ansel Corvin',
  };
  must(await recordNoAcceptance(world.services, technician, missing));
  must(
    await releaseAcceptance(world.services, office, { workOrderId, reason: 'the account vouches for it' }),
  );
  return { id };
}

test('where a signature came from is sealed as a digest: the account reads neither address nor device', async () => {
  const { business, lot } = await aLot();
  const { workOrderId } = await finishedLine(lot);
  await signed(lot, workOrderId);
  await runJobs(world);
  const [seal] =
    await admin`select content, withheld from seals where tenant_id = ${business.tenantId} and kind = 'acceptance'`;
  expect(JSON.parse(seal?.withheld)).toMatchObject({
    device: 'a phone',
    nonce: expect.stringMatching(/^[0-9a-f]{32}$/),
  });
  expect(seal?.content).not.toContain('a phone');
  expect(JSON.parse(seal?.content).withheldDigest).toBe(sha256(seal?.withheld));
  const read = world.database.withTenant(
    { role: 'account', tenantId: business.tenantId, accountId: lot.id },
    async (tx) => ok(await tx.execute(drizzleSql`select withheld from seals`)),
  );
  await expect(read).rejects.toMatchObject({ cause: { code: '42501' } });
});

test('a day that is over gets its root, by RFC 6962, chained and signed; what comes later goes into the next', async () => {
  const { business, lot } = await aLot();
  for (let made = 0; made < 3; made += 1) await approvedScuff(lot);
  must(await sealRecords(world.services, business.tenantId));
  must(await chainAudit(world.services, business.tenantId));
  expect(must(await closeSealDays(world.services, business.tenantId))).toBe(0);
  world.at('2026-08-07T00:30');
  await approvedScuff(lot);
  must(await sealRecords(world.services, business.tenantId));
  world.at('2026-08-08T00:05');
  const closing = () => closeSealDays(world.services, business.tenantId);
  const closed = await Promise.all([closing(), closing()]);
  expect(closed.reduce((sum, each) => sum + must(each), 0)).toBe(2);
  const seals = await sealsOf(business);
  const first = must(await readSealDay(world.services, lot.viewer, '2026-08-05'));
  const second = must(await readSealDay(world.services, lot.viewer, '2026-08-07'));
  expect([first.firstNumber, first.size, second.firstNumber, second.size]).toEqual([1, 3, 4, 1]);
  expect(first.root).toBe(rootOf(seals.slice(0, 3).map(({ text }) => Buffer.from(text, 'utf8'))));
  expect(second.previous).toBe(sha256(first.text));
  const [key] = must(await listSealKeys(world.services, lot.viewer));
  for (const day of [first, second])
    expect(isSignedByKey(day.text, day.signature, key?.publicKey ?? '')).toBe(true);
  expect(await check(business)).toMatchObject({ seals: 4, days: 2, faults: [] });
});

test('killed while it seals, nothing is half done, and the next run seals each record once', async () => {
  const { business, lot } = await aLot();
  for (let made = 0; made < 2; made += 1) await approvedScuff(lot);
  let asked = 0;
  const dying: Services = {
    ...world.services,
    now: () => {
      asked += 1;
      if (asked > 1) throw new Error('killed');
      return world.services.now();
    },
  };
  await expect(sealRecords(dying, business.tenantId)).rejects.toThrow('killed');
  expect(await sealsOf(business)).toEqual([]);
  expect(must(await sealRecords(world.services, business.tenantId))).toBe(2);
  expect(must(await sealRecords(world.services, business.tenantId))).toBe(0);
  expect((await check(business)).faults).toEqual([]);
});

test('the owner changes the key: the one before it introduces it, and both go on proving what they signed', async () => {
  const { business, lot } = await aLot();
  const rotate = (id: SigningKeyId, actor = business.owner) => rotateSealKey(world.services, actor, id);
  expect(await rotate(world.newId())).toMatchObject({ ok: false, problem: { code: 'wrong_state' } });
  await approvedScuff(lot);
  await runJobs(world);
  expect(await rotate(world.newId(), business.office)).toMatchObject({
    ok: false,
    problem: { code: 'not_allowed' },
  });
  const id = world.newId<SigningKeyId>();
  expect(must(await rotate(id)).map(({ state }) => state)).toEqual(['in_use', 'waiting']);
  expect(must(await rotate(id))).toHaveLength(2);
  expect(await rotate(world.newId())).toMatchObject({ ok: false, problem: { code: 'wrong_state' } });
  await runJobs(world);
  await approvedScuff(lot);
  await runJobs(world);
  const [old, young] = must(await listSealKeys(world.services, lot.viewer));
  expect([old?.state, young?.state, young?.introducedBy]).toEqual(['retired', 'in_use', 2]);
  const seals = await sealsOf(business);
  expect(seals.map(({ kind, key_id }) => [kind, key_id])).toEqual([
    ['approval', old?.keyId],
    ['key', old?.keyId],
    ['approval', young?.keyId],
  ]);
  expect(JSON.parse(seals[1]?.content ?? '')).toMatchObject({
    cause: 'rotated',
    key: { publicKey: young?.publicKey },
  });
  expect(await check(business)).toMatchObject({ faults: [], notes: [] });
});

test('with another secret a new key begins, says so, and vouches for itself alone', async () => {
  const { business, lot } = await aLot();
  await approvedScuff(lot);
  must(await sealRecords(world.services, business.tenantId));
  await approvedScuff(lot);
  const elsewhere = {
    ...world.services,
    links: { ...world.services.links, key: new Uint8Array(randomBytes(32)) },
  };
  expect(must(await sealRecords(elsewhere, business.tenantId))).toBe(2);
  const [, young] = must(await listSealKeys(world.services, lot.viewer));
  const seals = await sealsOf(business);
  expect(seals.map(({ kind }) => kind)).toEqual(['approval', 'key', 'approval']);
  expect(seals.slice(1).map(({ key_id }) => key_id)).toEqual([young?.keyId, young?.keyId]);
  expect(JSON.parse(seals[1]?.content ?? '')).toMatchObject({ cause: 'secret_changed' });
  const { faults, notes } = await check(business);
  expect(faults).toEqual([]);
  expect(notes).toEqual([expect.stringContaining('From seal 2 on')]);
});

test('what can’t be sealed as it stands waits and is named; the others have their seals', async () => {
  const { business, lot } = await aLot();
  const broken = await approvedScuff(lot);
  const whole = await approvedScuff(lot);
  await tornEstimate(broken);
  await expect(sealRecords(world.services, business.tenantId)).rejects.toThrow(broken);
  expect((await sealsOf(business)).map((seal) => seal.subject_id)).toEqual([whole]);
  expect(await check(business)).toMatchObject({ waiting: 1, seals: 1 });
});

test('a statement says how much of the account’s own is not under the day that it prints, and the chains go on', async () => {
  const { business, lot } = await aLot();
  const other = await anAccount(business, { name: 'Umbral Film Works', limit: null });
  await billingDesk(business).issued(lot);
  await billingDesk(business).issued(other);
  await runJobs(world);
  const broken = await approvedScuff(lot);
  // Nobody seals this one before the next day: the background was down.
  world.at('2026-08-05T16:00');
  await approvedScuff(lot);
  await tornEstimate(broken);
  world.at('2026-09-01T08:00');
  await statementDesk(business).run('2026-08', [lot, other]);
  const words = async (account: Account) =>
    must(await readStatement(world.services, account.payer, { accountId: account.id, month: '2026-08' }));
  expect((await words(lot)).sealedDay).toMatchObject({ day: '2026-08-05', unsealed: 2 });
  expect((await words(other)).sealedDay).toMatchObject({ day: '2026-08-05', unsealed: 0 });
  const [left] = await admin`select count(*)::integer as waiting from audit_waiting w
    join audit_records r on r.tenant_id = w.tenant_id and r.id = w.audit_id
    where w.tenant_id = ${business.tenantId} and r.action <> 'statement_issued'`;
  expect(left?.waiting).toBe(0);
});

test('one record that can’t be sealed keeps no day from its root', async () => {
  const { business, lot } = await aLot();
  await approvedScuff(lot);
  await tornEstimate(await approvedScuff(lot));
  world.at('2026-08-06T09:00');
  const { unsealable } = must(await sealDaysOver(world.services, business.tenantId));
  expect(String(unsealable)).toContain('can’t be sealed');
  world.at('2026-08-07T09:00');
  must(await sealDaysOver(world.services, business.tenantId));
  expect(must(await readSealDay(world.services, lot.viewer, day('2026-08-06')))).toMatchObject({ size: 1 });
});
