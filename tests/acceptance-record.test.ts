import { createHash } from 'node:crypto';
import {
  type AcceptanceCopyId,
  type AcceptanceId,
  type AccessLinkId,
  instant,
  type MissingSignatureId,
  standardAcceptanceWording,
  standardConsentWording,
  toId,
  type VisitSignatureId,
} from '@grainwright/domain';
import {
  type AcceptWorkInput,
  acceptVisit,
  acceptWork,
  giveCopy,
  readWorkOrder,
  recordNoAcceptance,
  revokeLink,
  showAcceptance,
  showVisitAcceptance,
} from '@grainwright/operations';
import { beforeAll, beforeEach, expect, test } from 'vitest';
import { recordsAnswer } from '../apps/web/src/api/acceptance/record-schemas.ts';
import { keptMails } from './support/mailed-links.ts';
import { accepted, fieldOf, type OwnerDesk, ownerDesk } from './support/owner-desk.ts';
import { runJobs } from './support/run-jobs.ts';
import { finishedLine, photographed, type WorkInHand } from './support/work-in-hand.ts';
import { anAccount, must } from './support/world.ts';

/**
 * What a signature on a screen stands on. The list of what has to be on record follows 15 USC 7001 and UETA sections 7 to
 * 12, which ask for intent, consent to do it on a screen, attribution, and a record that can be kept and reproduced.
 */

let desk: OwnerDesk;

beforeAll(async () => {
  desk = await ownerDesk();
});
beforeEach(() => desk.world.at('2026-08-05T09:00'));

const strokes = [
  [
    { x: 10, y: 20, t: 0 },
    { x: 60, y: 44, t: 40 },
  ],
];

async function answerTo(work: WorkInHand, change: Partial<AcceptWorkInput> = {}): Promise<AcceptWorkInput> {
  const { world, business } = desk;
  const { digest } = must(await showAcceptance(world.services, business.technician, work.workOrderId));
  return {
    acceptanceId: world.newId<AcceptanceId>(),
    workOrderId: work.workOrderId,
    shownDigest: digest,
    outcome: 'accepted',
    remark: '',
    signerName: 'Orrin Vasek',
    signerRole: 'vehicle_owner',
    mark: { kind: 'drawn', strokes },
    overrideReason: '',
    device: 'a phone of the shop',
    ...change,
  };
}

const technicianAt = (fromAddress: string) => ({ ...desk.business.technician, fromAddress });

async function signed(work: WorkInHand, change: Partial<AcceptWorkInput> = {}): Promise<AcceptWorkInput> {
  const input = await answerTo(work, change);
  must(await acceptWork(desk.world.services, technicianAt('192.0.2.7'), input));
  return input;
}

/** As whoever automates the product reads it. */
async function recordsOf({ workOrderId }: WorkInHand) {
  const { web, business } = desk;
  const headers = await web.signIn(business.emailOf('office'), business.password);
  const reply = await web.app.inject({
    method: 'GET',
    url: `/api/v1/work-orders/${workOrderId}/acceptances`,
    headers,
  });
  expect(reply.statusCode).toBe(200);
  return recordsAnswer.parse(reply.json()).acceptances;
}

const isDigest = expect.stringMatching(/^[0-9a-f]{64}$/);

/** What is on record of every new answer, however it was given. */
const onRecord = {
  document: {
    sha256: isDigest,
    format: 'acceptance-shown-2',
    version: expect.stringMatching(/^[0-9a-f-]{36}$/),
  },
  intent: { version: '1', text: standardAcceptanceWording.text },
  consent: { version: '1', text: standardConsentWording.text },
  accepted_at: expect.stringMatching(/^2026-08-05T\d\d:\d\d:\d\d(\.\d+)?Z$/),
  seal: { number: expect.any(Number), sha256: isDigest },
};

