import { spawnSync } from 'node:child_process';
import { createHash, createPublicKey, verify } from 'node:crypto';
import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { canonicalJson, type WorkOrderId } from '@grainwright/domain';
import { closeSealDays, openEvidencePack, openEvidencePdf } from '@grainwright/operations';
import exifr from 'exifr';
import { beforeAll, expect, onTestFinished, test, vi } from 'vitest';
import { verifyEvidenceCommand } from '../apps/cli/src/verify-evidence.ts';
import { readPdf } from '../packages/documents/src/pdf/read-pdf.ts';
import {
  acceptedWithPlace,
  archivedIn,
  faultsOf,
  insidersSeed,
  jsonIn,
  packOf,
  place,
  reportOf,
  type Unpacked,
  unpacked,
} from './support/evidence-desk.ts';
import { desk, expectText, expectWellMade, openBrowser, phone } from './support/in-browser.ts';
import { runJobs } from './support/run-jobs.ts';
import { forged, tamperings } from './support/tamperings.ts';
import { openWeb } from './support/web.ts';
import { writtenUpLine } from './support/work-in-hand.ts';
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
let id: WorkOrderId;
/** Asked for before the seals were put, and before their day was over. */
let tooEarly: Awaited<ReturnType<typeof openEvidencePack>>;
let sameDay: Buffer;
/** What the business has, and its customer. */
let office: Buffer;
let own: Buffer;

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
  installer = await anAccount(business, { limit: null });
  id = (await acceptedWithPlace(installer)).workOrderId;
  tooEarly = await openEvidencePack(world.services, installer.viewer, id);
  await runJobs(world);
  sameDay = await packOf(world, business.office, id);
  world.at('2026-08-07T09:00');
  must(await closeSealDays(world.services, business.tenantId));
  office = await packOf(world, business.technician, id);
  own = await packOf(world, installer.viewer, id);
});

const sha256 = (bytes: Uint8Array) => createHash('sha256').update(bytes).digest('hex');
const pictures = ['photos/01-before.jpg', 'photos/02-after-heat.jpg', 'photos/03-after.jpg'] as const;

test('before the seals are put the answer says so, and nothing is packed', () => {
  expect(tooEarly).toMatchObject({ ok: false, problem: { code: 'unavailable' } });
  expect(tooEarly).toMatchObject({ problem: { detail: expect.stringContaining('being sealed') } });
});

test('there is nothing to prove of a work order that nobody has answered', async () => {
  const { workOrderId } = await writtenUpLine(installer);
  const refused = { ok: false, problem: { code: 'wrong_state' } };
  expect(await openEvidencePack(world.services, business.office, workOrderId)).toMatchObject(refused);
  expect(await openEvidencePdf(world.services, business.office, workOrderId)).toMatchObject(refused);
});

test('before its day is over a pack holds, and says that no root holds its seals yet', async () => {
  const report = await reportOf(sameDay);
  expect(faultsOf(report)).toEqual([]);
  expect(report.checks).toContainEqual(
    expect.objectContaining({ about: 'days', result: 'note', sentence: expect.stringContaining('so new') }),
  );
});

test('the business has the originals, its customer the same pictures without a place', async () => {
  for (const pack of [office, own])
    expect(Object.keys(unpacked(pack))).toEqual([
      'evidence.pdf',
      ...pictures,
      'seals/000001.json',
      'seals/000002.json',
      'days/2026-08-05.json',
      'keys.json',
      'manifest.json',
      'manifest.signature.json',
    ]);
  // The position is there where it belongs, or its absence below would prove nothing.
  const gps = await exifr.gps(Buffer.from(unpacked(office)[pictures[2]] ?? []));
  const [degrees, minutes, seconds] = place.latitude;
  expect(gps.latitude).toBeCloseTo(degrees + minutes / 60 + seconds / 3600, 6);
  for (const trace of ['Exif', 'GPS', 'Example Cameras', 'Pocket 9', '2026:08:05'])
    expect([trace, office.includes(trace) || trace === 'GPS', own.includes(trace)]).toEqual([
      trace,
      true,
      false,
    ]);
  for (const name of pictures)
    expect(await exifr.gps(Buffer.from(unpacked(own)[name] ?? []))).toBeUndefined();
});

