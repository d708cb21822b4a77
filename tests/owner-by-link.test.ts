import { createHash } from 'node:crypto';
import type { AcceptanceId } from '@grainwright/domain';
import { acceptWork, showAcceptance } from '@grainwright/operations';
import { beforeAll, beforeEach, expect, test } from 'vitest';
import { accepted, fieldOf, hiddenFields, type OwnerDesk, ownerDesk, pathOf } from './support/owner-desk.ts';
import { runJobs } from './support/run-jobs.ts';
import { photographed } from './support/work-in-hand.ts';
import { anAccount, must } from './support/world.ts';

/**
 * What a vehicle's owner does by a link. Common practice, no published source: an owner who has left gets a link, sees
 * no price, may accept with a remark, and no answer is never an acceptance.
 */

let desk: OwnerDesk;

beforeAll(async () => {
  desk = await ownerDesk();
});
beforeEach(() => desk.world.at('2026-08-05T09:00'));

test('the owner accepts with a remark from a link, with nobody of the business there', async () => {
  const { work, asked, path } = await desk.askedOwner();
  const done = await desk.answer(path, {
    outcome: 'accepted_with_remark',
    remark: 'a faint edge in low sun',
  });
  expect([done.statusCode, done.headers.location]).toEqual([303, path]);
  const [row] = await desk.answersOf(work);
  expect(row).toMatchObject({
    outcome: 'accepted_with_remark',
    remark: 'a faint edge in low sun',
    taken_by: null,
    link_id: asked.linkId,
    identified_by: 'link given to Tobias Wrenfield to pass on to 212-555-0142',
    device: 'an owner’s phone',
    from_address: '127.0.0.1',
    method: 'typed',
  });
  expect(createHash('sha256').update(String(row?.shown)).digest('hex')).toBe(row?.shown_digest);
  const view = await desk.read(work);
  expect(view).toMatchObject({
    state: 'accepted',
    acceptance: { identifiedBy: 'link given to Tobias Wrenfield to pass on to 212-555-0142' },
  });
  expect(view.ownerLinks).toMatchObject([{ stands: 'answered', outcome: 'accepted_with_remark' }]);
  expect(view.steps.at(-1)).toMatchObject({
    event: 'accepted',
    personName: null,
    note: 'Accepted with a remark by Orrin Vasek, vehicle’s owner, by a link: a faint edge in low sun',
  });
  const records =
    await desk.admin`select action, person_id, detail ->> 'by_link' as by_link, from_address from audit_records
    where subject_id = ${work.workOrderId} and action = 'work_order_accepted'`;
  expect([...records]).toEqual([
    { action: 'work_order_accepted', person_id: null, by_link: asked.linkId, from_address: '127.0.0.1' },
  ]);
});

test('the page says what was done, shows both pictures, and no price', async () => {
  const { path } = await desk.askedOwner();
  const page = await desk.get(path);
  expect(page.statusCode).toBe(200);
  expect(page.body).toContain('Cut or tear, tailgate lining: repaired. Steps: cold graining.');
  expect(page.body).toContain('it does not make it a new part');
  // VC-M at the trade tier: 195.00 list, 165.75 net; 45.00 trip; 211.99 in all.
  for (const amount of ['165.75', '195.00', '211.99', '45.00', '$']) expect(page.body).not.toContain(amount);
  expect(page.headers).toMatchObject({
    'referrer-policy': 'no-referrer',
    'x-robots-tag': 'noindex, nofollow',
    'cache-control': 'no-store',
  });
  expect(page.cookies).toEqual([]);
  await runJobs(desk.world);
  const ready = await desk.get(path);
  const pictures = [...ready.body.matchAll(/src="(\/link\/[^"]+\/view)"/g)].map(([, src = '']) => src);
  expect(pictures).toHaveLength(2);
  for (const src of pictures) expect((await desk.get(src)).headers['content-type']).toBe('image/jpeg');
});

test('prices are never shown by a link, also where the account has them shown at acceptance', async () => {
  const open = await anAccount(desk.business, { showsPricesAtAcceptance: true, limit: null });
  const { work, path } = await desk.askedOwner({}, open);
  expect((await desk.get(path)).body).not.toContain('$');
  await desk.answer(path);
  const [row] = await desk.answersOf(work);
  expect(String(row?.shown)).toContain('"prices":null');
});