test('every field that a signature on a screen stands on is on record: in person, for a visit, and by a link', async () => {
  const { world, business, installer } = desk;
  const inPerson = await finishedLine(installer);
  const contact = { signerEmail: 'orrin.vasek@example.com', signerPhone: '212-555-0142' };
  const copy = {
    id: world.newId<AcceptanceCopyId>(),
    channel: 'mail',
    address: 'orrin.vasek@example.com',
  } as const;
  const said = { ...contact, copy, answeredAt: instant('2026-08-05T08:58:00-05:00') };
  const drawn = await signed(inPerson, said);

  const lot = await anAccount(business, {
    acceptanceRule: 'account_representative',
    photoRule: 'lot',
    limit: null,
  });
  const ofVisit = await finishedLine(lot);
  const visitId = must(await readWorkOrder(world.services, business.technician, ofVisit.workOrderId)).visit
    .id;
  const visit = must(await showVisitAcceptance(world.services, business.technician, visitId));
  const typed = {
    id: world.newId<VisitSignatureId>(),
    visitId,
    workOrders: visit.vehicles.map(({ workOrder, digest }) => ({
      workOrderId: workOrder.id,
      shownDigest: digest,
    })),
    outcome: 'accepted',
    remark: '',
    signerName: 'Ravi  Stellmacher',
    signerRole: 'account_representative',
    mark: { kind: 'typed', name: 'ravi stellmacher', confirmed: true },
    overrideReason: '',
    device: 'a phone of the shop',
    copy: { id: world.newId<AcceptanceCopyId>(), channel: 'declined', address: '' },
  } as const;
  must(await acceptVisit(world.services, technicianAt('192.0.2.8'), typed));

  const { work: byLink, asked, path } = await desk.askedOwner({ email: 'orrin.vasek@example.com' });
  await desk.answer(path);
  await runJobs(world);

  const [first] = await recordsOf(inPerson);
  expect(first).toMatchObject({
    ...onRecord,
    document: { ...onRecord.document, sha256: drawn.shownDigest },
    tenant_id: business.tenantId,
    account: { id: installer.id, name: 'Brackwater Glass & Screen' },
    signer: {
      name: 'Orrin Vasek',
      role: 'vehicle_owner',
      email: contact.signerEmail,
      phone: contact.signerPhone,
    },
    identified_by: 'in person, on the technician’s phone',
    action: { kind: 'drawn', strokes, picture_sha256: isDigest },
    answered_at: '2026-08-05T13:58:00Z',
    from_address: '192.0.2.7',
    device: 'a phone of the shop',
    copies: [
      { channel: 'mail', address: 'orrin.vasek@example.com', given_at: first?.accepted_at, mail: 'kept' },
    ],
    // The business’s 365 days, to the end of the last one in Chicago.
    readable_until: '2027-08-06T05:00:00Z',
  });
  const [second] = await recordsOf(ofVisit);
  expect(second).toMatchObject({
    ...onRecord,
    account: { id: lot.id, name: 'Brackwater Glass & Screen' },
    signer: { name: 'Ravi Stellmacher', role: 'account_representative', email: '', phone: '' },
    identified_by: 'in person, on the technician’s phone',
    action: { kind: 'typed', name: 'ravi stellmacher' },
    from_address: '192.0.2.8',
    visit_signature_id: typed.id,
    copies: [{ channel: 'declined', address: '', given_at: second?.accepted_at }],
    readable_until: null,
  });
  const [third] = await recordsOf(byLink);
  expect(third).toMatchObject({
    ...onRecord,
    signer: {
      name: 'Orrin Vasek',
      role: 'vehicle_owner',
      email: 'orrin.vasek@example.com',
      phone: '212-555-0142',
    },
    identified_by:
      'link mailed to orrin.vasek@example.com, given to Tobias Wrenfield to pass on to 212-555-0142',
    action: { kind: 'typed', name: 'Orrin Vasek' },
    from_address: '127.0.0.1',
    device: 'an owner’s phone',
    link_id: asked.linkId,
    copies: [
      { channel: 'link', address: '', given_at: third?.accepted_at, mail: null },
      { channel: 'mail', address: 'orrin.vasek@example.com', mail: 'kept' },
    ],
  });
  // The digest is of exactly what is told as shown, by another program’s canonical text: the stored one.
  for (const record of [first, second, third]) {
    const [row] = await desk.admin`select shown from acceptances where id = ${record?.id ?? ''}`;
    expect(createHash('sha256').update(String(row?.shown)).digest('hex')).toBe(record?.document.sha256);
    expect(JSON.parse(String(row?.shown))).toEqual(record?.document.shown);
    const number = record?.seal?.number ?? 0;
    const [before] = await desk.admin`select sha256 from seals
      where tenant_id = ${business.tenantId} and number = ${number - 1}`;
    expect([number, record?.seal?.previous]).toEqual([number, before?.sha256 ?? null]);
  }
});

