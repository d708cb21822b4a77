import { createHash } from 'node:crypto';
import type { AccessLinkId, ApprovalAskId, VersionId } from '@grainwright/domain';
import {
  askAgain,
  endContact,
  listLinks,
  readDecisionRecord,
  readWorkOrder,
  reviseEstimate,
  revokeLink,
} from '@grainwright/operations';
import { expect, test } from 'vitest';
import { type AskedEstimate, askedEstimate } from './support/asked-estimates.ts';
import { type LotDesk, lotDesk, scuff, twoLines, vehiclePath } from './support/lot-desk.ts';
import { fieldsOfForm, linkMailedTo } from './support/mailed-links.ts';
import { runJobs } from './support/run-jobs.ts';
import { anAccount, must } from './support/world.ts';

const { desk } = lotDesk();

test('the first approver gets one mail that says what, how much, who asks and until when, and its link answers it', async () => {
  const { world, business, holder, aLot, stateOf, mailsTo, previewed } = desk();
  const lot = await aLot();
  const asked = await askedEstimate(lot, twoLines, { ownNumber: 'PL-255', replacement: '900.00' });
  await runJobs(world);
  const [mail, ...others] = await mailsTo(lot.emailOf('approver'));
  expect(others).toEqual([]);
  expect(mail?.subject).toContain('2025 Ostra Vela, gray (stock number PL-255)');
  for (const words of [
    '$233.75',
    '$71.78',
    '$305.53',
    '$900.00',
    'Opening it changes nothing',
    'Nov 5, 2026',
  ])
    expect(mail?.text).toContain(words);

  const path = await linkMailedTo(business, lot.emailOf('approver'));
  const page = await holder.get(path);
  expect(page.statusCode).toBe(200);
  expect(page.headers['set-cookie']).toBeUndefined();
  expect(page.body).toMatch(/What it is[\s\S]*What it looks like[\s\S]*How much[\s\S]*Yes or no/);
  expect(page.body).toContain('$594.47');

  const preview = await previewed(path, asked, [0]);
  expect(preview.body).toContain('1 of 2 lines approved');
  expect(preview.body).toContain('$79.75');
  const action = `${vehiclePath(path, asked)}/decision`;
  const answered = await holder.post(action, { ...fieldsOfForm(preview.body, action), choice: 'as_shown' });
  expect([answered.statusCode, answered.headers.location]).toEqual([303, vehiclePath(path, asked)]);
  const after = await holder.get(vehiclePath(path, asked));
  expect(after.body).toContain('Answered: approved, $124.75');
  expect(await stateOf(lot, asked.workOrderId)).toBe('approved');
});

test('what somebody saw when they answered by a link stays on record, with its digest', async () => {
  const { world, business, holder, aLot, previewed } = desk();
  const lot = await aLot();
  const asked = await askedEstimate(lot, twoLines, { replacement: '900.00' });
  await runJobs(world);
  const path = await linkMailedTo(business, lot.emailOf('approver'));
  const preview = await previewed(path, asked, [0]);
  const action = `${vehiclePath(path, asked)}/decision`;
  await holder.post(action, { ...fieldsOfForm(preview.body, action), choice: 'as_shown' });
  const { decision } = must(await readWorkOrder(world.services, lot.viewer, asked.workOrderId));
  if (decision === null) throw new Error('it is not answered');
  const record = must(await readDecisionRecord(world.services, lot.viewer, decision.id));
  expect(decision.given).toBe('by_link');
  expect(record.linkId).not.toBeNull();
  expect(JSON.parse(record.seen?.content ?? '')).toMatchObject({
    version: asked.versionId,
    digest: asked.digest,
    question: '1 of 2 lines approved: $124.75 instead of $305.53',
    total: '124.75',
    lines: [
      { offered: '233.75', answer: 'declined', reason: 'not worth it', price: null },
      { offered: '71.78', answer: 'approved', price: '79.75' },
    ],
    new_part: { quoted: '900.00', saved: '775.25' },
  });
  expect(record.seen?.digest).toBe(
    createHash('sha256')
      .update(record.seen?.content ?? '')
      .digest('hex'),
  );
});

