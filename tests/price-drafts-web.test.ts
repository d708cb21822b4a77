import { beforeAll, beforeEach, expect, test } from 'vitest';
import { rowsOf } from './isolation/stored-rows.ts';
import { multipart } from './support/multipart.ts';
import { type Browsing, openWeb, type Web } from './support/web.ts';
import { approvedLine } from './support/work-in-hand.ts';
import { type Account, aBusiness, anAccount, type Business, openWorld, type World } from './support/world.ts';

let world: World;
let web: Web;
let business: Business;
let account: Account;
let owner: Browsing;

beforeAll(async () => {
  world = await openWorld();
  web = await openWeb(world);
  business = await aBusiness(world);
  account = await anAccount(business);
});
beforeEach(async () => {
  world.at('2026-08-05T09:00');
  owner = await web.signInByPage(business.emailOf('owner'), business.password);
});

type Pairs = readonly (readonly [string, string])[];

/** Posts a form as a browser does without JavaScript: every field in its order. */
function post(path: string, fields: Pairs) {
  return web.app.inject({
    method: 'POST',
    url: path,
    cookies: { ...owner.cookies },
    headers: { 'content-type': 'application/x-www-form-urlencoded' },
    payload: new URLSearchParams([...fields.map(([name, value]) => [name, value])]).toString(),
  });
}

/** What the inputs of a page's form would send, as they stand. */
function formIn(page: string): Pairs {
  const form = page.slice(page.indexOf('table--inputs') - 4000);
  const inputs = [...(page.includes('table--inputs') ? form : page).matchAll(/<input ([^>]*)>/g)];
  return inputs.flatMap(([, attributes = '']): Pairs => {
    const of = (name: string) => new RegExp(`(?:^| )${name}="([^"]*)"`).exec(attributes)?.[1];
    if (of('type') === 'checkbox' && !/ checked(?: |$)/.test(attributes)) return [];
    return [[of('name') ?? '', unescaped(of('value') ?? '')]];
  });
}

function unescaped(text: string): string {
  return text
    .replaceAll('&quot;', '"')
    .replaceAll('&#39;', "'")
    .replaceAll('&lt;', '<')
    .replaceAll('&gt;', '>')
    .replaceAll('&amp;', '&');
}

/** The same form with another text in one row's input. */
function typed(form: Pairs, code: string, input: string, text: string): Pairs {
  const codes = form.filter(([name]) => name === 'code').map(([, value]) => value);
  const row = codes.indexOf(code);
  let seen = -1;
  return form.map(([name, value]) => {
    if (name === input) seen += 1;
    return name === input && seen === row ? [name, text] : [name, value];
  });
}

async function begun(name = 'Spring list'): Promise<string> {
  const id = world.services.newId();
  const reply = await owner.post('/office/price-book/drafts', {
    id,
    name,
    counts_from: '2026-10-01',
    copied_from: '',
  });
  expect(reply.statusCode).toBe(303);
  return `${reply.headers.location}`;
}

async function api(method: 'GET' | 'POST' | 'PUT', url: string, payload?: object) {
  const headers = await web.signIn(business.emailOf('owner'), business.password);
  return web.app.inject({
    method,
    url: `/api/v1${url}`,
    headers,
    ...(payload === undefined ? {} : { payload }),
  });
}

test('the table holds every rate of the list, and one button saves what was typed into it', async () => {
  const path = await begun();
  const page = (await owner.get(path)).body;
  const form = formIn(page);
  expect(form.filter(([name, value]) => name === 'code' && value !== '')).toHaveLength(28);
  expect(page).toContain('aria-label="List price, VC-M"');
  const saved = await post(path, typed(form, 'VC-M', 'list', '210.00'));
  expect([saved.statusCode, saved.headers.location]).toEqual([303, `${path}?saved=yes`]);
  const after = (await owner.get(`${path}?saved=yes`)).body;
  expect(after).toContain('1 row differs from the list in force');
  // Labor and materials of 210.00 at 12 %: 184.80 and 25.20.
  expect(after).toContain('$184.80');
  expect(after).toContain('$25.20');
});

test('what is wrong stands beside its cell, and nothing typed is lost', async () => {
  const path = await begun();
  const form = typed(formIn((await owner.get(path)).body), 'VC-S', 'list', '140.005');
  const reply = await post(path, typed(form, 'LT-M', 'repair', 'Leather tear, a "long" one'));
  expect(reply.statusCode).toBe(422);
  expect(reply.body).toMatch(/value="140.005"[^>]*aria-invalid="true"[^>]*>\s*<p class="error"/);
  expect(reply.body).toContain('VC-S, list: “140.005” has 3 decimals');
  expect(reply.body).toContain('Leather tear, a &quot;long&quot; one');
  const mended = typed(formIn(reply.body), 'VC-S', 'list', '140.50');
  expect((await post(path, mended)).statusCode).toBe(303);
  const { rates } = (await api('GET', path.replace('/office', ''))).json();
  expect(rates.filter((rate: { code: string }) => ['VC-S', 'LT-M'].includes(rate.code))).toMatchObject([
    { repair: 'Leather tear, a "long" one' },
    { list: '140.50' },
  ]);
});