test('both hold, and the same seals prove every picture of both', async () => {
  for (const pack of [office, own]) {
    const report = await reportOf(pack);
    expect(faultsOf(report)).toEqual([]);
    expect(report.checks.map(({ sentence }) => sentence)).toContain(
      'All 3 pictures are, byte for byte, those that were sealed.',
    );
  }
});

test('the same records make the same pack, byte for byte, on another day as well', async () => {
  world.at('2026-09-30T17:00');
  expect(sha256(await packOf(world, installer.approver, id))).toBe(sha256(own));
});

test('nobody has the evidence of another account’s work', async () => {
  const other = await anAccount(business);
  const refused = { ok: false, problem: { code: 'not_found' } };
  expect(await openEvidencePack(world.services, other.approver, id)).toMatchObject(refused);
  expect(await openEvidencePdf(world.services, other.approver, id)).toMatchObject(refused);
});

test.each(tamperings)('$what is found, and named', async ({ does, said }) => {
  const insider = await insidersSeed(world, business.tenantId);
  const words = faultsOf(await reportOf(does(own, insider))).join('\n');
  for (const each of said) expect(words).toContain(each);
});

test('a pack that was cut off is named as such, wherever it was cut', async () => {
  for (const share of [0.1, 0.5, 0.9, 0.9999])
    await expect(archivedIn(own.subarray(0, Math.floor(own.length * share)))).rejects.toThrow(
      'Its end is missing',
    );
});

test('one that somebody else signed from end to end holds together, and falls by what was printed elsewhere', async () => {
  const pack = forged(own, new Uint8Array(32));
  const alone = await reportOf(pack);
  expect(faultsOf(alone)).toEqual([]);
  expect(alone.checks.at(-1)).toMatchObject({
    result: 'note',
    sentence: expect.stringContaining('No archive can prove'),
  });
  const printed = {
    day: sha256(Buffer.from(jsonIn(unpacked(own), 'days/2026-08-05.json').text)),
    keyId: jsonIn(unpacked(own), 'manifest.json').key,
  };
  expect(faultsOf(await reportOf(own, printed))).toEqual([]);
  expect(faultsOf(await reportOf(pack, printed))).toEqual([
    expect.stringContaining('not by the key that you compared it with'),
    expect.stringContaining('of none of the sealed days in this pack'),
  ]);
});

test('OpenSSL’s Ed25519 and SHA-256, without a line of ours, come to the same', () => {
  const files = unpacked(own);
  const keys = new Map<string, string>(
    jsonIn(files, 'keys.json').keys.map((key: Record<string, string>) => [key.id, key.publicKey]),
  );
  const isSigned = (text: string, signature: string, keyId: string) =>
    verify(null, Buffer.from(text), spki(keys.get(keyId) ?? ''), Buffer.from(signature, 'hex'));
  const manifest = Buffer.from(files['manifest.json'] ?? []).toString();
  const { key, signature } = jsonIn(files, 'manifest.signature.json');
  expect(isSigned(manifest, signature, key)).toBe(true);
  for (const { name, sha256: digest } of JSON.parse(manifest).files)
    expect([name, sha256(files[name] ?? Buffer.alloc(0))]).toEqual([name, digest]);
  for (const name of ['seals/000001.json', 'seals/000002.json', 'days/2026-08-05.json']) {
    const record = jsonIn(files, name);
    const said = JSON.parse(record.text);
    expect([name, isSigned(record.text, record.signature, said.key)]).toEqual([name, true]);
    if (record.content !== undefined) expect(sha256(Buffer.from(record.content))).toBe(said.content);
  }
  expect(rootBy(files)).toBe(JSON.parse(jsonIn(files, 'days/2026-08-05.json').text).root);
});