test('one yes answers all vehicles within the limit, each by itself; one that changed meanwhile is told, the others stand', async () => {
  const { world, business, holder, aLot, stateOf } = desk();
  const lot = await aLot('250.00');
  const [stale, fresh, dear] = [
    await askedEstimate(lot, scuff),
    await askedEstimate(lot, scuff),
    await askedEstimate(lot, twoLines),
  ];
  await runJobs(world);
  const path = await linkMailedTo(business, lot.emailOf('approver'));
  const page = await holder.get(path);
  expect(page.body).toContain('3 vehicles wait for your answer');
  expect(page.body).toContain('Yes to 2 of 3 vehicles — $249.50');
  const fields = fieldsOfForm(page.body, `${path}/approvals`);
  await revised(desk(), stale);
  const answered = await holder.post(`${path}/approvals`, fields);
  expect(answered.body).toContain('1 of 2 vehicles approved');
  expect(answered.body).toContain('Version 2');
  expect(await stateOf(lot, fresh.workOrderId)).toBe('approved');
  expect(await stateOf(lot, stale.workOrderId)).toBe('awaiting_approval');
  expect(await stateOf(lot, dear.workOrderId)).toBe('awaiting_approval');
  const again = await holder.post(`${path}/approvals`, fields);
  expect(again.body).toContain('1 of 2 vehicles approved');
});

test('an estimate that changed while its page was open is not approved: what changed is told, and what was typed stays', async () => {
  const { world, business, holder, aLot, stateOf, previewed } = desk();
  const lot = await aLot();
  const asked = await askedEstimate(lot, twoLines);
  await runJobs(world);
  const path = await linkMailedTo(business, lot.emailOf('approver'));
  const preview = await previewed(path, asked, [0]);
  const action = `${vehiclePath(path, asked)}/decision`;
  await revised(desk(), asked);
  const late = await holder.post(action, { ...fieldsOfForm(preview.body, action), choice: 'as_shown' });
  expect(late.statusCode).toBe(409);
  expect(late.body).toContain('The estimate changed while you were reading');
  expect(late.body).toContain('value="not worth it"');
  expect(await stateOf(lot, asked.workOrderId)).toBe('awaiting_approval');
});

test('a second answer is told who was faster', async () => {
  const { world, business, holder, aLot, previewed, answeredBy } = desk();
  const lot = await aLot();
  const asked = await askedEstimate(lot, scuff);
  await runJobs(world);
  const path = await linkMailedTo(business, lot.emailOf('approver'));
  const preview = await previewed(path, asked);
  await answeredBy(path, asked);
  const action = `${vehiclePath(path, asked)}/decision`;
  const fields = { ...fieldsOfForm(preview.body, action), decision_id: world.newId() };
  const second = await holder.post(action, { ...fields, choice: 'as_shown' });
  expect(second.statusCode).toBe(409);
  expect(second.body).toContain('Somebody was faster');
  expect(second.body).toContain('Ansel Corvin answered this estimate');
});

test('a link opens until its estimate’s last day, is taken back at once, and goes with its contact', async () => {
  const { world, business, holder, aLot, mailsTo } = desk();
  const lot = await aLot();
  const asked = await askedEstimate(lot, scuff);
  await runJobs(world);
  const path = await linkMailedTo(business, lot.emailOf('approver'));
  world.at('2026-11-05T23:50');
  expect((await holder.get(path)).statusCode).toBe(200);
  world.at('2026-11-06T00:10');
  const expired = await holder.get(path);
  expect([expired.statusCode, expired.body.includes('This link was good through Nov 5, 2026')]).toEqual([
    410,
    true,
  ]);

  world.at('2026-10-07T09:00');
  const [link] = must(await listLinks(world.services, business.office, asked.workOrderId));
  const linkId = link?.id ?? world.newId<AccessLinkId>();
  must(await revokeLink(world.services, business.office, { workOrderId: asked.workOrderId, linkId }));
  const revokedPage = await holder.get(path);
  expect([revokedPage.statusCode, revokedPage.body.includes('taken back')]).toEqual([410, true]);

  const again = {
    askId: world.newId<ApprovalAskId>(),
    workOrderId: asked.workOrderId,
    personId: lot.approver.personId,
  };
  must(await askAgain(world.services, business.office, again));
  must(await askAgain(world.services, business.office, again));
  await runJobs(world);
  const second = await linkMailedTo(business, lot.emailOf('approver'));
  expect(second).not.toBe(path);
  expect((await mailsTo(lot.emailOf('approver'))).length).toBe(2);
  expect((await holder.get(second)).statusCode).toBe(200);
  must(
    await endContact(world.services, business.owner, { accountId: lot.id, personId: lot.approver.personId }),
  );
  expect((await holder.get(second)).statusCode).toBe(410);
  expect((await holder.get(`${second}/photos/${world.newId()}/view`)).statusCode).toBe(410);
});