test('the drawn signature is a picture under its digest, for the business and the account and nobody else', async () => {
  const { web, business, installer } = desk;
  const { acceptanceId } = await signed(await finishedLine(installer));
  const [row] = await desk.admin`select signature_sha256 from acceptances where id = ${acceptanceId}`;
  const see = async (email: string) => {
    const browsing = await web.signInByPage(email, business.password);
    return browsing.get(`/signatures/${acceptanceId}`);
  };
  for (const email of [business.emailOf('office'), installer.emailOf('approver')]) {
    const picture = await see(email);
    expect(picture.headers['content-type']).toBe('image/png');
    expect(createHash('sha256').update(picture.rawPayload).digest('hex')).toBe(row?.signature_sha256);
  }
  const other = await anAccount(business, { limit: null });
  expect((await see(other.emailOf('approver'))).statusCode).toBe(404);
});

test('how to reach the signer is not the payer’s to read, whatever their pages ask for', async () => {
  const { installer, admin } = desk;
  await signed(await finishedLine(installer), { signerEmail: 'orrin.vasek@example.com' });
  const readable = await admin`select column_name from information_schema.column_privileges
    where grantee = 'grainwright_account' and table_name = 'acceptances' and privilege_type = 'SELECT'`;
  const names = readable.map(({ column_name }) => column_name);
  expect(names).toContain('signature_sha256');
  for (const hidden of ['signer_email', 'signer_phone', 'from_address', 'device'])
    expect(names).not.toContain(hidden);
});

test('at the vehicle the signer says where the copy goes; sent twice it is one copy, and nothing else under its id', async () => {
  const { world, business, installer } = desk;
  const work = await finishedLine(installer);
  const { acceptanceId } = await signed(work);
  const by = await desk.web.signInByPage(business.emailOf('technician'), business.password);
  const path = `/field/work-orders/${work.workOrderId}/acceptance/${acceptanceId}`;
  const page = await by.get(path);
  expect(page.body).toContain('Where shall the copy go?');
  const fields = {
    copy_id: fieldOf(page.body, 'copy_id'),
    channel: 'mail',
    copy_email: 'orrin.vasek',
    copy_phone: '',
  };
  const back = await by.post(`${path}/copy`, fields);
  expect([back.statusCode, back.body.includes('is not an e-mail address')]).toEqual([422, true]);
  expect(back.body).toContain('value="orrin.vasek"');
  const right = { ...fields, copy_email: 'orrin.vasek@example.com' };
  for (const _twice of [1, 2]) expect((await by.post(`${path}/copy`, right)).statusCode).toBe(303);
  expect((await by.post(`${path}/copy`, { ...right, copy_email: 'other@example.com' })).statusCode).toBe(409);
  expect((await by.get(path)).body).toContain('By e-mail to orrin.vasek@example.com');
  const [record] = await recordsOf(work);
  expect(record?.copies).toHaveLength(1);
  const unwanted = { id: world.newId<AcceptanceCopyId>(), channel: 'declined', address: '' } as const;
  must(await giveCopy(world.services, business.technician, { ...work, acceptanceId, copy: unwanted }));
  expect((await recordsOf(work))[0]?.copies.map(({ channel }) => channel)).toEqual(['mail', 'declined']);
});

test('the link of a copy shows what was signed and its pictures, nothing newer, and opens until it ends or is taken back', async () => {
  const { world, business, installer } = desk;
  const work = await finishedLine(installer);
  const { acceptanceId } = await signed(work, { outcome: 'not_accepted', remark: 'the edge shows' });
  const later = await photographed(installer, work.workOrderId, work.lineId, 'after');
  await runJobs(world);
  const give = async () => {
    const copy = { id: world.newId<AcceptanceCopyId>(), channel: 'link', address: '212-555-0142' } as const;
    const { link } = must(
      await giveCopy(world.services, business.technician, { ...work, acceptanceId, copy }),
    );
    return { id: copy.id, path: new URL(link?.address ?? '').pathname };
  };
  const { path } = await give();
  const copy = await desk.get(path);
  for (const part of [
    'the edge shows',
    'Orrin Vasek, vehicle’s owner',
    'Cut or tear, tailgate lining',
    'passed on to 212-555-0142',
  ])
    expect(copy.body).toContain(part);
  expect(copy.body).not.toContain('$');
  expect(copy.body).not.toContain('<form');
  const shown = [...copy.body.matchAll(/src="(\/link\/[^"]+)"/g)].map(([, src = '']) => src);
  expect(shown).toHaveLength(3);
  for (const src of shown) expect((await desk.get(src)).statusCode).toBe(200);
  expect((await desk.get(`${path}/photos/${later}/view`)).statusCode).toBe(404);
  // It opens no other answer, and takes none.
  const other = await signed(await finishedLine(installer));
  expect((await desk.get(`${path}/signatures/${other.acceptanceId}`)).statusCode).toBe(404);
  expect(
    (await desk.send(path, { ...accepted, id: world.newId(), shown_digest: '0'.repeat(64) })).statusCode,
  ).toBe(404);
  const token = path.split('/').at(-1) ?? '';
  const read = await desk.web.app.inject({
    method: 'GET',
    url: '/api/v1/by-link/copy',
    headers: { authorization: `Bearer ${token}` },
  });
  expect(read.json()).toMatchObject({ answers: [{ answer: { id: acceptanceId, outcome: 'not_accepted' } }] });

  const second = await give();
  const inSecond = { workOrderId: work.workOrderId, linkId: toId<AccessLinkId>(second.id) };
  must(await revokeLink(world.services, business.technician, inSecond));
  expect((await desk.get(second.path)).statusCode).toBe(410);
  expect((await desk.get(path)).statusCode).toBe(200);
  world.at('2027-08-06T00:00');
  expect((await desk.get(path)).statusCode).toBe(410);
});

