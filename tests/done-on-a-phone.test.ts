import { canonicalJson, instant, signText, toId } from '@grainwright/domain';
import {
  readWorkOrder,
  readWorkOrderTrail,
  sealDaysOver,
  showAcceptance,
  writeUp,
} from '@grainwright/operations';
import { strToU8 } from 'fflate';
import { beforeAll, beforeEach, expect, test } from 'vitest';
import { readPdf } from '../packages/documents/src/pdf/read-pdf.ts';
import {
  faultsOf,
  insidersSeed,
  jsonIn,
  packedAgain,
  packOf,
  reportOf,
  unpacked,
} from './support/evidence-desk.ts';
import { agreesBeforehand, type PhoneVisit, phoneVisit } from './support/phone-visit.ts';
import { openWeb, type Web } from './support/web.ts';
import { asAdministrator, photographed } from './support/work-in-hand.ts';
import {
  type Account,
  aBusiness,
  anAccount,
  type Business,
  must,
  openWorld,
  type World,
} from './support/world.ts';
import { aWriteUp } from './support/write-ups.ts';

/** What was done beside a vehicle without signal in the morning, and reaches the service in the afternoon. */

let world: World;
let web: Web;
let business: Business;
let installer: Account;

beforeAll(async () => {
  world = await openWorld();
  web = await openWeb(world);
  business = await aBusiness(world);
  installer = await anAccount(business, { limit: null });
  await agreesBeforehand(installer, '2026-08-01');
});
beforeEach(() => world.at('2026-08-05T14:00'));

/** Without marks. */
const textOf = (page: string) => page.replace(/<[^>]+>/g, '').replaceAll('\u202f', ' ');
const at = (time: string) => `2026-08-05T${time}:00-05:00`;
const done = (answers: Awaited<ReturnType<PhoneVisit['send']>>) => {
  expect(answers.map(({ status }) => Number(status) < 300)).toEqual(answers.map(() => true));
  return answers;
};

/** Written up at 9, finished at 11: everything up to the signature. */
async function finishedOnPhone(vehicle: Readonly<Record<string, string>>): Promise<PhoneVisit> {
  const visit = await phoneVisit(web, installer);
  visit.do('write_up', at('09:00'), vehicle);
  visit.do('line', at('09:05'));
  await visit.photograph('before', at('09:10'));
  visit.do('estimate', at('09:12'));
  visit.do('start', at('09:15'));
  await visit.photograph('after_heat', at('10:30'));
  await visit.photograph('after', at('10:50'));
  visit.do('finish', at('11:00'));
  return visit;
}

const signature = (visit: PhoneVisit, answeredAt: string) => ({
  shown_digest: visit.shownDigest(),
  outcome: 'accepted',
  signer_name: 'Orrin Vasek',
  signer_role: 'vehicle_owner',
  signature: { kind: 'typed', name: 'Orrin Vasek', confirmed: true },
  answered_at: answeredAt,
});

const read = ({ id }: PhoneVisit) => readWorkOrder(world.services, business.office, id);

async function knownVehicle(vin: string): Promise<void> {
  world.at('2026-03-02T09:00');
  must(await writeUp(world.services, business.technician, aWriteUp(installer, { vin })));
  world.at('2026-08-05T14:00');
}

test('what was signed without signal for a vehicle that is known in other words is bound as it was signed', async () => {
  await knownVehicle('0VEEA2C45SK000104');
  const visit = await finishedOnPhone({ last_eight: 'SK000104', model: 'Vela', color: 'grey' });
  visit.do('acceptance', at('11:05'), signature(visit, at('11:05')));
  done(await visit.send());
  const view = must(await read(visit));
  expect(view.state).toBe('accepted');
  expect(view.vehicle).toMatchObject({
    vin: '0VEEA2C45SK000104',
    description: '2025 Ostra Vela, gray',
    writtenAs: 'Vela, grey, VIN ending in SK000104',
  });
});

test('a phone that comes back for such a vehicle shows what the service shows', async () => {
  await knownVehicle('0VEEA2C45SK000105');
  const visit = await finishedOnPhone({ last_eight: 'SK000105', model: 'Vela', color: 'grey' });
  done(await visit.send());
  const shown = must(await showAcceptance(world.services, business.technician, visit.id));
  expect(shown.shown.vehicle).toMatchObject({ description: 'Vela, grey', vin: null, lastEight: 'SK000105' });
  expect(shown.digest).toBe(visit.shownDigest());
  const { cookies } = await web.signInByPage(business.emailOf('technician'), business.password);
  const headers = { 'x-grainwright-person': `${business.tenantId}.${business.technician.personId}` };
  const later = await web.app.inject({ method: 'GET', url: '/api/v1/phone/snapshot', cookies, headers });
  const { workOrders } = later.json<{ workOrders: { id: string; vehicle: unknown }[] }>();
  expect(workOrders.find(({ id }) => id === visit.id)?.vehicle).toEqual(visit.shown().vehicle);
});

