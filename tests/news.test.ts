import { type DecisionId, formatMinor, type MessageId } from '@grainwright/domain';
import {
  addStaffMember,
  decideEstimate,
  giveNumbers,
  previewDecision,
  recordDecision,
  type SignedInActor,
  signOut,
  writeMessage,
} from '@grainwright/operations';
import postgres from 'postgres';
import { afterEach, beforeAll, beforeEach, expect, test } from 'vitest';
import { type AskedEstimate, answersTo, askedEstimate } from './support/asked-estimates.ts';
import { type NewsStream, openNewsStream } from './support/news-stream.ts';
import { openWeb, type Web } from './support/web.ts';
import {
  type Account,
  aBusiness,
  actorFor,
  anAccount,
  must,
  openWorld,
  type World,
} from './support/world.ts';

// What the technician hears while an answer is awaited. A test waits for the event itself, never for some time.

let world: World;
let web: Web;
let address: string;
let lot: Account;
let lotElsewhere: Account;
let otherTechnician: { actor: SignedInActor; email: string };

beforeAll(async () => {
  world = await openWorld();
  world.at('2026-10-06T09:00');
  web = await openWeb(world);
  address = await web.listen();
  lot = await anAccount(await aBusiness(world), lotTerms);
  lotElsewhere = await anAccount(await aBusiness(world), lotTerms);
  otherTechnician = await anotherTechnician(lot);
});

// Each test has an hour of its own: what was told in one is no news in the next.
let hour = 9;
beforeEach(() => {
  hour += 1;
  clock(0);
});

afterEach(() => Promise.all(opened.splice(0).map((stream) => stream.close())));

const opened: NewsStream[] = [];
const clock = (minute: number) => world.at(`2026-10-06T${hour}:${String(minute).padStart(2, '0')}`);

const lotTerms = {
  tierCode: 'lot',
  ownNumberKind: 'stock',
  limit: null,
  certificate: { kind: 'resale', number: 'R-4471', validFrom: '2026-01-01', validTo: null },
} as const;

const asked = (account: Account, ownNumber = 'PL-255') =>
  askedEstimate(
    account,
    [
      { part: 'seat_bolster', rateCode: 'PU-L' },
      { part: 'front_door_panel', damage: 'scuff', rateCode: 'SC-M' },
    ],
    { ownNumber },
  );

test('the technician hears within the same moment that the yes has come, with the total of what was approved', async () => {
  const stream = await streamOf(lot, lot.business.emailOf('technician'));
  const estimate = await asked(lot);
  // The scuff alone comes to 79.75, an agreed figure of the demo (PL-255); the trip of a vehicle by itself to 45.00. The
  // certificate takes the tax off.
  await answer(lot, estimate, { 0: 'going to auction' });
  expect(await stream.nextWords()).toMatch(/^WO-\d+ approved: \$124\.75$/);
});

test('a no is told as a no, a yes that the office wrote down as a yes, and so are numbers and a question that came', async () => {
  const stream = await streamOf(lot, lot.business.emailOf('technician'));
  await answer(lot, await asked(lot), { 0: 'sold', 1: 'sold' });
  expect(await stream.nextWords()).toMatch(/^WO-\d+ declined$/);
  const byPhone = await asked(lot);
  must(
    await recordDecision(world.services, lot.business.office, {
      ...(await answerTo(lot, byPhone)),
      decidedBy: lot.approver.personId,
      given: 'by_phone',
    }),
  );
  expect(await stream.nextWords()).toMatch(/^WO-\d+ approved: \$/);
  must(
    await giveNumbers(world.services, lot.payer, {
      workOrderId: byPhone.workOrderId,
      ownNumber: '',
      roNumber: '',
      poNumber: '77105',
    }),
  );
  expect(await stream.nextWords()).toMatch(/^WO-\d+ has its numbers: PL-255, PO 77105$/);
  const question = { id: world.newId<MessageId>(), workOrderId: byPhone.workOrderId, text: 'Until when?' };
  must(await writeMessage(world.services, lot.approver, question));
  expect(await stream.nextWords()).toMatch(/^WO-\d+: Ansel Corvin has written$/);
});

