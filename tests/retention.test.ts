import { createHash } from 'node:crypto';
import { Readable } from 'node:stream';
import type { CoveringId, DeletionId, LegalHoldId, MailId, PhotoId } from '@grainwright/domain';
import {
  addPhoto,
  coverPhoto,
  liftLegalHold,
  mailStatement,
  openInvoicePdf,
  openPhoto,
  openStatementPdf,
  placeLegalHold,
  readRetention,
  readWorkOrder,
  removeDeleted,
} from '@grainwright/operations';
import { beforeAll, beforeEach, expect, test } from 'vitest';
import { codeOf } from './support/billing-desk.ts';
import { oneYear, retentionDesk } from './support/retention-desk.ts';
import { runJobs } from './support/run-jobs.ts';
import { statementDesk } from './support/statement-desk.ts';
import { openWeb, type Web } from './support/web.ts';
import { aJpeg, asAdministrator, photoInput, writtenUpLine } from './support/work-in-hand.ts';
import { aBusiness, anAccount, must, openWorld, type World } from './support/world.ts';

/** What goes once its time is over, what stays, and what is left of it. The days are counted by hand. */

let world: World;
let web: Web;
let desk: ReturnType<typeof retentionDesk>;

beforeAll(async () => {
  world = await openWorld();
  web = await openWeb(world);
  desk = retentionDesk(world);
});
beforeEach(() => world.at('2026-08-05T09:00'));

