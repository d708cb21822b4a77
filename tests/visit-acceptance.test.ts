import { createHash } from 'node:crypto';
import type { VisitSignatureId, WorkOrderId } from '@grainwright/domain';
import {
  type AcceptVisitInput,
  acceptVisit,
  readWorkOrder,
  type ShownVisit,
  showVisitAcceptance,
} from '@grainwright/operations';
import { beforeAll, expect, test } from 'vitest';
import { asAdministrator, finishedLine, photographed, type WorkInHand } from './support/work-in-hand.ts';
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
let installer: Account;

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
  installer = await anAccount(business, { limit: null });
});

/** A lot of its own, whose manager signs for all vehicles of the day’s visit. */
const aLot = () =>
  anAccount(business, { acceptanceRule: 'account_representative', photoRule: 'lot', limit: null });
const refusal = (code: string) => ({ ok: false, problem: { code } });

async function visitOf({ workOrderId }: WorkInHand) {
  return must(await readWorkOrder(world.services, business.technician, workOrderId)).visit.id;
}

const show = async (work: WorkInHand) =>
  showVisitAcceptance(world.services, business.technician, await visitOf(work));

function signed({ visitId, vehicles }: ShownVisit, change: Partial<AcceptVisitInput> = {}): AcceptVisitInput {
  return {
    id: world.newId<VisitSignatureId>(),
    visitId,
    workOrders: vehicles.map(({ workOrder, digest }) => ({ workOrderId: workOrder.id, shownDigest: digest })),
    outcome: 'accepted',
    remark: '',
    signerName: 'Ravi Stellmacher',
    signerRole: 'account_representative',
    mark: { kind: 'typed', name: 'Ravi Stellmacher', confirmed: true },
    overrideReason: '',
    device: 'a phone',
    ...change,
  };
}

const accept = (input: AcceptVisitInput) => acceptVisit(world.services, business.technician, input);
const stateOf = async (id: WorkOrderId) =>
  must(await readWorkOrder(world.services, business.technician, id)).state;

test('one signature accepts every finished vehicle of a visit, bound to what was shown of all of them', async () => {
  const lot = await aLot();
  const works = [await finishedLine(lot), await finishedLine(lot), await finishedLine(lot)];
  const [first] = works;
  if (first === undefined) throw new Error('no work');
  const visit = must(await show(first));
  expect(visit.vehicles.map(({ workOrder }) => workOrder.id)).toEqual(works.map((work) => work.workOrderId));
  expect(visit.vehicles[0]?.parts).toMatchObject([{ before: [{}], after: [{}] }]);
  const input = signed(visit);
  const accepted = must(await accept(input));
  expect(accepted.workOrders.map(({ state }) => state)).toEqual(['accepted', 'accepted', 'accepted']);
  const [stored] = await asAdministrator(
    world,
    (sql) => sql`select shown, shown_digest from visit_signatures where id = ${input.id}`,
  );
  expect(createHash('sha256').update(String(stored?.shown)).digest('hex')).toBe(accepted.digest);
  expect(JSON.parse(String(stored?.shown))).toEqual({
    format: 'visit-acceptance-shown-1',
    visit: visit.visitId,
    workOrders: visit.vehicles.map(({ shown }) => shown),
  });
  const rows = await asAdministrator(
    world,
    (sql) => sql`select work_order_id, shown_digest, signer_name, method from acceptances
      where visit_signature_id = ${input.id} order by work_order_id`,
  );
  expect(rows).toEqual(
    visit.vehicles
      .map(({ workOrder, digest }) => ({
        work_order_id: workOrder.id,
        shown_digest: digest,
        signer_name: 'Ravi Stellmacher',
        method: 'typed',
      }))
      .toSorted((a, b) => (a.work_order_id < b.work_order_id ? -1 : 1)),
  );
});

test('a vehicle that is left out waits on, and is answered by itself', async () => {
  const lot = await aLot();
  const works = [await finishedLine(lot), await finishedLine(lot)] as const;
  const visit = must(await show(works[0]));
  const input = signed(visit);
  must(await accept({ ...input, workOrders: input.workOrders.slice(0, 1) }));
  expect(await stateOf(works[0].workOrderId)).toBe('accepted');
  expect(await stateOf(works[1].workOrderId)).toBe('done');
  expect(must(await show(works[1])).vehicles).toHaveLength(1);
});

test('one vehicle that has changed since it was shown stops the whole signature', async () => {
  const lot = await aLot();
  const works = [await finishedLine(lot), await finishedLine(lot)] as const;
  const input = signed(must(await show(works[0])));
  await photographed(lot, works[1].workOrderId, works[1].lineId, 'after');
  expect(await accept(input)).toMatchObject(refusal('shown_changed'));
  expect(await stateOf(works[0].workOrderId)).toBe('done');
});

test('the same signature sent twice counts once, and of two at once one counts', async () => {
  const lot = await aLot();
  const work = await finishedLine(lot);
  const visit = must(await show(work));
  const input = signed(visit);
  const once = await accept(input);
  expect(await accept(input)).toEqual(once);
  expect(await accept({ ...input, signerName: 'Somebody Else' })).toMatchObject(refusal('id_reused'));
  const other = await finishedLine(lot);
  const later = signed(must(await show(other)));
  const answers = await Promise.all([1, 2, 3].map(() => accept({ ...later, id: world.newId() })));
  expect(answers.filter(({ ok }) => ok)).toHaveLength(1);
});

test('a no, no vehicle, and a vehicle of another visit are refused', async () => {
  const lot = await aLot();
  const work = await finishedLine(lot);
  const elsewhere = await finishedLine(await aLot());
  const visit = must(await show(work));
  const other = must(await show(elsewhere));
  const no = { outcome: 'not_accepted', remark: 'not this one' } as const;
  expect(await accept(signed(visit, no))).toMatchObject(refusal('invalid_input'));
  expect(await accept(signed(visit, { workOrders: [] }))).toMatchObject(refusal('invalid_input'));
  const both = [...signed(visit).workOrders, ...signed(other).workOrders];
  expect(await accept(signed(visit, { workOrders: both }))).toMatchObject(refusal('invalid_input'));
});

test('where each vehicle’s owner signs, nobody signs for several', async () => {
  const work = await finishedLine(installer);
  expect(await show(work)).toMatchObject(refusal('signer_not_fitting'));
});