test('what they wrote down themselves is no news to them', async () => {
  const stream = await streamOf(lot, lot.business.emailOf('technician'));
  must(
    await recordDecision(world.services, lot.business.technician, {
      ...(await answerTo(lot, await asked(lot))),
      decidedBy: lot.approver.personId,
      given: 'in_person',
    }),
  );
  await answer(lot, await asked(lot, 'PL-256'), { 0: 'sold', 1: 'sold' });
  expect(await stream.nextWords()).toMatch(/declined$/);
});

test('another technician and another business hear nothing of it: the first that each hears is their own', async () => {
  const colleague = await streamOf(lot, otherTechnician.email);
  const elsewhere = await streamOf(lotElsewhere, lotElsewhere.business.emailOf('technician'));
  const owner = await streamOf(lot, lot.business.emailOf('technician'));
  await answer(lot, await asked(lot), {});
  expect(await owner.nextWords()).toMatch(/approved/);

  const ofColleague = { ...lot, business: { ...lot.business, technician: otherTechnician.actor } };
  await answer(lot, await asked(ofColleague), { 0: 'sold', 1: 'sold' });
  expect(await colleague.nextWords()).toMatch(/declined$/);
  await answer(lotElsewhere, await asked(lotElsewhere), { 0: 'sold', 1: 'sold' });
  expect(await elsewhere.nextWords()).toMatch(/declined$/);
});

test('a browser that lost its stream goes on where it was: what came meanwhile is told', async () => {
  const first = await streamOf(lot, lot.business.emailOf('technician'));
  await answer(lot, await asked(lot), {});
  await first.next();
  const seen = await first.next();
  await first.close();
  clock(10);
  await answer(lot, await asked(lot), { 0: 'sold', 1: 'sold' });
  clock(20);
  const again = await streamOf(lot, lot.business.emailOf('technician'), { 'last-event-id': seen?.id ?? '' });
  const told: string[] = [];
  for (let words = ''; !words.endsWith('declined'); told.push(words))
    words = (await again.nextWords()) ?? 'declined';
  expect(told.at(-1)).toMatch(/^WO-\d+ declined$/);
});

test('a connection to the database that broke off is opened again, and what came meanwhile is told', async () => {
  const stream = await streamOf(lot, lot.business.emailOf('technician'));
  await answer(lot, await asked(lot), {});
  expect(await stream.nextWords()).toMatch(/approved/);
  const admin = postgres(world.adminUrl, { max: 1 });
  await admin`select pg_terminate_backend(pid) from pg_stat_activity
    where application_name = 'grainwright news' and datname = current_database()`;
  await admin.end();
  await answer(lot, await asked(lot), { 0: 'sold', 1: 'sold' });
  expect(await stream.nextWords()).toMatch(/declined$/);
});

test('the list tells the same to whoever asks again and again, from the moment that the answer before named', async () => {
  const { headers } = await apiOf(lot.business.emailOf('technician'));
  const list = async (since: string) =>
    (await web.app.inject({ url: '/api/v1/news', query: { since }, headers })).json<{
      news: { id: string; words: string }[];
      until: string;
    }>();
  const before = await list(world.services.now());
  expect(before.news).toEqual([]);
  await answer(lot, await asked(lot), {});
  const after = await list(before.until);
  expect(after.news.map(({ words }) => words)).toEqual([expect.stringMatching(/^WO-\d+ approved: \$/)]);
  clock(5);
  expect((await list(world.services.now())).news).toEqual([]);
  const page = await (await web.signInByPage(lot.business.emailOf('technician'), lot.business.password)).get(
    '/field/news',
  );
  expect(page.body).toContain(after.news[0]?.words);
});

test('a moment that is none is refused with what to write', async () => {
  const { headers } = await apiOf(lot.business.emailOf('technician'));
  const reply = await web.app.inject({ url: '/api/v1/news', query: { since: 'yesterday' }, headers });
  expect([reply.statusCode, reply.json()]).toMatchObject([422, { code: 'invalid_date', field: 'since' }]);
});

