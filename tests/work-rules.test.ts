import type { LineId } from '@grainwright/domain';
import {
  type AcceptWorkInput,
  acceptWork,
  addLine,
  changeLine,
  finishWork,
  type LineInput,
  listCautions,
  readAcceptance,
  readWorkOrder,
  showAcceptance,
  startWork,
  writeUp,
} from '@grainwright/operations';
import { beforeAll, beforeEach, expect, test } from 'vitest';
import { type Browsing, openWeb, type Web } from './support/web.ts';
import {
  approvedLine,
  asAdministrator,
  cutLining,
  finishedLine,
  photographed,
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
import { aLine, aWriteUp, writtenUp } from './support/write-ups.ts';

let world: World;
let business: Business;
let web: Web;
let technician: Browsing;
/** Trade: before, a proof and after; the vehicle's owner signs. Open since Jan 1, 2026. */
let installer: Account;

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
  installer = await anAccount(business, { limit: null });
  web = await openWeb(world);
  technician = await web.signInByPage(business.emailOf('technician'), business.password);
});

beforeEach(() => world.at('2026-08-05T09:00'));

const refusal = (code: string, field?: string) => ({
  ok: false,
  problem: field === undefined ? { code } : { code, field },
});

async function start({ workOrderId }: WorkInHand) {
  const { cautions } = must(
    await listCautions(world.services, business.technician, { workOrderId, circumstances: [] }),
  );
  return startWork(world.services, business.technician, {
    acknowledgmentId: world.newId(),
    workOrderId,
    acknowledge: cautions.map(({ code }) => code),
    circumstances: [],
  });
}

test('a write-up is neither from before the account was opened nor more than 60 days ahead', async () => {
  const on = (day: string) => writeUp(world.services, business.technician, aWriteUp(installer, { day }));
  const early = await on('2025-12-31');
  expect(early).toMatchObject(refusal('invalid_date', 'day'));
  expect(!early.ok && early.problem.detail).toContain('since Jan 1, 2026');
  expect((await on('2026-01-01')).ok).toBe(true);
  // Aug 5 and 60 days are Oct 4.
  expect((await on('2026-10-04')).ok).toBe(true);
  expect(await on('2026-10-05')).toMatchObject(refusal('invalid_date', 'day'));
});

test('work is neither started nor finished before its day', async () => {
  world.at('2026-08-06T09:00');
  const work = await approvedLine(installer);
  world.at('2026-08-05T09:00');
  const early = await start(work);
  expect(early).toMatchObject(refusal('wrong_state'));
  expect(!early.ok && early.problem.detail).toBe(
    'This work is for Aug 6, 2026. Start it then, or write it up anew for an earlier day.',
  );
  world.at('2026-08-06T09:00');
  expect((await start(work)).ok).toBe(true);
  world.at('2026-08-05T09:00');
  const finish = { workOrderId: work.workOrderId, work: [], overrides: [] };
  expect(await finishWork(world.services, business.technician, finish)).toMatchObject(refusal('wrong_state'));
});

test('where a walk-around is asked for, work does not start without it', async () => {
  const own = await anAccount(business, { kind: 'retail', photoRule: 'retail', limit: null });
  const work = await approvedLine(own);
  expect(await start(work)).toMatchObject(refusal('photo_missing', 'photos'));
  const page = await technician.get(`/field/work-orders/${work.workOrderId}/start`);
  expect(page.body).toContain('A picture first');
  await photographed(own, work.workOrderId, null, 'walk_around');
  expect((await start(work)).ok).toBe(true);
});

test('work that repairs no damage is finished without a picture of a cut or layers of filler', async () => {
  // Common practice, no source: a color is mixed for a repair, and has no before, after or cut of its own.
  const mix = aLine({ observation: 'relaxes_and_lies_down', rateCode: 'RI-1', methods: ['fill_cut'] });
  const work = await startedLine(installer, mix);
  const finish = { workOrderId: work.workOrderId, work: [], overrides: [] };
  expect(await finishWork(world.services, business.technician, finish)).toMatchObject({ ok: true });
});