test('a row marked as ending leaves the list and stands there to be taken back; new rows fit below', async () => {
  const path = await begun();
  const form = formIn((await owner.get(path)).body);
  const codes = form.filter(([name]) => name === 'code').map(([, value]) => value);
  const more = formIn((await post(path, [...form, ['action', 'add']])).body);
  expect(more.filter(([name]) => name === 'code')).toHaveLength(codes.length + 10);
  const filled = (['code', 'family', 'repair', 'list', 'share'] as const).reduce<Pairs>(
    (pairs, name, index) =>
      typed(pairs, index === 0 ? '' : 'PT-S', name, ['PT-S', 'Pillar', 'Pillar', '90', '10'][index] ?? ''),
    more,
  );
  const ends = ['ends', String(codes.indexOf('CM-1'))] as const;
  expect((await post(path, [...filled, ends])).statusCode).toBe(303);
  const page = (await owner.get(`${path}?saved=yes`)).body;
  expect(page).toContain('1 new, 1 ending');
  const again = formIn(page);
  const back = again.filter(([name]) => name !== 'ends');
  expect(again).toHaveLength(back.length + 1);
  await post(path, back);
  expect((await owner.get(`${path}?saved=yes`)).body).toContain(
    '0 rows differ from the list in force, 1 new.',
  );
});

test('somebody else’s newer save is not overwritten: both are shown, and what was typed is kept', async () => {
  const path = await begun();
  const form = formIn((await owner.get(path)).body);
  await post(path, typed(form, 'VC-M', 'list', '210.00'));
  const late = await post(path, typed(form, 'VC-M', 'list', '205.00'));
  expect(late.statusCode).toBe(409);
  expect(late.body).toContain('Somebody else saved this list meanwhile');
  expect(late.body).toContain('$210.00');
  expect(late.body).toContain('value="205.00"');
  expect((await post(path, formIn(late.body))).statusCode).toBe(303);
});

const header =
  'code,repair,family,over_inches,to_inches,part,material,list,materials_percent,takes_further_repair,repairs_damage';
const manyRows = Array.from(
  { length: 300 },
  (_, index) =>
    `R-${index},Repair ${index},Family ${index % 30},${Math.floor(index / 30)},${Math.floor(index / 30) + 1},,,${100 + index}.00,12,yes,yes`,
);

function importText(path: string, csv: string, file: Buffer | null = null) {
  const { headers, payload } = multipart(
    { _csrf: owner.token, revision: '1', csv },
    file === null ? null : { name: 'list.csv', bytes: file },
  );
  return web.app.inject({
    method: 'POST',
    url: `${path}/csv`,
    cookies: { ...owner.cookies },
    headers,
    payload,
  });
}

test('300 rows go in by file, stand in the table and are saved from it', async () => {
  const path = await begun();
  expect((await importText(path, '', Buffer.from([header, ...manyRows].join('\r\n')))).statusCode).toBe(303);
  const form = formIn((await owner.get(path)).body);
  expect(form.filter(([name, value]) => name === 'code' && value.startsWith('R-'))).toHaveLength(300);
  expect((await post(path, typed(form, 'R-299', 'list', '777.00'))).statusCode).toBe(303);
  const { rates } = (await api('GET', path.replace('/office', ''))).json();
  expect(rates.find((rate: { code: string }) => rate.code === 'R-299').list).toBe('777.00');
});

test('a pasted table with wrong rows comes back with a table of them, and the text to be mended', async () => {
  const path = await begun();
  const csv = `${header}\n<VC-M>,Cut,Vinyl,1,3,,,195.005,12,yes,yes`;
  const reply = await importText(path, csv);
  expect(reply.statusCode).toBe(422);
  expect(reply.body).toContain('2 things to correct; nothing was taken');
  expect(reply.body).toContain('“195.005” has 3 decimals');
  expect(reply.body).toContain('&lt;VC-M&gt;,Cut,Vinyl,1,3,,,195.005');
  const latin = await importText(path, csv, Buffer.from('code,répair', 'latin1'));
  expect(latin.body).toContain('The file is not UTF-8');
  expect(latin.body).toContain('&lt;VC-M&gt;,Cut,Vinyl,1,3,,,195.005');
});

