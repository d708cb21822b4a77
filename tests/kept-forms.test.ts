import type { MembershipId } from '@grainwright/domain';
import { beforeAll, expect, test } from 'vitest';
import { multipart } from './support/multipart.ts';
import { openWeb, type Web } from './support/web.ts';
import { writtenUpLine } from './support/work-in-hand.ts';
import { type Account, aBusiness, anAccount, type Business, openWorld, type World } from './support/world.ts';

let world: World;
let web: Web;
let business: Business;
let installer: Account;

beforeAll(async () => {
  world = await openWorld();
  web = await openWeb(world);
  business = await aBusiness(world);
  installer = await anAccount(business, { name: 'Brackwater Glass' });
});

const host = 'shop.example';
const fromOurPage = { host, origin: `http://${host}` };
const otherSite = { host, origin: 'http://elsewhere.example' };

type Cookies = Record<string, string>;
type Fields = Readonly<Record<string, string>>;
type Answer = Awaited<ReturnType<Web['app']['inject']>>;

const typed = { note: 'Two "cracks" <b>\nleft side', password: 'never to be kept', _csrf: '' };

function post(url: string, cookies: Cookies, fields: Fields, headers: Fields = fromOurPage): Promise<Answer> {
  const payload = new URLSearchParams(fields).toString();
  const type = { 'content-type': 'application/x-www-form-urlencoded' };
  return web.app.inject({ method: 'POST', url, cookies, headers: { ...type, ...headers }, payload });
}