test('with signal, what was left empty of a known vehicle is signed as it is on record', async () => {
  await knownVehicle('0VEEA2C45SK000106');
  const words = { vin: '0VEEA2C45SK000106', modelYear: '', make: '', model: '', color: 'grey' };
  const { workOrderId } = must(
    await writeUp(world.services, business.technician, aWriteUp(installer, words)),
  );
  const { vehicle } = must(await readWorkOrder(world.services, business.office, workOrderId));
  expect(vehicle).toMatchObject({ writtenAs: '2025 Ostra Vela, grey, VIN 0VEEA2C45SK000106' });
});

test('photos of a vehicle that was written up hours ago on the phone are not called older than the work order', async () => {
  const visit = await phoneVisit(web, installer);
  visit.do('write_up', at('09:00'), { last_eight: 'SK000201' });
  visit.do('line', at('09:05'));
  await visit.photograph('before', at('09:10'));
  const answers = done(await visit.send());
  expect(answers.at(-1)).toMatchObject({ warnings: [] });
});

test.each([
  ['longer ago than things wait', '2026-07-20T09:00:00-05:00'],
  ['still to come', '2026-08-05T18:00:00-05:00'],
])('a write-up whose moment on the phone is %s is dated by the service', async (_, madeAt) => {
  const visit = await phoneVisit(web, installer);
  visit.do('write_up', madeAt, { last_eight: madeAt.includes('07-20') ? 'SK000301' : 'SK000302' });
  visit.do('line', at('09:05'));
  await visit.photograph('before', at('09:10'));
  const answers = done(await visit.send());
  expect(answers.at(-1)).toMatchObject({ warnings: [{ code: 'before_work_order' }] });
});

test('the trail says of each thing when it was done on the phone and when it was received, to the account as well', async () => {
  const visit = await finishedOnPhone({ last_eight: 'SK000401', model: 'Vela' });
  const body = { why: 'absent', reason: 'nobody came to the car', witness: 'Casimir Doane' };
  visit.do('missing_signature', at('11:30'), body);
  done(await visit.send());
  const moments = async (who: string) => {
    const headers = await web.signIn(who, business.password);
    const reply = await web.app.inject({ url: `/api/v1/work-orders/${visit.id}/trail`, headers });
    const { entries } = reply.json<{ entries: { action: string; at: string; made_on_phone_at: string }[] }>();
    return Object.fromEntries(entries.map((each) => [each.action, [each.made_on_phone_at, each.at]]));
  };
  const received = '2026-08-05T19:00:00Z';
  const expected = {
    work_order_written_up: ['2026-08-05T14:00:00Z', received],
    work_order_submitted: ['2026-08-05T14:12:00Z', received],
    work_order_started: ['2026-08-05T14:15:00Z', received],
    work_order_finished: ['2026-08-05T16:00:00Z', received],
    signature_missing: ['2026-08-05T16:30:00Z', received],
  };
  expect(await moments(business.emailOf('office'))).toMatchObject(expected);
  expect(await moments(installer.emailOf('viewer'))).toMatchObject(expected);
  const page = await (await web.signInByPage(business.emailOf('office'), business.password)).get(
    `/office/work-orders/${visit.id}/trail`,
  );
  expect(textOf(page.body)).toContain(
    'Aug 5, 2026, 11:00 AM (by the phone’s clock), received Aug 5, 2026, 2:00 PM',
  );
});

/** The evidence pack, once the day is sealed. */
async function packed(visit: PhoneVisit) {
  world.at('2026-08-06T08:00');
  must(await sealDaysOver(world.services, business.tenantId));
  return unpacked(await packOf(world, business.office, visit.id));
}

const signedSeal = ({ kind }: { readonly kind: string }) => kind === 'acceptance';