test('a scanner that fetches every link in every mail, twice, changes nothing', async () => {
  const { work, path } = await desk.askedOwner({ email: 'orrin.vasek@example.com' });
  await runJobs(desk.world);
  const tables = [
    'acceptances',
    'work_order_steps',
    'audit_records',
    'acceptance_requests',
    'access_links',
    'outgoing_mails',
  ];
  const everything = async () => {
    const rows = [];
    for (const table of tables)
      rows.push(
        await desk.admin`select to_jsonb(t) as row from ${desk.admin(table)} t where tenant_id = ${desk.business.tenantId} order by 1::text`,
      );
    return JSON.stringify(rows);
  };
  const before = await everything();
  const [mail] =
    await desk.admin`select body from outgoing_mails where about_id = ${work.workOrderId} and kind = 'acceptance'`;
  expect(String(mail?.body)).toContain('Hello Orrin Vasek');
  // The mail as its reader gets it has the address; what is stored has not.
  expect(String(mail?.body)).not.toContain(path);
  for (const _time of [1, 2])
    for (const method of ['GET', 'HEAD'] as const) {
      const page = await desk.web.app.inject({ method, url: path });
      expect(page.statusCode).toBe(200);
      for (const [, address = ''] of page.body.matchAll(/(?:href|src)="(\/link\/[^"]+)"/g))
        await desk.web.app.inject({ method, url: address });
    }
  expect(await everything()).toBe(before);
  expect((await desk.read(work)).state).toBe('done');
});

test('the signed copy stands under the link, and a second answer is refused', async () => {
  const { path } = await desk.askedOwner();
  const page = await desk.get(path);
  const fields = {
    ...hiddenFields(page),
    ...accepted,
  };
  expect((await desk.send(path, fields)).statusCode).toBe(303);
  // A double tap is the same answer.
  expect((await desk.send(path, fields)).statusCode).toBe(303);
  const copy = await desk.get(path);
  expect(copy.body).toContain('Keep a copy');
  expect(copy.body).toContain('Orrin Vasek, vehicle’s owner');
  expect(copy.body).not.toContain('<form');
  const other = await desk.send(path, {
    ...fields,
    id: desk.world.newId<AcceptanceId>(),
    outcome: 'not_accepted',
    remark: 'changed my mind',
  });
  expect(other.statusCode).toBe(409);
  expect(other.body).toContain('You have answered already');
  expect(other.body).toContain('changed my mind');
});

test('a no is kept with its remark, the work stays done, and a new link can be sent', async () => {
  const { work, path } = await desk.askedOwner();
  const none = await desk.answer(path, { outcome: 'not_accepted' });
  expect(none.statusCode).toBe(422);
  expect(none.body).toContain('Write what is not accepted');
  expect((await desk.answer(path, { outcome: 'not_accepted', remark: 'the edge shows' })).statusCode).toBe(
    303,
  );
  const view = await desk.read(work);
  expect(view).toMatchObject({
    state: 'done',
    acceptance: { outcome: 'not_accepted', remark: 'the edge shows' },
  });
  expect(view.steps.at(-1)).toMatchObject({ event: 'not_accepted', toState: 'done', personName: null });
  expect((await desk.get(path)).body).toContain('Your answer is kept');
  await runJobs(desk.world);
  await runJobs(desk.world);
  const told = await desk.admin`select subject_line, body from outgoing_mails
    where kind = 'message' and subject_line like ${`Not accepted: WO-${view.number}%`}`;
  expect(told).toHaveLength(1);
  expect(told[0]?.body).toContain('Orrin Vasek, vehicle’s owner, did not accept the work');
  expect(told[0]?.body).toContain('\n> the edge shows\n');
  await photographed(desk.installer, work.workOrderId, work.lineId, 'after');
  const again = must(await desk.ask(work.workOrderId));
  expect((await desk.get(path)).statusCode).toBe(410);
  expect((await desk.answer(pathOf(again))).statusCode).toBe(303);
  expect((await desk.read(work)).state).toBe('accepted');
});