async function added(line: Partial<LineInput>, actor = business.technician) {
  const workOrderId = await writtenUp(installer);
  const lineId = world.newId<LineId>();
  const result = await addLine(world.services, actor, { workOrderId, lineId, line: aLine(line) });
  return { workOrderId, lineId, result };
}

test('a rate chosen by its code has to be for the size that was measured', async () => {
  const { result } = await added({ rateCode: 'VC-M', measuredInches: '3.1' });
  expect(result).toMatchObject(refusal('invalid_size', 'measured_inches'));
  expect(!result.ok && result.problem.detail).toContain('VC-M is for over 1 to 3 in');
  expect(!result.ok && result.problem.detail).toContain('“Vinyl cut or tear”');
  expect((await added({ rateCode: 'VC-M', measuredInches: '3' })).result.ok).toBe(true);
  expect((await added({ rateCode: 'VC-M' })).result.ok).toBe(true);
});

test('a care factor is refused on what takes none', async () => {
  const trim = await added({ damage: 'other', rateCode: 'RI-1', factorCode: 'new' });
  expect(trim.result).toMatchObject(refusal('invalid_input', 'factor_code'));
  expect((await added({ rateCode: 'VC-M', factorCode: 'new' })).result.ok).toBe(true);
});

const byHand = { byHandPrice: '60.00', byHandReason: 'he asked for less', byHandMaterialsPercent: '10' };
const bookedCut = { family: 'Vinyl cut or tear', measuredInches: '2.2' };

test('a technician prices by hand only what the price book has no price for; the office may', async () => {
  const { result } = await added({ ...bookedCut, ...byHand });
  expect(result).toMatchObject(refusal('price_by_hand', 'by_hand_price'));
  expect(!result.ok && result.problem.detail).toContain('The price book has a price: 195.00');
  expect((await added({ rateCode: 'VC-M', ...byHand })).result).toMatchObject(refusal('price_by_hand'));
  const unmeasured = await added({ family: 'Vinyl cut or tear', ...byHand });
  expect(unmeasured.result).toMatchObject(refusal('invalid_size', 'measured_inches'));
  expect((await added({ ...bookedCut, measuredInches: '9', ...byHand })).result.ok).toBe(true);
  expect((await added(byHand)).result.ok).toBe(true);
  const allowed = await added({ ...bookedCut, ...byHand }, business.office);
  expect(allowed.result.ok).toBe(true);
  // What the office gave stays when the technician corrects something else, and changes only by the office.
  const { workOrderId, lineId } = allowed;
  const change = (line: Partial<LineInput>) =>
    changeLine(world.services, business.technician, {
      workOrderId,
      lineId,
      line: aLine({ ...bookedCut, ...byHand, ...line }),
    });
  expect((await change({ note: 'under the handle' })).ok).toBe(true);
  expect(await change({ byHandPrice: '50.00' })).toMatchObject(refusal('price_by_hand'));
});

test('a price by hand says how much of it is materials', async () => {
  const { result } = await added({ ...byHand, byHandMaterialsPercent: ' ' });
  expect(result).toMatchObject({
    ok: false,
    problem: {
      field: 'by_hand_materials_percent',
      detail: 'Say how much of it is materials, in percent.',
    },
  });
});

async function answer(work: WorkInHand, change: Partial<AcceptWorkInput> = {}) {
  const { digest } = must(await showAcceptance(world.services, business.technician, work.workOrderId));
  return acceptWork(world.services, business.technician, {
    acceptanceId: world.newId(),
    workOrderId: work.workOrderId,
    shownDigest: digest,
    outcome: 'accepted',
    remark: '',
    signerName: 'Orrin Vasek',
    signerRole: 'vehicle_owner',
    mark: { kind: 'typed', name: 'orrin  vasek', confirmed: true },
    overrideReason: '',
    device: 'a phone',
    ...change,
  });
}