/** RFC 8410 section 4: a raw Ed25519 key as OpenSSL takes it. */
function spki(raw: string) {
  const der = Buffer.concat([Buffer.from('302a300506032b6570032100', 'hex'), Buffer.from(raw, 'hex')]);
  return createPublicKey({ key: der, format: 'der', type: 'spki' });
}

/** RFC 9162 section 2.1.3.2, step by step as it is written there, for the pack’s first seal. */
function rootBy(files: Unpacked): string {
  const day = jsonIn(files, 'days/2026-08-05.json');
  const { size } = JSON.parse(day.text);
  let [fn, sn] = [0, size - 1];
  let r = sha256(Buffer.concat([Buffer.from([0]), Buffer.from(jsonIn(files, 'seals/000001.json').text)]));
  const node = (left: string, right: string) =>
    sha256(Buffer.concat([Buffer.from([1]), Buffer.from(left, 'hex'), Buffer.from(right, 'hex')]));
  for (const p of day.proofs.find(({ number }: { number: number }) => number === 1).proof) {
    if (fn % 2 === 1 || fn === sn) {
      r = node(p, r);
      while (fn % 2 === 0 && fn !== 0) [fn, sn] = [fn >> 1, sn >> 1];
    } else r = node(r, p);
    [fn, sn] = [fn >> 1, sn >> 1];
  }
  return r;
}

test('every record in a pack is the one text that its value has', () => {
  for (const [name, bytes] of Object.entries(unpacked(own)).filter(([each]) => each.endsWith('.json'))) {
    const text = Buffer.from(bytes).toString();
    expect([name, canonicalJson(JSON.parse(text))]).toEqual([name, text]);
  }
});

// VC-M at the trade tier: 165.75, trip 45.00, tax 1.24 in tax area A; see tests/acceptance.test.ts.
test('the document tells the damage, the price, who approved and who accepted, with the digests', async () => {
  const pdf = must(await openEvidencePdf(world.services, installer.payer, id));
  const files = unpacked(own);
  expect(new Uint8Array(pdf.body)).toEqual(files['evidence.pdf']);
  const { heard, pages } = await readPdf(pdf.body);
  const words = heard.join('\n');
  for (const expected of [
    'Quillfeather Interior Repair',
    'Brackwater Glass & Screen',
    'Cut or tear, tailgate lining',
    '2.2 in',
    'Steps: cold graining.',
    'Kept all the same.',
    '$165.75',
    '$45.00',
    '$211.99',
    'No quote for a new part is on record.',
    'Ansel Corvin',
    'Accepted with a remark.',
    'A faint edge in low sun.',
    'Orrin Vasek, vehicle’s owner',
    'Aug 5, 2026, 9:41 AM by the camera',
    sha256(unpacked(office)[pictures[2]] ?? Buffer.alloc(0)),
    JSON.parse(jsonIn(files, 'days/2026-08-05.json').text).root,
  ])
    expect(words).toContain(expected);
  expect(pages.length).toBeLessThanOrEqual(2);
  // The staff's reason stays with the staff.
  expect(words).not.toContain('The lamp was out.');
  const staffs = await readPdf(Buffer.from(unpacked(office)['evidence.pdf'] ?? []));
  expect(staffs.heard.join('\n')).toContain('Kept, because: The lamp was out.');
});

const main = fileURLToPath(new URL('../apps/cli/src/main.ts', import.meta.url));

async function kept(name: string, bytes: Uint8Array): Promise<string> {
  const path = join(world.objects.temporaryDirectory, name);
  await writeFile(path, bytes);
  return path;
}