test('what was typed into a form is given back where its link was taken back meanwhile', async () => {
  const { world, business, holder, aLot, stateOf, previewed } = desk();
  const lot = await aLot();
  const asked = await askedEstimate(lot, twoLines);
  await runJobs(world);
  const path = await linkMailedTo(business, lot.emailOf('approver'));
  const preview = await previewed(path, asked, [0]);
  const action = `${vehiclePath(path, asked)}/decision`;
  must(
    await endContact(world.services, business.owner, { accountId: lot.id, personId: lot.approver.personId }),
  );
  const late = await holder.post(action, { ...fieldsOfForm(preview.body, action), choice: 'as_shown' });
  expect(late.statusCode).toBe(410);
  expect(late.body).toContain('not worth it');
  expect(await stateOf(lot, asked.workOrderId)).toBe('awaiting_approval');
});

test('a link opens what its contact was asked about in that visit, and nothing else of anybody', async () => {
  const { world, business, holder, aLot } = desk();
  const lot = await aLot();
  const other = await aLot();
  const asked = await askedEstimate(lot, scuff);
  await runJobs(world);
  const path = await linkMailedTo(business, lot.emailOf('approver'));
  const foreign = await askedEstimate(other, scuff);
  world.at('2026-10-08T09:00');
  const otherVisit = await askedEstimate(lot, scuff);
  for (const { workOrderId, versionId, digest, lineIds } of [foreign, otherVisit]) {
    const address = `${path}/work-orders/${workOrderId}`;
    expect((await holder.get(address)).statusCode).toBe(404);
    const fields = { version_id: versionId, digest, lines: lineIds.join(','), total: '79.75' };
    const answers = Object.fromEntries(lineIds.map((id) => [`answer-${id}`, 'approved']));
    for (const what of ['preview', 'decision', 'passed-on', 'numbers'])
      expect((await holder.post(`${address}/${what}`, { ...fields, ...answers })).statusCode, what).toBe(404);
  }
  for (const elsewhere of ['/account', '/account/invoices', `/account/work-orders/${asked.workOrderId}`])
    expect((await holder.get(elsewhere)).statusCode).toBe(303);
  expect((await holder.get(`${path}x`)).statusCode).toBe(404);
  expect((await holder.get(`${path.slice(0, -1)}_`)).statusCode).toBe(404);
});

test('the page of a link asks for the numbers that the account wants, and takes them', async () => {
  const { world, business, holder } = desk();
  const lot = await anAccount(business, {
    shortName: 'NUMB',
    name: 'Halden of Numbers',
    tierCode: 'dealer',
    limit: '900.00',
    requiresRo: true,
  });
  const asked = await askedEstimate(lot, scuff);
  await runJobs(world);
  const path = await linkMailedTo(business, lot.emailOf('approver'));
  const action = `${vehiclePath(path, asked)}/numbers`;
  expect((await holder.get(path)).body).toContain('Repair order (RO) number');
  const refused = await holder.post(action, { ro_number: 'x'.repeat(80) });
  expect([refused.statusCode, refused.body.includes('x'.repeat(80))]).toEqual([422, true]);
  expect((await holder.post(action, { ro_number: '48213' })).statusCode).toBe(303);
  expect((await holder.get(path)).body).toContain('RO 48213');
});

/** A new version in place of the one that was sent. */
async function revised({ world, business }: LotDesk, { workOrderId }: AskedEstimate): Promise<void> {
  const versionId = world.newId<VersionId>();
  const nothing = { added: [], changed: [], removed: [] };
  must(await reviseEstimate(world.services, business.technician, { workOrderId, versionId, ...nothing }));
}