test('one copy of a signature over several vehicles has all of them, and their pictures', async () => {
  const { world, business } = desk;
  const lot = await anAccount(business, {
    acceptanceRule: 'account_representative',
    photoRule: 'lot',
    limit: null,
  });
  const works = [await finishedLine(lot), await finishedLine(lot)] as const;
  await runJobs(world);
  const visitId = must(await readWorkOrder(world.services, business.technician, works[0].workOrderId)).visit
    .id;
  const { vehicles } = must(await showVisitAcceptance(world.services, business.technician, visitId));
  const copy = { id: world.newId<AcceptanceCopyId>(), channel: 'mail', address: 'ravi@example.com' } as const;
  const done = must(
    await acceptVisit(world.services, business.technician, {
      id: world.newId<VisitSignatureId>(),
      visitId,
      workOrders: vehicles.map(({ workOrder, digest }) => ({
        workOrderId: workOrder.id,
        shownDigest: digest,
      })),
      outcome: 'accepted',
      remark: '',
      signerName: 'Ravi Stellmacher',
      signerRole: 'account_representative',
      mark: { kind: 'drawn', strokes },
      overrideReason: '',
      device: '',
      copy,
    }),
  );
  const mails = (await keptMails(business)).filter(({ to }) => to.includes('ravi@example.com'));
  expect(mails.map(({ subject }) => subject)).toEqual(['Your answer about 2 vehicles']);
  const path = new URL(done.copy?.link?.address ?? '').pathname;
  const page = await desk.get(path);
  const shown = [...page.body.matchAll(/src="(\/link\/[^"]+)"/g)].map(([, src = '']) => src);
  // Before, after and the signature of each.
  expect(shown).toHaveLength(6);
  for (const src of shown) expect((await desk.get(src)).statusCode).toBe(200);
});

test('after a no and a day when nobody was there, the second attempt stands beside them, in order, on every page', async () => {
  const { world, web, business, installer } = desk;
  const work = await finishedLine(installer);
  await signed(work, { outcome: 'not_accepted', remark: 'a faint edge in low sun' });
  world.at('2026-08-05T10:00');
  const absent = {
    id: world.newId<MissingSignatureId>(),
    workOrderId: work.workOrderId,
    why: 'absent',
  } as const;
  const seen = { reason: 'had left for work', witness: 'Bettina Quarles' };
  must(await recordNoAcceptance(world.services, business.technician, { ...absent, ...seen }));
  world.at('2026-08-05T11:00');
  await photographed(installer, work.workOrderId, work.lineId, 'after');
  await signed(work, { outcome: 'accepted_with_remark', remark: 'good from the seat' });
  const pages: readonly [string, string][] = [
    [business.emailOf('technician'), `/field/work-orders/${work.workOrderId}`],
    [business.emailOf('office'), `/office/work-orders/${work.workOrderId}`],
    [installer.emailOf('approver'), `/account/work-orders/${work.workOrderId}`],
  ];
  for (const [email, path] of pages) {
    const { body } = await (await web.signInByPage(email, business.password)).get(path);
    const attempts = body.slice(body.indexOf('Acceptance, in 3 attempts'));
    const order = [
      'a faint edge in low sun',
      'had left for work',
      'Seen by Bettina Quarles',
      'good from the seat',
    ];
    const places = order.map((part) => attempts.indexOf(part));
    expect([path, places.every((at) => at > 0), places.toSorted((a, b) => a - b)]).toEqual([
      path,
      true,
      places,
    ]);
  }
});
