import { createHash } from 'node:crypto';
import type { AcceptanceId } from '@grainwright/domain';
import {
  type AcceptWorkInput,
  acceptWork,
  addPhoto,
  readWorkOrder,
  showAcceptance,
} from '@grainwright/operations';
import { beforeAll, expect, test } from 'vitest';
import {
  aJpeg,
  asAdministrator,
  finishedLine,
  photographed,
  photoInput,
  startedLine,
  type WorkInHand,
} from './support/work-in-hand.ts';
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
let business: Business;
/** Trade: before, a proof and after; the vehicle's owner signs. */
let installer: Account;

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
  installer = await anAccount(business, { limit: null });
});

const refusal = (code: string) => ({ ok: false, problem: { code } });

async function answerTo(work: WorkInHand, change: Partial<AcceptWorkInput> = {}): Promise<AcceptWorkInput> {
  const { digest } = must(await showAcceptance(world.services, business.technician, work.workOrderId));
  return {
    acceptanceId: world.newId<AcceptanceId>(),
    workOrderId: work.workOrderId,
    shownDigest: digest,
    outcome: 'accepted',
    remark: '',
    signerName: 'Orrin Vasek',
    signerRole: 'vehicle_owner',
    mark: {
      kind: 'drawn',
      strokes: [
        [
          { x: 10, y: 20, t: 0 },
          { x: 60, y: 44, t: 40 },
        ],
      ],
    },
    overrideReason: '',
    device: 'a phone',
    ...change,
  };
}

const accept = (input: AcceptWorkInput) => acceptWork(world.services, business.technician, input);

test('what is shown for acceptance has the work and the pictures, and no amount of the estimate', async () => {
  const work = await finishedLine(installer);
  const { shown, digest, parts, signer } = must(
    await showAcceptance(world.services, business.technician, work.workOrderId),
  );
  expect(signer).toBe('vehicle_owner');
  expect(shown.work.map(({ text }) => text)).toEqual([
    'Cut or tear, tailgate lining: repaired. Steps: cold graining.',
  ]);
  expect(shown.photos.map(({ purpose }) => purpose)).toEqual(['before', 'after']);
  expect(parts.map(({ label, before, after }) => [label, before.length, after.length])).toEqual([
    ['Cut or tear, tailgate lining', 1, 1],
  ]);
  expect(digest).toMatch(/^[0-9a-f]{64}$/);
  // VC-M at the trade tier: 195.00 list, 165.75 net of 145.86 labor and 19.89 materials; trip 45.00, tax 1.24.
  const { estimate } = must(await readWorkOrder(world.services, business.technician, work.workOrderId));
  const total = estimate?.price.invoice.totals.withTaxMinor ?? 0n;
  expect(total).toBe(21199n);
  // Without ids and digests, whose figures are anybody’s.
  const text = JSON.stringify(shown).replace(/[0-9a-f-]{36,}/g, '');
  for (const amount of ['16575', '19500', '14586', '1989', '4500', String(total), '165.75', '211.99', '$'])
    expect(text).not.toContain(amount);
});

test('prices are shown at acceptance only where the business chose so', async () => {
  const open = await anAccount(business, { showsPricesAtAcceptance: true, limit: null });
  const work = await finishedLine(open);
  const { shown } = must(await showAcceptance(world.services, business.technician, work.workOrderId));
  expect(shown.prices).toEqual({ currency: 'USD', netMinor: ['16575'], totalMinor: '21199' });
});