test('the command works without any setting, answers 0 and tells a line for each check', async () => {
  const good = await kept('WO-1001-evidence.zip', own);
  const day = sha256(Buffer.from(jsonIn(unpacked(own), 'days/2026-08-05.json').text));
  const env = { PATH: process.env.PATH };
  const args = [main, 'evidence', 'verify', good, '--day', day];
  const held = spawnSync(process.execPath, args, { encoding: 'utf8', env });
  expect([held.status, held.stderr]).toEqual([0, '']);
  for (const words of [
    'by Quillfeather Interior Repair for Brackwater Glass & Screen',
    'holds  The files: All 8 files are there',
    'holds  What you compared it with: The digest that you compared it with is that of 2026-08-05',
    `${good} holds`,
  ])
    expect(held.stdout).toContain(words);
});

test('whoever stops reading along ends the command without a word', async () => {
  const good = await kept('WO-1001-evidence.zip', own);
  const piped = spawnSync(
    'sh',
    ['-c', '"$0" "$@" | true', process.execPath, main, 'evidence', 'verify', good],
    {
      encoding: 'utf8',
      env: { PATH: process.env.PATH },
    },
  );
  expect([piped.status, piped.stdout, piped.stderr]).toEqual([0, '', '']);
});

test('of a pack that was changed the command answers 1 and names the fault; of one that was cut off, that', async () => {
  const told = vi.spyOn(process.stdout, 'write').mockReturnValue(true);
  onTestFinished(() => told.mockRestore());
  const signer = tamperings.find(({ what }) => what === 'the signer’s name');
  const bad = await kept('bad.zip', signer?.does(own, new Uint8Array(32)) ?? own);
  expect(await verifyEvidenceCommand([bad])).toEqual({ ok: true, value: 1 });
  const words = told.mock.calls.flat().join('');
  expect(words).toContain('FAILS  The seals: Seal 2 (acceptance): “Signer” reads “Milo Fenwright”');
  const refused = { ok: false, problem: { detail: expect.stringContaining('Its end is missing') } };
  expect(await verifyEvidenceCommand([await kept('cut.zip', own.subarray(0, 9_000))])).toMatchObject(refused);
});

test('each side downloads its own from its pages, and the page that checks it sends nothing', async () => {
  const web = await openWeb(world);
  const site = await openBrowser(web);
  const page = await site.signedIn(installer.emailOf('payer'), business.password, desk);
  await page.goto(`${site.address}/account/work-orders/${id}`);
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('link', { name: 'Evidence pack, ZIP' }).click(),
  ]);
  expect(download.suggestedFilename()).toBe('WO-1001-evidence.zip');
  const path = await download.path();
  const office = await web.signInByPage(business.emailOf('office'), business.password);
  const area = `/office/work-orders/${id}`;
  expect((await office.get(area)).body).toContain(`href="${area}/evidence.pdf"`);
  expect((await office.get(`${area}/evidence.pdf`)).headers['content-type']).toBe('application/pdf');

  const visitor = await site.visiting(phone);
  await visitor.goto(`${site.address}/verify`);
  await expectWellMade(visitor, 'verify-empty');
  const sent: string[] = [];
  visitor.on('request', (request) => sent.push(request.url()));
  await visitor.getByLabel('Evidence pack').setInputFiles(path);
  await expectText(visitor, 'This pack holds together', 'All 3 pictures are, byte for byte', 'Orrin Vasek');
  await expectWellMade(visitor, 'verify-holds');
  await visitor.getByLabel('Digest of a sealed day').fill('0'.repeat(64));
  await visitor.keyboard.press('Tab');
  await expectText(
    visitor,
    'This pack holds by itself, but not against what you compared it with',
    'not the pack that this value was printed for',
  );
  const price = tamperings.find(({ what }) => what === 'a price');
  await visitor.getByLabel('Digest of a sealed day').fill('');
  const changed = await kept('changed.zip', price?.does(own, new Uint8Array(32)) ?? own);
  await visitor.getByLabel('Evidence pack').setInputFiles(changed);
  await expectText(visitor, '“Total” reads “$911.99”; when the pack was signed it was “$211.99”');
  await expectWellMade(visitor, 'verify-falls');
  expect(sent).toEqual([]);
});
