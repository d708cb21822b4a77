import type { AcceptanceId, MissingSignatureId } from '@grainwright/domain';
import {
  acceptWork,
  type RecordNoAcceptanceInput,
  readBoard,
  readWorkOrder,
  recordNoAcceptance,
  releaseAcceptance,
  showAcceptance,
} from '@grainwright/operations';
import { beforeAll, expect, test } from 'vitest';
import { openWeb } from './support/web.ts';
import { finishedLine, startedLine, type WorkInHand } from './support/work-in-hand.ts';
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
/** The vehicle's owner signs. */
let installer: Account;

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
  installer = await anAccount(business, { limit: null });
});

const refusal = (code: string, field?: string) => ({
  ok: false,
  problem: field === undefined ? { code } : { code, field },
});

function noAcceptance(work: WorkInHand, change: Partial<RecordNoAcceptanceInput> = {}) {
  return recordNoAcceptance(world.services, business.technician, {
    id: world.newId<MissingSignatureId>(),
    workOrderId: work.workOrderId,
    why: 'refused',
    reason: 'wants a new panel',
    witness: 'Ansel Corvin',
    ...change,
  });
}

const release = (work: WorkInHand, actor = business.office, reason = 'the account vouches for it') =>
  releaseAcceptance(world.services, actor, { workOrderId: work.workOrderId, reason });
const read = (work: WorkInHand) => readWorkOrder(world.services, business.office, work.workOrderId);

// Common practice, no source: a refusal is kept with its reason and a second name; it blocks “accepted”.
test('a refusal is kept with reason and witness, and the work is not accepted', async () => {
  const work = await finishedLine(installer);
  expect(await noAcceptance(work)).toEqual({ ok: true, value: { state: 'done' } });
  const view = must(await read(work));
  expect(view).toMatchObject({ state: 'done', waitsFor: 'acceptance' });
  expect(view.notSigned).toMatchObject([
    {
      why: 'refused',
      reason: 'wants a new panel',
      witness: 'Ansel Corvin',
      recordedBy: 'Tobias Wrenfield',
      released: null,
    },
  ]);
  expect(view.steps.at(-1)).toMatchObject({
    event: 'not_signed',
    note: 'Refused to sign: wants a new panel. Seen by Ansel Corvin.',
  });
});

test('a refusal stands on the page of answers and on its card of the board, which offers to look why', async () => {
  const work = await finishedLine(installer);
  const path = `/office/work-orders/${work.workOrderId}`;
  const web = await openWeb(world);
  const office = await web.signInByPage(business.emailOf('office'), business.password);
  expect((await office.get(`${path}/acceptances`)).body).toContain('Nobody has answered yet');
  must(await noAcceptance(work));
  const answers = (await office.get(`${path}/acceptances`)).body;
  expect(answers).not.toContain('Nobody has answered yet');
  for (const words of ['refused to sign', '“wants a new panel”', 'Seen by Ansel Corvin'])
    expect(answers).toContain(words);
  expect((await office.get(path)).body).toContain(`href="${path}/acceptances"`);
  const board = must(await readBoard(world.services, business.office, { accountId: installer.id }));
  const cards = board.columns.flatMap((column) => column.cards);
  expect(cards.find(({ id }) => id === work.workOrderId)).toMatchObject({
    waitsFor: 'acceptance',
    notSigned: 'refused',
  });
  const page = (await office.get(`/office/board?account=${installer.id}`)).body;
  expect(page).toContain('refused to sign');
  expect(page).toContain(`href="${path}/acceptances">Look why`);
});

test('the account sees that nobody signed, before it is billed', async () => {
  const work = await finishedLine(installer);
  must(await noAcceptance(work, { why: 'absent', reason: 'nobody came out' }));
  const view = must(await readWorkOrder(world.services, installer.viewer, work.workOrderId));
  expect(view.notSigned).toMatchObject([{ why: 'absent', reason: 'nobody came out' }]);
});