test('an acceptance is bound to what was shown, ends the work, and is given once', async () => {
  const work = await finishedLine(installer);
  const input = await answerTo(work);
  const accepted = await accept(input);
  expect(accepted).toMatchObject({ ok: true, value: { state: 'accepted', digest: input.shownDigest } });
  expect(await accept(input)).toEqual(accepted);
  expect(await accept({ ...input, signerName: 'Somebody Else' })).toMatchObject(refusal('id_reused'));
  expect(await accept({ ...input, acceptanceId: world.newId() })).toMatchObject(refusal('already_accepted'));
  const [row] = await asAdministrator(
    world,
    (sql) =>
      sql`select shown, shown_digest, identified_by, strokes, device from acceptances where id = ${input.acceptanceId}`,
  );
  expect(createHash('sha256').update(String(row?.shown)).digest('hex')).toBe(input.shownDigest);
  expect(row).toMatchObject({
    identified_by: 'in person, on the technician’s phone',
    device: 'a phone',
    strokes: [
      [
        { x: 10, y: 20, t: 0 },
        { x: 60, y: 44, t: 40 },
      ],
    ],
  });
  const late = photoInput(installer, await aJpeg(), { ...work, purpose: 'after' });
  expect(await addPhoto(world.services, business.technician, late)).toMatchObject(refusal('wrong_state'));
});

test('of two people who sign at once, one acceptance counts', async () => {
  const work = await finishedLine(installer);
  const input = await answerTo(work);
  const answers = await Promise.all([1, 2, 3].map(() => accept({ ...input, acceptanceId: world.newId() })));
  expect(answers.filter((answer) => answer.ok)).toHaveLength(1);
  const [count] = await asAdministrator(
    world,
    (sql) => sql`select count(*)::int as n from acceptances where work_order_id = ${work.workOrderId}`,
  );
  expect(count).toEqual({ n: 1 });
});

test('a photo taken after it was shown asks for the answer again', async () => {
  const work = await finishedLine(installer);
  const input = await answerTo(work);
  await photographed(installer, work.workOrderId, work.lineId, 'after');
  expect(await accept(input)).toMatchObject(refusal('shown_changed'));
  expect(await accept(await answerTo(work))).toMatchObject({ ok: true });
});

test('a no is kept with its remark and the work stays done; a later yes counts', async () => {
  const work = await finishedLine(installer);
  expect(await accept(await answerTo(work, { outcome: 'not_accepted' }))).toMatchObject(
    refusal('invalid_input'),
  );
  const no = await answerTo(work, { outcome: 'not_accepted', remark: 'a faint edge in low sun' });
  expect(await accept(no)).toMatchObject({ ok: true, value: { state: 'done', outcome: 'not_accepted' } });
  const yes = await answerTo(work, { outcome: 'accepted_with_remark', remark: 'good from the seat' });
  expect(await accept(yes)).toMatchObject({ ok: true, value: { state: 'accepted' } });
});

test('the signature is there, and fits the account’s rule', async () => {
  const work = await finishedLine(installer);
  expect(await accept(await answerTo(work, { mark: { kind: 'drawn', strokes: [] } }))).toMatchObject(
    refusal('signature_missing'),
  );
  expect(
    await accept(await answerTo(work, { mark: { kind: 'typed', name: 'Orrin Vasek', confirmed: false } })),
  ).toMatchObject(refusal('signature_missing'));
  expect(await accept(await answerTo(work, { signerRole: 'account_representative' }))).toMatchObject(
    refusal('signer_not_fitting'),
  );
  expect(
    await accept(await answerTo(work, { mark: { kind: 'typed', name: 'Orrin Vasek', confirmed: true } })),
  ).toMatchObject({ ok: true });
});

test('somebody of the payer’s who signs as the vehicle’s owner is noticed', async () => {
  const work = await finishedLine(installer);
  const signed = await answerTo(work, { signerName: 'ansel  corvin' });
  expect(await accept(signed)).toMatchObject(refusal('contradiction'));
  expect(await accept({ ...signed, overrideReason: 'a namesake, license seen' })).toMatchObject({ ok: true });
});

test('unfinished work is not shown for acceptance, and a contact can’t take one', async () => {
  const work = await startedLine(installer);
  expect(await showAcceptance(world.services, business.technician, work.workOrderId)).toMatchObject(
    refusal('wrong_state'),
  );
  expect(await showAcceptance(world.services, installer.approver, work.workOrderId)).toMatchObject(
    refusal('not_allowed'),
  );
});