test('a typed signature is the signer’s own name', async () => {
  const work = await finishedLine(installer);
  const other = await answer(work, { mark: { kind: 'typed', name: 'Ansel Corvin', confirmed: true } });
  expect(other).toMatchObject(refusal('invalid_input', 'signature'));
  expect((await answer(work)).ok).toBe(true);
});

test('a no stays in sight for everybody, and the path names who answered and who wrote it down', async () => {
  const work = await finishedLine(installer);
  must(await answer(work, { outcome: 'not_accepted', remark: 'a faint edge in low sun' }));
  const read = async () =>
    must(await readWorkOrder(world.services, installer.approver, work.workOrderId)).steps.map(
      ({ event, toState, note }) => ({ event, toState, note }),
    );
  const no = {
    event: 'not_accepted',
    toState: 'done',
    note: 'Not accepted by Orrin Vasek, vehicle’s owner: a faint edge in low sun',
  };
  expect((await read()).at(-1)).toEqual(no);
  const field = await technician.get(`/field/work-orders/${work.workOrderId}`);
  expect(field.body).toContain('<p class="notice-heading">Not accepted by Orrin Vasek, vehicle’s owner</p>');
  const office = await web.signInByPage(business.emailOf('office'), business.password);
  const approver = await web.signInByPage(installer.emailOf('approver'), business.password);
  const pages = [
    field,
    await office.get(`/office/work-orders/${work.workOrderId}`),
    await approver.get(`/account/work-orders/${work.workOrderId}`),
  ];
  for (const { body } of pages) {
    expect(body).toContain('<span class="stitch-label">Not accepted</span>');
    expect(body).toContain(no.note);
  }
  must(await answer(work));
  expect((await read()).slice(-2)).toEqual([
    no,
    { event: 'accepted', toState: 'accepted', note: 'Accepted by Orrin Vasek, vehicle’s owner.' },
  ]);
  const after = await technician.get(`/field/work-orders/${work.workOrderId}`);
  expect(after.body).not.toContain('notice-heading">Not accepted');
  const { name } = must(
    await readWorkOrder(world.services, business.technician, work.workOrderId),
  ).technician;
  expect(after.body).toContain(`recorded by ${name}`);
});

test('the acceptance and its copy say whose work it is, which and when, and what to expect of it', async () => {
  const work = await startedLine(installer, aLine({ ...cutLining, methods: ['fill_cut', 'cold_grain'] }));
  for (const purpose of ['after_heat', 'after'] as const)
    await photographed(installer, work.workOrderId, work.lineId, purpose);
  const said = [{ lineId: work.lineId, methods: ['fill_cut', 'cold_grain'], layers: '3' }];
  const finish = { workOrderId: work.workOrderId, work: said, overrides: [] };
  must(await finishWork(world.services, business.technician, finish));
  const path = `/field/work-orders/${work.workOrderId}/acceptance`;
  const { number } = must(await readWorkOrder(world.services, business.technician, work.workOrderId));
  const page = await technician.get(path);
  const { acceptanceId } = must(await answer(work));
  const copy = await technician.get(`${path}/${acceptanceId}`);
  const signed = must(
    await readAcceptance(world.services, business.technician, {
      workOrderId: work.workOrderId,
      acceptanceId,
    }),
  );
  for (const { body } of [page, copy]) {
    expect(body).toContain(`WO-${number}`);
    expect(body).toContain('Aug 5, 2026');
    expect(body).toContain('Repaired by');
  }
  expect(copy.body).toContain('What to expect');
  expect(signed.expect.join()).toMatch(/cure.*data sheet/);
  for (const sentence of signed.expect) expect(copy.body).toContain(sentence);
});

