import 'fake-indexeddb/auto';
import type { PersonId, WorkOrderId } from '@grainwright/domain';
import { toId } from '@grainwright/domain';
import { readWorkOrder } from '@grainwright/operations';
import type { PhoneSnapshot } from '@grainwright/operations/phone';
import { beforeAll, expect, test } from 'vitest';
import type { KeptAction } from '../apps/web/src/browser/phone/action.ts';
import { applyActions } from '../apps/web/src/browser/phone/projection.ts';
import { requestOf } from '../apps/web/src/browser/phone/request.ts';
import { newLineScreen } from '../apps/web/src/browser/phone/screens/line.ts';
import type { Here, Screen } from '../apps/web/src/browser/phone/screens/screen.ts';
import { writeUpScreen } from '../apps/web/src/browser/phone/screens/write-up.ts';
import { formPatience } from '../apps/web/src/browser/phone/service-away.ts';
import { openPhoneStore, type PhoneStore } from '../apps/web/src/browser/phone/store.ts';
import { FormValues } from '../apps/web/src/plugins/form-values.ts';
import { type Browsing, openWeb, type Web } from './support/web.ts';
import {
  type Account,
  aBusiness,
  anAccount,
  type Business,
  must,
  openWorld,
  type World,
} from './support/world.ts';

/**
 * A form whose answer was lost or came too late is taken up by the phone’s app, although the service may have done it:
 * what the app makes of it is then the same thing to the service, and not another one.
 */

let world: World;
let web: Web;
let business: Business;
let lot: Account;
let technician: Browsing;
let store: PhoneStore;

beforeAll(async () => {
  world = await openWorld();
  web = await openWeb(world);
  business = await aBusiness(world);
  lot = await anAccount(business);
  world.at('2026-08-05T10:00');
  technician = await web.signInByPage(business.emailOf('technician'), business.password);
  store = await openPhoneStore({ tenantId: business.tenantId, personId: business.technician.personId });
});

function asPhone() {
  const { tenantId } = business;
  const headers = { 'x-grainwright-person': `${tenantId}.${business.technician.personId}` };
  return { cookies: technician.cookies, headers };
}

/** What the app makes of a form, sent as the app sends it; answers with the status. */
async function takenUp(
  screen: Screen,
  path: string,
  fields: Readonly<Record<string, string>>,
): Promise<number> {
  const ids = screen.path.exec(path)?.slice(1) ?? [];
  const before = await store.listActions();
  expect(await screen.post?.(await here(before), new FormValues(fields), ids)).toHaveProperty('goTo');
  const made = (await store.listActions()).at(-1);
  if (made === undefined || (await store.listActions()).length === before.length)
    throw new Error('the app made nothing of the form');
  const { path: url, body, headers } = requestOf(made.action);
  const { cookies, headers: own } = asPhone();
  const payload = body as Readonly<Record<string, string>>;
  const reply = await web.app.inject({
    method: 'POST',
    url,
    cookies,
    headers: { ...own, ...headers },
    payload,
  });
  return reply.statusCode;
}

let taken: PhoneSnapshot | null = null;

/** As it was taken along before the form was sent. */
async function here(actions: readonly KeptAction[]): Promise<Here> {
  taken ??= (
    await web.app.inject({ method: 'GET', url: '/api/v1/phone/snapshot', ...asPhone() })
  ).json<PhoneSnapshot>();
  const day = applyActions({ snapshot: taken, askedAt: '2026-08-05T14:00:00Z' }, actions);
  const owner = { tenantId: business.tenantId, personId: toId<PersonId>(business.technician.personId) };
  // No page is shown, so no frame is read.
  return {
    owner,
    store,
    day,
    actions,
    mending: null,
    files: new Map(),
    sentAt: new Date(day.snapshot.takenAt),
  } as unknown as Here;
}

test('a write-up and a line that came through once are there once', async () => {
  const id = world.newId<WorkOrderId>();
  const order = `/field/work-orders/${id}`;
  const lineId = world.newId();
  const steps: readonly (readonly [Screen, string, Readonly<Record<string, string>>])[] = [
    [
      writeUpScreen,
      '/field/write-up',
      {
        id,
        visit_id: world.newId(),
        place: `${lot.id}.${lot.siteId}`,
        day: '2026-08-05',
        vin: 'SK000104',
        model_year: '2025',
        make: 'Ostra',
        model: 'Vela ',
        ro_number: ' 8812',
      },
    ],
    [
      newLineScreen,
      `${order}/lines/new`,
      {
        step: 'save',
        line_id: lineId,
        part: 'tailgate_lining',
        damage: 'cut_or_tear',
        observation: 'relaxes_and_lies_down',
        methods: 'cold_grain',
        measured_inches: '2.2',
        family: 'Vinyl cut or tear',
      },
    ],
  ];
  for (const [screen, path, fields] of steps) {
    expect(formPatience(path)).not.toBeNull();
    const reply = await technician.post(path, fields);
    expect([reply.statusCode, path]).toEqual([303, path]);
    expect([await takenUp(screen, path, fields), path]).toEqual([
      expect.toSatisfy((status: number) => status < 300),
      path,
    ]);
  }
  const view = must(await readWorkOrder(world.services, business.office, id));
  expect(view.lines.map((line) => line.id)).toEqual([lineId]);
  expect(view).toMatchObject({ number: 1001n, numbers: { ro: '8812' } });
});