test('the trial tells each account’s difference and how it comes about, and changes no row', async () => {
  const work = await approvedLine(account);
  const path = await begun('Tried list');
  await post(path, typed(formIn((await owner.get(path)).body), 'VC-M', 'list', '210.00'));
  const before = await rowsOf(world, business.tenantId);
  const page = (await owner.get(`${path}/trial`)).body;
  const ofAccount = (await owner.get(`${path}/trial/${account.id}`)).body;
  expect(await rowsOf(world, business.tenantId)).toEqual(before);
  // By hand: 195.00 − 15 % = 165.75, 210.00 − 15 % = 178.50, 12.75 more, 7.7 % of 165.75 (7.69…).
  for (const words of ['$165.75', '$178.50', '+$12.75', '+7.7 %']) expect(page).toContain(words);
  expect(ofAccount).toContain(work.workOrderId);
  expect(ofAccount).toContain('after: list 210.00, Trade −15 % → 178.50, first repair 100 % → 178.50');
  const answer = (await api('GET', `${path.replace('/office', '')}/trial`)).json();
  expect(answer).toMatchObject({
    from: '2026-05-05',
    to: '2026-08-05',
    total: {
      work_orders: 1,
      repairs_before: '165.75',
      repairs_after: '178.50',
      difference: '12.75',
      difference_percent: '7.7',
      with_visits_before: '210.75',
      with_visits_after: '223.50',
    },
  });
  // Four months later the work is too old to be tried.
  world.at('2026-12-05T09:00');
  const later = (await api('GET', `${path.replace('/office', '')}/trial`)).json();
  expect([later.from, later.accounts]).toEqual(['2026-09-05', []]);
});

test('a list is put into force from its page, and is only read from then on', async () => {
  const path = await begun('Autumn list');
  await post(path, typed(formIn((await owner.get(path)).body), 'VC-M', 'list', '210.00'));
  const page = (await owner.get(`${path}/publish`)).body;
  expect(page).toContain('Put it into force from Oct 1, 2026');
  const done = await owner.post(`${path}/publish`, { revision: '2' });
  expect([done.statusCode, done.headers.location]).toEqual([303, path]);
  const shown = (await owner.get(path)).body;
  expect(shown).not.toContain('table--inputs');
  expect(shown).toContain('Delphine Aster-Rowe put it into force');
  const csv = (await owner.get('/office/price-book/rates.csv?on=2026-10-01')).body;
  expect(csv).toContain(
    'VC-M,"Cut or tear in vinyl, over 1 to 3 in",Vinyl cut or tear,1,3,,,210.00,12,yes,yes\r\n',
  );
});

test('the page that puts a list into force names all that differs, old and new', async () => {
  const path = await begun('Named list');
  const form = formIn((await owner.get(path)).body);
  const changes = [
    ['share', '15'],
    ['part', 'dash'],
    ['to', '2.5'],
    ['repair', 'A cut'],
  ] as const;
  const rows = changes.reduce<Pairs>((pairs, [name, text]) => typed(pairs, 'LT-M', name, text), form);
  const code = rows.filter(([name]) => name === 'code').findIndex(([, value]) => value === 'LT-M');
  const withoutDamage = rows.filter(([name, value]) => name !== 'damage' || value !== String(code));
  expect((await post(path, withoutDamage)).statusCode).toBe(303);
  const page = (await owner.get(`${path}/publish`)).body;
  for (const words of [
    '→ “A cut”',
    'size over 1 to 3 in → over 1 to 2.5 in',
    'part any → dash',
    '→ 15 %',
    'mends damage yes → no; at the same price',
  ])
    expect(page).toContain(words);
});

test('“Seen” sends what was shown of the price book, and is refused once that changed again', async () => {
  const path = await begun('Seen list');
  const change = async (code: string) => {
    const id = world.services.newId();
    const body = { id, repair: code, list: '99.00', materials_percent: '15', valid_from: '2026-09-01' };
    expect((await api('POST', `/price-book/rates/${code}/periods`, body)).statusCode).toBe(201);
  };
  const shown = async () => {
    const book = /name="book" value="([0-9a-f]{64})"/.exec((await owner.get(path)).body)?.[1] ?? '';
    return { revision: '1', book };
  };
  await change('SC-S');
  const first = await shown();
  await change('VC-L');
  const refused = await owner.post(`${path}/go-on`, first);
  expect([refused.statusCode, refused.body.includes('The price book changed again')]).toEqual([409, true]);
  expect((await owner.post(`${path}/go-on`, await shown())).statusCode).toBe(303);
  expect((await api('GET', path.replace('/office', ''))).json()).toMatchObject({ revision: 2, moved: [] });
});

test('whoever may not change the price book has nothing of this', async () => {
  const office = await web.signInByPage(business.emailOf('office'), business.password);
  expect((await office.get('/office/price-book/drafts')).statusCode).toBe(403);
  expect((await office.get('/office/price-book')).body).not.toContain('/office/price-book/drafts');
});