test('the heat test is a step of its own: its cautions come before its buttons, and what needs no heat before both', async () => {
  const workOrderId = await writtenUp(installer);
  const path = `/field/work-orders/${workOrderId}/lines/new`;
  const damage = { part: 'quarter_trim', side: 'left', damage: 'cut_or_tear' };
  const { body } = await technician.post(path, { ...damage, step: 'material' });
  expect(body).toContain('What did the material do?');
  expect(body).toContain('Before the heat test of the quarter trim');
  expect(body).toContain('An airbag or sensor may sit behind this trim');
  expect(body).toContain('Heat brings hot surfaces and fumes');
  const order = ['Told by eye: no heat', 'Already burnt', 'Heat brings', 'Marks relax and lie down'];
  const places = order.map((words) => body.indexOf(words));
  expect(places).toEqual(places.toSorted((a, b) => a - b));
  expect(body).not.toContain('likely foam-backed vinyl');
});

test('one tap tells the material: seen and inferred stand apart, with what fits, what is forbidden and why', async () => {
  const workOrderId = await writtenUp(installer);
  const path = `/field/work-orders/${workOrderId}/lines/new`;
  const damage = { part: 'quarter_trim', side: 'left', damage: 'burn', step: 'found' };
  const shrunk = (await technician.post(path, { ...damage, finding: 'shrinks_hole_grows' })).body;
  expect(shrunk).toContain('<h2>Likely unbacked vinyl</h2>');
  expect(shrunk).toMatch(/Observed<\/dt><dd>It shrinks, and the hole grows/);
  expect(shrunk).toMatch(/Inferred<\/dt><dd>likely unbacked vinyl/);
  expect(shrunk).toContain('Lay down by heat: it shrinks, and the hole grows');
  expect(shrunk).not.toContain('value="heat_flatten"');
  expect(shrunk).toContain('It is something else');
  const burnt = (await technician.post(path, { ...damage, finding: 'already_burnt:foam_backed_vinyl' })).body;
  expect(burnt).toContain('Foam-backed vinyl, inferred from damage');
  expect(burnt).toContain('Lay down by heat: it is burnt already');
  const leather = (await technician.post(path, { ...damage, finding: 'by_eye:leather' })).body;
  expect(leather).toContain('<h2>Leather, by eye</h2>');
});

test('a part that can be of one material only asks nothing, and damage without its part comes back first', async () => {
  const workOrderId = await writtenUp(installer);
  const path = `/field/work-orders/${workOrderId}/lines/new`;
  const carpet = (await technician.post(path, { part: 'carpet', damage: 'burn', step: 'material' })).body;
  expect(carpet).toContain('<h2>Carpet, by eye</h2>');
  const key = await technician.post(path, {
    part: 'key_remote',
    damage: 'worn_out_buttons',
    step: 'material',
  });
  expect(key.body).toContain('Note (the account sees this)');
  const nowhere = await technician.post(path, { part: '', damage: 'burn', step: 'material' });
  expect(nowhere.statusCode).toBe(422);
  expect(nowhere.body).toContain('id="field-part-error"');
  const unknown = await technician.post(path, {
    part: 'dash',
    damage: 'burn',
    step: 'found',
    observation: 'glows',
  });
  expect(unknown.statusCode).toBe(422);
  expect(unknown.body).toContain('Choose what the heat test showed.');
  expect(unknown.body).toContain('What did the material do?');
});

test('lists call it status, and what is over waits for nobody without saying so', async () => {
  const over = await writtenUp(installer);
  await asAdministrator(world, (sql) => sql`update work_orders set state = 'void' where id = ${over}`);
  const office = await web.signInByPage(business.emailOf('office'), business.password);
  const today = (await technician.get('/field')).body;
  expect(today).not.toContain(over);
  expect(today).toContain('Open the stop');
  const list = (await office.get('/office/work-orders')).body;
  expect(list).toMatch(/>Status</);
  for (const body of [today, list]) expect(body).not.toMatch(/>Stands|>nobody<|>nothing more</);
});