test('papers say when an answer was signed on the phone, and when it was received', async () => {
  const visit = await finishedOnPhone({ last_eight: 'SK000501', model: 'Vela' });
  visit.do('acceptance', at('11:05'), signature(visit, at('11:05')));
  done(await visit.send());
  const files = await packed(visit);
  expect(jsonIn(files, 'manifest.json').seals.find(signedSeal).says).toEqual(
    expect.arrayContaining([
      { name: 'Signed on the phone at, by its clock', value: '2026-08-05T16:05:00Z' },
      { name: 'Received at', value: '2026-08-05T19:00:00Z' },
    ]),
  );
  const { heard } = await readPdf(files['evidence.pdf'] ?? new Uint8Array());
  expect(heard.join(' ').replaceAll('\u202f', ' ')).toContain(
    'Aug 5, 2026, 11:05 AM (by the phone’s clock), received Aug 5, 2026, 2:00 PM',
  );
});

test('a pack that was made when its list named that moment otherwise still holds', async () => {
  const visit = await finishedOnPhone({ last_eight: 'SK000502', model: 'Vela' });
  visit.do('acceptance', at('11:05'), signature(visit, at('11:05')));
  done(await visit.send());
  const files = await packed(visit);
  const manifest = jsonIn(files, 'manifest.json');
  const seal = manifest.seals.find(signedSeal);
  const kept = seal.says.filter(
    ({ name }: { name: string }) => !/^(Signed on the phone|Received)/.test(name),
  );
  seal.says = [...kept, { name: 'Answered at', value: '2026-08-05T19:00:00Z' }];
  const text = canonicalJson(manifest);
  const { signature: signed } = signText(text, await insidersSeed(world, business.tenantId));
  const before = {
    ...files,
    'manifest.json': strToU8(text),
    'manifest.signature.json': strToU8(canonicalJson({ key: manifest.key, signature: signed })),
  };
  expect(faultsOf(await reportOf(packedAgain(before)))).toEqual([]);
});

const auditOf = (visit: PhoneVisit, action: string) =>
  asAdministrator(
    world,
    (sql) => sql<{ detail: Record<string, unknown> }[]>`select r.detail from audit_records r
      where r.action = ${action} and (r.subject_id = ${visit.id} or r.detail ->> 'work_order_id' = ${visit.id})`,
  );

test.each([
  ['still to come', at('18:00'), 'is still to come'],
  ['before the work was finished', at('10:00'), 'is before the work was finished'],
])('a moment of signing that is %s is not sealed, and the record says which it was', async (_, said, why) => {
  const visit = await finishedOnPhone({ last_eight: said.includes('18:') ? 'SK000601' : 'SK000602' });
  visit.do('acceptance', at('11:05'), signature(visit, said));
  done(await visit.send());
  const view = must(await read(visit));
  expect(view.acceptance).toMatchObject({ acceptedAt: '2026-08-05T19:00:00Z', answeredAt: null });
  const [taken] = await auditOf(visit, 'acceptance_taken');
  expect(taken?.detail).toMatchObject({ answered_at_not_taken: `${instant(said)}, which ${why}` });
});

test('what somebody signed on a phone and can’t be bound any more stays on record, once', async () => {
  const visit = await finishedOnPhone({ last_eight: 'SK000701' });
  done(await visit.send());
  const answer = signature(visit, at('11:05'));
  const { technician } = business;
  await photographed(installer, visit.id, toId(visit.lineId), 'after');
  const sentTwice = { ...answer, id: world.newId() };
  for (const _ of [1, 2]) visit.do('acceptance', at('11:05'), sentTwice);
  expect(await visit.send()).toMatchObject([
    { status: 409, code: 'shown_changed' },
    { status: 409, code: 'shown_changed' },
  ]);
  const kept = await auditOf(visit, 'acceptance_not_bound');
  expect(kept.map(({ detail }) => detail)).toEqual([
    {
      answer: sentTwice.id,
      why: 'shown_changed',
      outcome: 'accepted',
      signer_name: 'Orrin Vasek',
      signer_role: 'vehicle_owner',
      method: 'typed',
      signature: null,
      answered_at: '2026-08-05T16:05:00Z',
      shown_digest: answer.shown_digest,
      made_on_phone_at: '2026-08-05T16:05:00Z',
    },
  ]);
  const trail = must(await readWorkOrderTrail(world.services, technician, visit.id));
  expect(trail.entries.map(({ words }) => words)).toContain('Signed on a phone, and not bound to the work');
});

test('what was written up does not change any more, by SQL either', async () => {
  const visit = await phoneVisit(web, installer);
  visit.do('write_up', at('09:00'), { last_eight: 'SK000801' });
  done(await visit.send());
  const change = asAdministrator(
    world,
    (sql) => sql`update work_orders set made_at = null where id = ${visit.id}`,
  );
  await expect(change).rejects.toThrow('does not change');
});
