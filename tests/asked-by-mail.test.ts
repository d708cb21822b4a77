import { askForApproval, endContact, orderApprovers, readWorkOrder } from '@grainwright/operations';
import { expect, test } from 'vitest';
import { anotherApprover, askedEstimate } from './support/asked-estimates.ts';
import { lotDesk, scuff, twoLines } from './support/lot-desk.ts';
import { linkMailedTo } from './support/mailed-links.ts';
import { runJobs } from './support/run-jobs.ts';
import { must } from './support/world.ts';

const { desk } = lotDesk();

test('whoever answers gets a copy of their answer, and the others who were asked need not open theirs', async () => {
  const { world, business, aLot, newEmail, mailsTo, answeredBy } = desk();
  const lot = await aLot('50.00');
  const manager = { name: 'Ottilie Crane', email: newEmail('ottilie'), limit: '900.00' };
  await anotherApprover(lot, manager);
  const asked = await askedEstimate(lot, scuff);
  await runJobs(world);
  const path = await linkMailedTo(business, manager.email);
  await answeredBy(path, asked);
  await runJobs(world);
  await runJobs(world);
  const copies = (await mailsTo(manager.email)).filter(({ kind }) => kind === 'answer_copy');
  expect(copies.map(({ subject }) => subject)).toEqual(['Your answer: 2025 Ostra Vela, gray']);
  expect(copies[0]?.text).toContain('- yes: Scuff or scrape, front door panel: $79.75');
  const told = (await mailsTo(lot.emailOf('approver'))).filter(({ kind }) => kind === 'answer_copy');
  expect(told.map(({ text }) => text.includes('Ottilie Crane answered'))).toEqual([true]);
});

test('whoever has left the account hears of no answer, not even of their own', async () => {
  const { world, business, aLot, newEmail, mailsTo, answeredBy } = desk();
  const lot = await aLot('50.00');
  const manager = { name: 'Ottilie Crane', email: newEmail('ottilie'), limit: '900.00' };
  const { personId } = await anotherApprover(lot, manager);
  const leaves = async (person: typeof personId) =>
    must(await endContact(world.services, business.owner, { accountId: lot.id, personId: person }));
  const copiesTo = async (email: string) =>
    (await mailsTo(email)).filter(({ kind }) => kind === 'answer_copy').length;
  const asked = await askedEstimate(lot, scuff);
  await runJobs(world);
  await leaves(lot.approver.personId);
  await answeredBy(await linkMailedTo(business, manager.email), asked);
  await runJobs(world);
  expect([await copiesTo(lot.emailOf('approver')), await copiesTo(manager.email)]).toEqual([0, 1]);
  // Another visit.
  world.at('2026-10-08T09:00');
  const later = await askedEstimate(lot, scuff);
  await runJobs(world);
  await answeredBy(await linkMailedTo(business, manager.email), later);
  await leaves(personId);
  await runJobs(world);
  expect(await copiesTo(manager.email)).toBe(1);
});

test('above the first one’s limit the next is asked as well, and mails, pages and the path say so', async () => {
  const { world, business, aLot, newEmail, mailsTo } = desk();
  const lot = await aLot('50.00');
  const manager = { name: 'Thea Lindqvist', email: newEmail('thea'), limit: '900.00' };
  await anotherApprover(lot, manager);
  const asked = await askedEstimate(lot, scuff);
  await runJobs(world);
  const [first] = await mailsTo(lot.emailOf('approver'));
  expect(first?.text).toContain('$79.75, above your limit of $50.00. Thea Lindqvist was asked too.');
  const [second] = await mailsTo(manager.email);
  expect(second?.text).toContain('above the limit of Ansel Corvin, $50.00');
  const { steps, asking } = must(await readWorkOrder(world.services, business.office, asked.workOrderId));
  expect(steps.map(({ event, note }) => [event, note])).toContainEqual([
    'asked',
    'Ansel Corvin was asked by e-mail. $79.75 is above the limit of $50.00, so Thea Lindqvist was asked as well.',
  ]);
  expect(asking.asks.map(({ personName, why }) => [personName, why]).toSorted()).toEqual([
    ['Ansel Corvin', 'first'],
    ['Thea Lindqvist', 'above_limit'],
  ]);
  expect(asking.nobody).toBeNull();
});

test('several vehicles of one visit are one mail, asked once however often the job runs', async () => {
  const { world, business, aLot, mailsTo } = desk();
  const lot = await aLot();
  const asked = [
    await askedEstimate(lot, scuff),
    await askedEstimate(lot, scuff),
    await askedEstimate(lot, twoLines),
  ];
  await runJobs(world);
  for (const { versionId } of asked)
    must(await askForApproval(world.services, { tenantId: business.tenantId, versionId }));
  await runJobs(world);
  const mails = await mailsTo(lot.emailOf('approver'));
  expect(mails.map(({ subject }) => subject)).toEqual(['3 vehicles wait for your answer']);
});

test('what was answered meanwhile is not asked, nor what has expired', async () => {
  const { world, business, aLot, mailsTo } = desk();
  const lot = await aLot();
  const asked = await askedEstimate(lot, scuff);
  world.at('2026-12-24T09:00');
  must(await askForApproval(world.services, { tenantId: business.tenantId, versionId: asked.versionId }));
  await runJobs(world);
  expect(await mailsTo(lot.emailOf('approver'))).toEqual([]);
});

test('an account of which nobody can be mailed says so at the desk', async () => {
  const { world, business, aLot, newEmail } = desk();
  const lot = await aLot();
  must(
    await endContact(world.services, business.owner, { accountId: lot.id, personId: lot.approver.personId }),
  );
  await anotherApprover(lot, {
    name: 'Nobody Online',
    email: newEmail('nobody'),
    limit: null,
  });
  const { asking } = must(
    await readWorkOrder(world.services, business.office, (await askedEstimate(lot, scuff)).workOrderId),
  );
  expect(asking.nobody).toBeNull();
  const silent = await aLot('10.00');
  const { workOrderId } = await askedEstimate(silent, scuff);
  expect(must(await readWorkOrder(world.services, business.office, workOrderId)).asking.nobody).toContain(
    'who can be mailed may approve $79.75',
  );
});

test('the account’s order says who is asked first', async () => {
  const { world, business, aLot, newEmail, mailsTo } = desk();
  const lot = await aLot();
  const second = { name: 'Juniper Vale', email: newEmail('juniper'), limit: '400.00' };
  const { personId } = await anotherApprover(lot, second);
  const order = { accountId: lot.id, personIds: [personId, lot.approver.personId] };
  must(await orderApprovers(world.services, business.owner, order));
  const lacking = await orderApprovers(world.services, business.owner, { ...order, personIds: [personId] });
  expect(lacking).toMatchObject({ ok: false, problem: { code: 'invalid_input' } });
  await askedEstimate(lot, scuff);
  await runJobs(world);
  expect((await mailsTo(second.email)).length).toBe(1);
  expect(await mailsTo(lot.emailOf('approver'))).toEqual([]);
});