const letters = 'x'.repeat(3000);
test.each<[string, Readonly<Record<string, string>>, string, readonly string[]]>([
  ['no name', { signer_name: '', remark: 'fine' }, 'Write the full name', ['fine']],
  ['no outcome', { outcome: '', remark: 'fine' }, 'Choose how you find the repair', ['fine', 'Orrin Vasek']],
  [
    'a remark announced and not written',
    { outcome: 'accepted_with_remark' },
    'Write the remark',
    ['Orrin Vasek'],
  ],
  ['a remark of 3,000 letters', { remark: letters }, 'under 2,000 letters', [letters, 'Orrin Vasek']],
  [
    'a drawing that is none',
    { signature: '[[{"x":1}]]', remark: 'fine' },
    'That drawing can’t be read',
    ['fine'],
  ],
  [
    'a name of the payer’s people',
    { signer_name: 'Ansel Corvin', remark: 'fine' },
    'only the vehicle’s owner signs',
    ['fine', 'Ansel Corvin'],
  ],
])(
  '%s comes back with a sentence beside the field and all that was typed',
  async (_what, change, sentence, kept) => {
    const { work, path } = await desk.askedOwner();
    const back = await desk.answer(path, change);
    expect(back.statusCode).toBeGreaterThanOrEqual(400);
    expect(back.body).toContain(sentence);
    for (const words of kept) expect(back.body).toContain(words);
    expect(await desk.answersOf(work)).toHaveLength(0);
  },
);

test('a name that was not confirmed is no signature', async () => {
  const { path } = await desk.askedOwner();
  const page = await desk.get(path);
  const { confirmed: _left, ...unconfirmed } = accepted;
  const back = await desk.send(path, {
    ...hiddenFields(page),
    ...unconfirmed,
  });
  expect(back.statusCode).toBe(422);
  expect(back.body).toContain('Confirm that the typed name is your signature');
});

test('what changed while the page was open is shown again, with what was typed and without the signature', async () => {
  const { work, path } = await desk.askedOwner();
  const page = await desk.get(path);
  const fields = {
    ...hiddenFields(page),
    ...accepted,
    outcome: 'accepted_with_remark',
    remark: 'good from the seat',
  };
  await photographed(desk.installer, work.workOrderId, work.lineId, 'after');
  const back = await desk.send(path, fields);
  expect(back.statusCode).toBe(409);
  expect(back.body).toContain('have changed while you looked');
  expect(back.body).toContain('good from the seat');
  expect(back.body).not.toMatch(/name="confirmed"[^>]*checked/);
  const now = { ...fields, shown_digest: fieldOf(back.body, 'shown_digest') };
  expect((await desk.send(path, now)).statusCode).toBe(303);
});

test('work that was accepted beside the vehicle meanwhile is not answered again', async () => {
  const { work, path } = await desk.askedOwner();
  const page = await desk.get(path);
  const { digest } = must(
    await showAcceptance(desk.world.services, desk.business.technician, work.workOrderId),
  );
  must(
    await acceptWork(desk.world.services, desk.business.technician, {
      acceptanceId: desk.world.newId<AcceptanceId>(),
      workOrderId: work.workOrderId,
      shownDigest: digest,
      outcome: 'accepted',
      remark: '',
      signerName: 'Orrin Vasek',
      signerRole: 'vehicle_owner',
      mark: { kind: 'typed', name: 'Orrin Vasek', confirmed: true },
      overrideReason: '',
      device: '',
    }),
  );
  expect((await desk.get(path)).body).toContain('accepted already');
  const fields = hiddenFields(page);
  expect((await desk.send(path, { ...fields, ...accepted })).statusCode).toBe(409);
  expect(await desk.answersOf(work)).toHaveLength(1);
});

test('of two devices that answer by one link at once, one answer counts', async () => {
  const { work, path } = await desk.askedOwner();
  const answers = await Promise.all([desk.answer(path), desk.answer(path), desk.answer(path)]);
  expect(answers.filter(({ statusCode }) => statusCode === 303)).toHaveLength(1);
  expect(await desk.answersOf(work)).toHaveLength(1);
});