test('what goes does so after its last day, once it is switched on, and is told with its day, rule and digest', async () => {
  const shop = await desk.paidShop();
  const { business, account, workOrderId, invoiceId } = shop;
  const before = must(await readWorkOrder(world.services, account.viewer, workOrderId));
  const [photo] = before.photos;
  if (photo === undefined) throw new Error('no photo');
  must(await desk.setRule(shop, 'photos', oneYear));
  // Paid on Aug 5, 2026: kept through Aug 5, 2027.
  world.at('2027-08-05T23:00');
  expect((await desk.due(shop)).goes).toEqual([]);
  world.at('2027-08-06T09:00');
  expect((await desk.due(shop)).goes).toEqual(['6 photos']);
  const objects = await desk.objectsOf(shop);
  expect(await desk.run(shop)).toEqual({ isOn: false, count: 0, bytes: 0n });
  await desk.switchedOn(shop);
  const { bytes } = await desk.due(shop);
  expect(await desk.run(shop)).toEqual({ isOn: true, count: 6, bytes });
  expect(await desk.run(shop)).toEqual({ isOn: true, count: 0, bytes: 0n });
  // The rows say so at once; the bytes go with the job, also where its first try was cut off.
  expect((await desk.objectsOf(shop)).length).toBe(objects.length);
  await desk.aged();
  await runJobs(world);
  const left = await desk.objectsOf(shop);
  expect(left.filter((key) => /\/(original|view|thumb)\//.test(key))).toEqual([]);

  const words = 'deleted on Aug 6, 2027 under the rule that keeps photos for 1 year';
  for (const [actor, kind] of [
    [business.technician, 'original'],
    [business.technician, 'uncovered'],
    [business.technician, 'view'],
    [account.viewer, 'view'],
    [account.viewer, 'thumb'],
  ] as const) {
    const opened = await openPhoto(world.services, actor, { photoId: photo.id, kind });
    expect(opened).toMatchObject({ ok: false, problem: { code: 'deleted_by_rule' } });
    expect(opened.ok ? '' : opened.problem.detail).toContain(words);
    expect(opened.ok ? '' : opened.problem.detail).toContain(photo.sha256);
  }
  const after = must(await readWorkOrder(world.services, account.viewer, workOrderId));
  expect(after.photos.map(({ id, sha256 }) => [id, sha256])).toEqual(
    before.photos.map(({ id, sha256 }) => [id, sha256]),
  );
  expect(after.photos[0]).toMatchObject({
    ready: false,
    deletion: { on: '2027-08-06', period: 1, unit: 'years' },
  });
  const contact = await web.signInByPage(account.emailOf('approver'), business.password);
  const office = await web.signInByPage(business.emailOf('office'), business.password);
  for (const reply of [
    await contact.get(`/account/work-orders/${workOrderId}`),
    await office.get(`/office/work-orders/${workOrderId}`),
    await office.get(`/field/work-orders/${workOrderId}`),
  ]) {
    expect(reply.statusCode).toBe(200);
    expect(reply.body).toContain(words);
    expect(reply.body).toContain(photo.sha256);
    expect(reply.body).not.toContain(`src="/photos/${photo.id}`);
  }
  expect((await contact.get(`/account/invoices/${invoiceId}`)).body).toContain(words);
  must(await openInvoicePdf(world.services, account.viewer, invoiceId));
});

test('a shorter time counts after 30 days, and is stopped until then by setting the longer one', async () => {
  const business = await aBusiness(world);
  const shop = { business, account: await anAccount(business) };
  must(await desk.setRule(shop, 'photos', oneYear));
  const kinds = async () => {
    const view = must(await readRetention(world.services, business.owner, { on: null }));
    return view.kinds.find(({ kind }) => kind === 'photos');
  };
  expect(await kinds()).toMatchObject({ keeps: null, waits: { keeps: { period: 1 } } });
  world.at('2026-09-04T08:59');
  expect(await kinds()).toMatchObject({ keeps: null });
  world.at('2026-09-04T09:00');
  expect(await kinds()).toMatchObject({ keeps: { period: 1, unit: 'years' }, waits: null });
  // A longer one counts at once; a mistake that waits is stopped by it.
  must(await desk.setRule(shop, 'photos', { period: '7', unit: 'years' }));
  expect(await kinds()).toMatchObject({ keeps: { period: 7 }, waits: null });
  must(await desk.setRule(shop, 'photos', { period: '400', unit: 'days' }));
  expect(await kinds()).toMatchObject({ keeps: { period: 7 }, waits: { keeps: { period: 400 } } });
  must(await desk.setRule(shop, 'photos', { period: '7', unit: 'years' }));
  world.at('2028-08-06T09:00');
  expect(await kinds()).toMatchObject({ keeps: { period: 7 }, waits: null });
  // Not even by SQL: the database keeps to the 30 days.
  const { tenantId, owner } = business;
  const early = asAdministrator(
    world,
    (
      sql,
    ) => sql`insert into retention_rules (tenant_id, id, kind, number, period, unit, set_by, set_at, effective_at)
      values (${tenantId}, ${world.newId()}, 'photos', 9, 1, 'years', ${owner.personId}, '2028-08-06T14:00Z', '2028-08-07T14:00Z')`,
  );
  await expect(early).rejects.toThrow('30 days');
});

test('a legal hold beats the rules, over a work order or all of an account, until the owner lifts it', async () => {
  const shop = await desk.paidShop();
  const { business, account, workOrderId } = shop;
  const other = await desk.paidWork(shop);
  must(await desk.setRule(shop, 'photos', oneYear));
  await desk.switchedOn(shop);
  const hold = { id: world.newId<LegalHoldId>(), workOrderId, accountId: null, reason: 'claim 77-A' };
  must(await placeLegalHold(world.services, business.office, hold));
  must(await placeLegalHold(world.services, business.office, hold));
  expect(codeOf(await placeLegalHold(world.services, business.office, { ...hold, reason: 'x' }))).toBe(
    'id_reused',
  );
  expect(codeOf(await placeLegalHold(world.services, business.technician, hold))).toBe('not_allowed');
  const office = await web.signInByPage(business.emailOf('office'), business.password);
  expect((await office.get(`/office/work-orders/${workOrderId}`)).body).toContain('claim 77-A');
  world.at('2027-08-06T09:00');
  expect(await desk.due(shop)).toMatchObject({ goes: ['6 photos'], held: ['6 photos'] });
  const whole = {
    id: world.newId<LegalHoldId>(),
    workOrderId: null,
    accountId: account.id,
    reason: 'a lawsuit',
  };
  must(await placeLegalHold(world.services, business.owner, whole));
  expect(await desk.due(shop)).toMatchObject({ goes: [], held: ['6 photos', '6 photos'] });
  expect(await desk.run(shop)).toMatchObject({ count: 0 });
  expect(
    codeOf(await liftLegalHold(world.services, business.office, { id: whole.id, reason: 'settled' })),
  ).toBe('not_allowed');
  must(await liftLegalHold(world.services, business.owner, { id: whole.id, reason: 'settled' }));
  expect(await desk.run(shop)).toMatchObject({ count: 6 });
  const kept = must(await readWorkOrder(world.services, business.office, workOrderId));
  const gone = must(await readWorkOrder(world.services, business.office, other.workOrderId));
  expect(kept.photos.every(({ deletion }) => deletion === null)).toBe(true);
  expect(gone.photos.every(({ deletion }) => deletion !== null)).toBe(true);

  // Not even by SQL: what is held, or not over, has no deletion on record.
  const [photo] = kept.photos;
  const byHand = (deletedAt: string) =>
    asAdministrator(
      world,
      (
        sql,
      ) => sql`insert into deletions (tenant_id, id, kind, subject_id, work_order_id, rule_id, period, unit, ended_on,
          files, bytes, deleted_at)
        select ${business.tenantId}, ${world.newId()}, 'photos', ${photo?.id ?? ''}, ${workOrderId}, r.id, 1, 'years',
          '2026-08-05', '[]', 0, ${deletedAt} from retention_rules r where r.tenant_id = ${business.tenantId}`,
    );
  await expect(byHand('2027-08-06T14:00Z')).rejects.toThrow('to be kept');
  must(await liftLegalHold(world.services, business.owner, { id: hold.id, reason: 'settled, too' }));
  await expect(byHand('2027-08-05T14:00Z')).rejects.toThrow('to be kept');
  expect(await desk.run(shop)).toMatchObject({ count: 6 });
});

test('a hold on one order keeps all that belong together: what it puts right, and what puts it right', async () => {
  const shop = await desk.paidShop();
  const { business } = shop;
  const first = shop.workOrderId;
  const again = (await desk.paidWork(shop)).workOrderId;
  const onceMore = (await desk.paidWork(shop)).workOrderId;
  await desk.paidWork(shop);
  for (const [rework, of] of [
    [again, first],
    [onceMore, again],
  ] as const)
    await asAdministrator(
      world,
      (sql) =>
        sql`update work_orders set rework_of_id = ${of}, rework_reason = 'finish' where id = ${rework}`,
    );
  must(await desk.setRule(shop, 'photos', oneYear));
  world.at('2027-08-06T09:00');
  const office = await web.signInByPage(business.emailOf('office'), business.password);
  for (const workOrderId of [first, again, onceMore]) {
    const hold = {
      id: world.newId<LegalHoldId>(),
      workOrderId,
      accountId: null,
      reason: `claim on ${workOrderId}`,
    };
    must(await placeLegalHold(world.services, business.office, hold));
    expect(await desk.due(shop)).toMatchObject({
      goes: ['6 photos'],
      held: ['6 photos', '6 photos', '6 photos'],
    });
    for (const each of [first, again, onceMore])
      expect((await office.get(`/office/work-orders/${each}`)).body).toContain(hold.reason);
    must(await liftLegalHold(world.services, business.owner, { id: hold.id, reason: 'settled' }));
  }
  expect((await desk.due(shop)).held).toEqual([]);
});

test('open work never goes, however old, nor what a rework of it still needs', async () => {
  const business = await aBusiness(world);
  const account = await anAccount(business, { limit: null });
  const shop = { business, account };
  const open = await writtenUpLine(account);
  must(
    await addPhoto(
      world.services,
      business.technician,
      photoInput(account, await aJpeg(), { ...open, purpose: 'before' }),
    ),
  );
  const { workOrderId } = await desk.paidWork(shop);
  const rework = await asAdministrator(
    world,
    (sql) => sql<{ id: string }[]>`select id from work_orders where id = ${open.workOrderId}`,
  );
  expect(rework.length).toBe(1);
  must(await desk.setRule(shop, 'photos', oneYear));
  world.at('2036-08-06T09:00');
  expect((await desk.due(shop)).goes).toEqual(['6 photos']);
  await asAdministrator(
    world,
    (sql) => sql`update work_orders set rework_of_id = ${workOrderId}, rework_reason = 'finish'
      where id = ${open.workOrderId}`,
  );
  expect((await desk.due(shop)).goes).toEqual([]);
});

test('bytes that another photo still needs stay until the last; a crash before they go is made up for', async () => {
  const business = await aBusiness(world);
  const account = await anAccount(business, { limit: null });
  const shop = { business, account };
  const bytes = await aJpeg();
  const open = await writtenUpLine(account);
  const twin = { ...photoInput(account, bytes, { ...open, purpose: 'before' as const }) };
  const { workOrderId } = await desk.paidWork(shop);
  // The same picture on the work order that is over.
  const first = must(await addPhoto(world.services, business.technician, twin)).photoId;
  const second = world.newId<PhotoId>();
  await asAdministrator(
    world,
    (
      sql,
    ) => sql`insert into photos (tenant_id, id, work_order_id, purpose, sha256, bytes, media_type, width, height,
        storage_key, received_at, received_from)
      select tenant_id, ${second}, ${workOrderId}, 'walk_around', sha256, bytes, media_type, width, height, storage_key,
        received_at, received_from from photos where id = ${first}`,
  );
  must(
    await coverPhoto(world.services, business.technician, {
      id: world.newId<CoveringId>(),
      photoId: second,
      regions: [{ kind: 'face', left: 10, top: 10, width: 30, height: 30 }],
      reason: 'a face',
    }),
  );
  await runJobs(world);
  must(await desk.setRule(shop, 'photos', oneYear));
  await desk.switchedOn(shop);
  world.at('2027-08-06T09:00');
  expect(await desk.run(shop)).toMatchObject({ count: 7 });
  const [deletion] = await asAdministrator(
    world,
    (sql) => sql<
      { id: DeletionId; whats: string[] }[]
    >`select id, array(select f ->> 'what' from jsonb_array_elements(files) f) as whats
      from deletions where subject_id = ${second}`,
  );
  if (deletion === undefined) throw new Error('no deletion');
  expect(deletion.whats.toSorted()).toEqual([
    'covered full 1',
    'covered thumb 1',
    'covered view 1',
    'original',
  ]);
  const finish = { tenantId: business.tenantId, deletionId: deletion.id };
  // Stopped after the first object: what is on record goes on from there.
  await desk.aged();
  let removals = 0;
  const failing = {
    ...world.services,
    objects: {
      ...world.objects,
      remove: async (...asked: Parameters<typeof world.objects.remove>) => {
        removals += 1;
        if (removals > 1) throw new Error('the power went');
        return world.objects.remove(...asked);
      },
    },
  };
  await expect(removeDeleted(failing, finish)).rejects.toThrow('the power went');
  expect(must(await removeDeleted(world.services, finish))).toBe('removed');
  expect(must(await removeDeleted(world.services, finish))).toBe('removed before');
  const kept = must(
    await openPhoto(world.services, business.technician, { photoId: first, kind: 'original' }),
  );
  const read = Buffer.concat(await (kept.stream ?? Readable.from([])).toArray());
  expect(createHash('sha256').update(read).digest('hex')).toBe(
    createHash('sha256').update(bytes).digest('hex'),
  );
  expect((await desk.objectsOf(shop)).filter((key) => key.includes('/covered/'))).toEqual([]);
  // A job that was given up is asked for again by the next run.
  await asAdministrator(world, (sql) => sql`delete from graphile_worker._private_jobs`);
  await desk.run(shop);
  await runJobs(world);
  const [open_] = await asAdministrator(
    world,
    (sql) => sql<{ count: string }[]>`select count(*) from deletions d where tenant_id = ${business.tenantId}
      and not exists (select from deletion_removals r where r.deletion_id = d.id)`,
  );
  expect(open_?.count).toBe('0');
});

test('files of statements and the words of mails go by rules of their own; what they were is still on record', async () => {
  const shop = await desk.paidShop();
  const { business, account } = shop;
  world.at('2026-09-01T09:00');
  await statementDesk(business).run('2026-08', [account]);
  const statement = must(await statementDesk(business).frozen(account, '2026-08'));
  const asked = { accountId: account.id, month: '2026-08' };
  must(await openStatementPdf(world.services, business.bookkeeper, asked));
  must(await mailStatement(world.services, business.bookkeeper, { ...asked, mailId: world.newId<MailId>() }));
  await runJobs(world);
  must(await desk.setRule(shop, 'documents', { period: '3', unit: 'years' }));
  must(await desk.setRule(shop, 'mails', oneYear));
  await desk.switchedOn(shop);
  world.at('2029-09-02T09:00');
  const found = await desk.due(shop);
  expect(found.goes).toContain('1 documents');
  const mails = await asAdministrator(
    world,
    (sql) =>
      sql<
        { id: string; body: string }[]
      >`select id, body from outgoing_mails where tenant_id = ${business.tenantId}`,
  );
  expect(mails.length).toBeGreaterThan(0);
  await desk.run(shop);
  await desk.aged();
  await runJobs(world);
  expect(codeOf(await openStatementPdf(world.services, business.bookkeeper, asked))).toBe('deleted_by_rule');
  expect(must(await statementDesk(business).frozen(account, '2026-08')).content).toBe(statement.content);
  for (const mail of mails) {
    const [row] = await asAdministrator(
      world,
      (sql) => sql<{ body: string; sha256: string }[]>`select m.body, d.files -> 0 ->> 'sha256' as sha256
        from outgoing_mails m join deletions d on d.subject_id = m.id where m.id = ${mail.id}`,
    );
    expect(row).toEqual({ body: '', sha256: createHash('sha256').update(mail.body).digest('hex') });
  }
});

test('letting the rules delete asks why and tells what would go before it does; who did it stands there', async () => {
  const shop = await desk.paidShop();
  must(await desk.setRule(shop, 'photos', oneYear));
  world.at('2027-08-06T09:00');
  const owner = await web.signInByPage(shop.business.emailOf('owner'), shop.business.password);
  const turn = { id: world.newId(), on: 'yes' };
  const isOn = async () => (await owner.get('/office/retention')).body.includes('Stop deleting');
  expect((await owner.post('/office/retention/switch', { ...turn, reason: '' })).statusCode).toBe(422);
  const asked = await owner.post('/office/retention/switch', { ...turn, reason: 'our adviser agreed' });
  expect([asked.statusCode, await isOn()]).toEqual([200, false]);
  expect(asked.body).toContain('6 photos passed their time by Aug 6, 2027');
  const said = { ...turn, reason: 'our adviser agreed', confirmed: 'yes' };
  expect((await owner.post('/office/retention/switch', said)).statusCode).toBe(303);
  const { body } = await owner.get('/office/retention');
  for (const words of ['Switched on', '“our adviser agreed”', 'Legal holds in force'])
    expect(body).toContain(words);
});