test('nobody else’s: a contact of an account has no such stream', async () => {
  const { headers } = await apiOf(lot.emailOf('approver'));
  const reply = await web.app.inject({ url: '/api/v1/news', headers });
  expect(reply.statusCode).toBe(403);
});

test('a fourth stream of one person is refused, and one that ended makes room', async () => {
  const email = lotElsewhere.business.emailOf('technician');
  const streams = [];
  for (let index = 0; index < 3; index += 1) streams.push(await streamOf(lotElsewhere, email));
  await expect(streamOf(lotElsewhere, email)).rejects.toThrow('429');
  await Promise.all(streams.map((stream) => stream.close()));
  await expect
    .poll(() => streamOf(lotElsewhere, email).then((stream) => stream.close(), String), { timeout: 10_000 })
    .toBeUndefined();
});

test('a HEAD opens no stream, whatever it accepts', async () => {
  const { headers } = await apiOf(lot.business.emailOf('technician'));
  const asking = { ...headers, accept: 'text/event-stream' };
  const reply = await web.app.inject({ method: 'HEAD', url: '/api/v1/news', headers: asking });
  expect(reply.statusCode).toBe(200);
  expect(reply.headers['content-type']).toContain('application/json');
});

test('a stream is told to no proxy’s store, and ends when its person signs out', async () => {
  const { headers, token } = await apiOf(lot.business.emailOf('technician'));
  const stream = await openNewsStream(`${address}/api/v1/news`, headers);
  expect(Object.fromEntries(stream.headers)).toMatchObject({
    'content-type': 'text/event-stream; charset=utf-8',
    'cache-control': 'no-store',
    'x-accel-buffering': 'no',
  });
  await signOut(world.services, token);
  await answer(lot, await asked(lot), {});
  expect(await stream.nextWords()).toBeNull();
});

test('the application closes at once while streams are open', async () => {
  const another = await openWeb(world);
  const where = await another.listen();
  const { headers } = await apiOf(lot.business.emailOf('technician'));
  const stream = await openNewsStream(`${where}/api/v1/news`, headers);
  await another.app.close();
  expect(await stream.nextWords()).toBeNull();
});

async function streamOf(
  account: Account,
  email: string,
  more: Readonly<Record<string, string>> = {},
): Promise<NewsStream> {
  const browsing = await web.signInByPage(email, account.business.password);
  const cookie = Object.entries(browsing.cookies)
    .map(([name, value]) => `${name}=${value}`)
    .join('; ');
  const stream = await openNewsStream(`${address}/field/news`, { cookie, ...more });
  opened.push(stream);
  return stream;
}

async function apiOf(email: string) {
  const headers = await web.signIn(email, lot.business.password);
  return { headers, token: headers.authorization.replace('Bearer ', '') };
}

async function answerTo(
  account: Account,
  estimate: AskedEstimate,
  declined: Readonly<Record<number, string>> = {},
) {
  const { workOrderId, versionId, digest } = estimate;
  const answers = answersTo(estimate, declined);
  const seen = { workOrderId, versionId, digest, answers };
  const { totalMinor } = must(await previewDecision(world.services, account.approver, seen));
  const total = formatMinor(totalMinor, 'USD');
  return { decisionId: world.newId<DecisionId>(), workOrderId, versionId, digest, answers, total };
}

async function answer(account: Account, estimate: AskedEstimate, declined: Readonly<Record<number, string>>) {
  must(await decideEstimate(world.services, account.approver, await answerTo(account, estimate, declined)));
}

/** Somebody else who works at vehicles of the same business. */
async function anotherTechnician({ business }: Account): Promise<{ actor: SignedInActor; email: string }> {
  const actor = actorFor(world, business.tenantId, null);
  const email = business.emailOf('technician-2');
  const person = {
    personId: actor.personId,
    name: 'Marlo Quist',
    phone: '',
    shortName: 'T3',
    pricesByHand: false,
  };
  const login = { userId: actor.userId, membershipId: actor.id, password: business.password };
  must(await addStaffMember(world.services, business.owner, { ...person, email, role: 'technician', login }));
  return { actor, email };
}