function hiddenIn(body: string, name: string): string {
  const found = new RegExp(`name="${name}" value="([^"]*)"`).exec(body)?.[1] ?? '';
  return found
    .replaceAll('&lt;', '<')
    .replaceAll('&gt;', '>')
    .replaceAll(/&quot;|&#34;/g, '"')
    .replaceAll(/&#39;|&apos;/g, "'")
    .replaceAll('&amp;', '&');
}

/** The token of a form as a signed-in page draws it, with the cookies of the browser that shows it. */
async function opened(role: 'technician' | 'office', page = '/field') {
  const browser = await web.signInByPage(business.emailOf(role), business.password);
  const body = (await browser.get(page)).body;
  return { token: hiddenIn(body, '_csrf'), cookies: { ...browser.cookies } };
}

const withoutSession = ({ grainwright_session: _ended, ...others }: Cookies): Cookies => others;
const lineForm = async () => `/field/work-orders/${(await writtenUpLine(installer)).workOrderId}/lines/new`;

const signInWith = (refused: Answer, cookies: Cookies, role: 'technician' | 'office') =>
  post('/sign-in', cookies, {
    _csrf: hiddenIn(refused.body, '_csrf'),
    kept: hiddenIn(refused.body, 'kept'),
    next: '/',
    email: business.emailOf(role),
    password: business.password,
  });

test('what was typed before the session ended goes along through signing in and is sent only when the person says so', async () => {
  const { token, cookies } = await opened('technician');
  const there = await lineForm();
  const refused = await post(there, withoutSession(cookies), { ...typed, _csrf: token });
  expect(refused.statusCode).toBe(401);
  expect(refused.body).toContain('What you typed is kept');
  expect(refused.body).not.toContain('never to be kept');
  const again = await signInWith(refused, withoutSession(cookies), 'technician');
  expect(again.statusCode).toBe(200);
  expect(again.body).toContain(`action="${there}"`);
  expect(again.body).toContain('Send it now');
  expect(hiddenIn(again.body, 'note')).toBe(typed.note);
  expect(again.body).not.toContain('<b>');
  expect(again.body).not.toContain('never to be kept');
  const session = Object.fromEntries(again.cookies.map(({ name, value }) => [name, value]));
  const own = { _csrf: hiddenIn(again.body, '_csrf'), note: hiddenIn(again.body, 'note') };
  const taken = await post(there, { ...withoutSession(cookies), ...session }, own);
  // The form itself answers: what it lacks is asked for there.
  expect(taken.statusCode).toBe(422);
  expect(taken.body).toContain('Two ');
});

test('a wrong password keeps what was typed for the next try', async () => {
  const { token, cookies } = await opened('technician');
  const refused = await post(await lineForm(), withoutSession(cookies), { ...typed, _csrf: token });
  const kept = hiddenIn(refused.body, 'kept');
  const mistyped = await post('/sign-in', withoutSession(cookies), {
    _csrf: hiddenIn(refused.body, '_csrf'),
    kept,
    email: business.emailOf('technician'),
    password: 'not the one',
  });
  expect(mistyped.statusCode).toBe(401);
  expect(hiddenIn(mistyped.body, 'kept')).toBe(kept);
});

test('when somebody else signs in, what was typed is dropped, and said so', async () => {
  const { token, cookies } = await opened('technician');
  const refused = await post(await lineForm(), withoutSession(cookies), { ...typed, _csrf: token });
  const dropped = await signInWith(refused, withoutSession(cookies), 'office');
  expect(dropped.body).toContain('Somebody else had typed it, so it was dropped');
  expect(dropped.body).not.toContain('cracks');
});

test('a form whose token no longer counts comes back with a fresh one and all that was typed', async () => {
  const { token, cookies } = await opened('technician');
  const there = await lineForm();
  const { grainwright_form: _old, ...lacking } = cookies;
  const refused = await post(there, lacking, { ...typed, _csrf: token });
  expect(refused.statusCode).toBe(403);
  expect(refused.body).toContain('Send it now');
  expect(hiddenIn(refused.body, 'note')).toBe(typed.note);
  const fresh = Object.fromEntries(refused.cookies.map(({ name, value }) => [name, value]));
  const taken = await post(
    there,
    { ...lacking, ...fresh },
    { note: typed.note, _csrf: hiddenIn(refused.body, '_csrf') },
  );
  expect(taken.statusCode).toBe(422);
});

test('nothing is kept of a form that another site sent, that another person opened, or that is about signing in', async () => {
  const { token, cookies } = await opened('technician');
  const there = await lineForm();
  const from = (headers: Fields, url = there) =>
    post(url, withoutSession(cookies), { ...typed, _csrf: token }, headers);
  const refusals = [
    await from(otherSite),
    await from({ host }),
    await from({ ...fromOurPage, 'sec-fetch-site': 'cross-site' }),
    await from(fromOurPage, '/password'),
  ];
  const office = await opened('office', '/office/accounts');
  refusals.push(
    await post(there, { ...office.cookies, grainwright_form: 'another' }, { ...typed, _csrf: token }),
  );
  for (const { statusCode, body } of refusals) {
    expect([401, 403]).toContain(statusCode);
    expect(body).not.toContain('cracks');
  }
});

test('what was kept leads to no address but the forms of our own', async () => {
  const { token, cookies } = await opened('technician');
  const refused = await post(await lineForm(), withoutSession(cookies), { ...typed, _csrf: token });
  const kept: { to: string } = JSON.parse(hiddenIn(refused.body, 'kept'));
  for (const to of [
    'https://elsewhere.example/x',
    '//elsewhere.example/field',
    '/sign-out',
    '/field',
    'javascript:1',
  ]) {
    const reply = await post('/sign-in', withoutSession(cookies), {
      _csrf: hiddenIn(refused.body, '_csrf'),
      kept: JSON.stringify({ ...kept, to }),
      email: business.emailOf('technician'),
      password: business.password,
    });
    expect(reply.statusCode).toBe(303);
    expect(reply.headers.location).toBe('/');
  }
});

test('of a photo that was not taken, what it shows is kept, and the page says that the picture is not', async () => {
  const { token, cookies } = await opened('technician');
  const { workOrderId, lineId } = await writtenUpLine(installer);
  const fields = { _csrf: token, photo_id: world.newId<MembershipId>(), line_id: lineId, purpose: 'before' };
  const { payload, headers } = multipart(fields, { name: 'p.jpg', bytes: Buffer.alloc(50_000, 7) });
  const send = (sent: Cookies) =>
    web.app.inject({
      method: 'POST',
      url: `/field/work-orders/${workOrderId}/photos`,
      headers: { ...fromOurPage, ...headers },
      cookies: sent,
      payload,
    });
  const signedOut = await send(withoutSession(cookies));
  expect(signedOut.statusCode).toBe(401);
  expect(signedOut.body).toContain('the picture itself could not be');
  const again = await signInWith(signedOut, withoutSession(cookies), 'technician');
  const { grainwright_form: _old, ...lacking } = cookies;
  for (const page of [again, await send(lacking)]) {
    expect(page.body).toContain('enctype="multipart/form-data"');
    expect(page.body).toContain('type="file"');
    expect(hiddenIn(page.body, 'line_id')).toBe(lineId);
  }
});

test('a form that came back is kept by the browser for Back until signing out; nothing else is', async () => {
  const { token, cookies } = await opened('technician');
  const there = await lineForm();
  const cameBack = await post(there, cookies, { _csrf: token, note: 'left side' });
  expect([cameBack.statusCode, cameBack.headers['cache-control']]).toEqual([422, 'private, no-cache']);
  const shown = await web.app.inject({ url: there, cookies });
  expect(shown.headers['cache-control']).toBe('no-store');
  const password = await post('/password', cookies, { _csrf: token, old_password: 'x', new_password: 'y' });
  expect(password.headers['cache-control']).toBe('no-store');
  const out = await post('/sign-out', cookies, { _csrf: token });
  expect(out.headers['clear-site-data']).toBe('"cache"');
});