test('whoever writes it down is not the witness, and both reason and witness are asked for', async () => {
  const work = await finishedLine(installer);
  expect(await noAcceptance(work, { witness: ' tobias  WRENFIELD ' })).toMatchObject(
    refusal('invalid_input', 'witness'),
  );
  expect(await noAcceptance(work, { witness: ' ' })).toMatchObject(refusal('invalid_input', 'witness'));
  expect(await noAcceptance(work, { reason: ' ' })).toMatchObject(refusal('invalid_input', 'reason'));
});

test('where nobody was there nobody need have seen it', async () => {
  const work = await finishedLine(installer);
  must(await noAcceptance(work, { why: 'absent', reason: 'the lot was closed', witness: ' ' }));
  const view = must(await read(work));
  expect(view.notSigned).toMatchObject([{ why: 'absent', witness: '' }]);
  expect(view.steps.at(-1)?.note).toBe('Nobody there to sign: the lot was closed. Nobody else was there.');
});

test('a manager lets it go with a reason; then it is accepted, and the record says who released it', async () => {
  const work = await finishedLine(installer);
  expect(await release(work)).toMatchObject(refusal('signature_missing'));
  must(await noAcceptance(work, { why: 'absent', reason: 'owner abroad' }));
  expect(await release(work, business.technician)).toMatchObject(refusal('not_allowed'));
  expect(await release(work, business.office, ' ')).toMatchObject(refusal('invalid_input', 'reason'));
  expect(await release(work)).toEqual({ ok: true, value: { state: 'accepted' } });
  expect(await release(work)).toEqual({ ok: true, value: { state: 'accepted' } });
  const view = must(await read(work));
  expect(view.acceptance).toBeNull();
  expect(view.notSigned).toMatchObject([
    { why: 'absent', released: { by: 'Ottoline Fairbrook', reason: 'the account vouches for it' } },
  ]);
  expect(view.steps.at(-1)).toMatchObject({
    event: 'released',
    note: 'Not signed, nobody there to sign: owner abroad. Released: the account vouches for it.',
  });
});

test('somebody may sign after a refusal; what was refused before stays on record', async () => {
  const work = await finishedLine(installer);
  must(await noAcceptance(work));
  must(await noAcceptance(work, { why: 'absent', reason: 'second try, nobody there' }));
  const { digest } = must(await showAcceptance(world.services, business.technician, work.workOrderId));
  must(
    await acceptWork(world.services, business.technician, {
      acceptanceId: world.newId<AcceptanceId>(),
      workOrderId: work.workOrderId,
      shownDigest: digest,
      outcome: 'accepted',
      remark: '',
      signerName: 'Orrin Vasek',
      signerRole: 'vehicle_owner',
      mark: { kind: 'typed', name: 'Orrin Vasek', confirmed: true },
      overrideReason: '',
      device: 'a phone',
    }),
  );
  const view = must(await read(work));
  expect(view).toMatchObject({ state: 'accepted', acceptance: { outcome: 'accepted' } });
  expect(view.notSigned.map(({ why, released }) => [why, released])).toEqual([
    ['absent', null],
    ['refused', null],
  ]);
  expect(await noAcceptance(work)).toMatchObject(refusal('already_accepted'));
  expect(await release(work)).toMatchObject(refusal('wrong_state'));
});

test('the same record sent twice counts once', async () => {
  const work = await finishedLine(installer);
  const id = world.newId<MissingSignatureId>();
  must(await noAcceptance(work, { id }));
  must(await noAcceptance(work, { id }));
  expect(must(await read(work)).notSigned).toHaveLength(1);
  expect(await noAcceptance(work, { id, reason: 'another' })).toMatchObject(refusal('id_reused'));
});

test('nobody is missed before the work is finished', async () => {
  const work = await startedLine(installer);
  expect(await noAcceptance(work)).toMatchObject(refusal('wrong_state'));
});
