import type { DecisionId, PassedOnId } from '@grainwright/domain';
import { decideEstimate, mailPassedOn, passOnAnswer, readWorkOrder } from '@grainwright/operations';
import { beforeAll, beforeEach, expect, test } from 'vitest';
import { type AskedEstimate, anotherApprover, answersTo, askedEstimate } from './support/asked-estimates.ts';
import {
  fieldsOfForm,
  keptMails,
  type LinkHolder,
  linkHolder,
  linkMailedTo,
} from './support/mailed-links.ts';
import { runJobs } from './support/run-jobs.ts';
import { openWeb, type Web } from './support/web.ts';
import { asAdministrator } from './support/work-in-hand.ts';
import {
  type Account,
  aBusiness,
  anAccount,
  type Business,
  must,
  openWorld,
  type World,
} from './support/world.ts';

// Figures of an invented job: common practice of the trade, no published source. Four lines of a customer's car after
// hours come to 651.57 and 162.89; without the dash to 486.57 and 121.64, together 608.21, and with tax to 612.59.

let world: World;
let web: Web;
let business: Business;
let holder: LinkHolder;

beforeAll(async () => {
  world = await openWorld();
  web = await openWeb(world);
  holder = linkHolder(web);
  business = await aBusiness(world);
});

beforeEach(() => world.at('2026-10-14T17:50'));

let dealers = 0;
async function aDealer(): Promise<Account> {
  dealers += 1;
  return anAccount(business, {
    shortName: `HD${dealers}`,
    name: `Halden of Tessaly ${dealers}`,
    kind: 'new_car_dealer',
    tierCode: 'dealer',
    limit: '400.00',
  });
}

const managerOf = (dealer: Account, limit: string | null = '1500.00') =>
  anotherApprover(dealer, { name: 'Aldous Merrin', email: business.emailOf(`aldous${dealers}`), limit });

const askedOf = (dealer: Account) =>
  askedEstimate(
    dealer,
    [
      { part: 'seat_cushion', rateCode: 'LT-L', factorCode: 'perf' },
      { part: 'dash', rateCode: 'DB-M' },
      { part: 'seat_bolster', rateCode: 'LW-P' },
      { part: 'front_door_panel', damage: 'scuff', rateCode: 'SC-S' },
    ],
    { afterHours: true },
  );

const withoutDash = (asked: AskedEstimate) => ({
  workOrderId: asked.workOrderId,
  versionId: asked.versionId,
  digest: asked.digest,
  answers: answersTo(asked, { 1: 'The dash goes back to the maker' }),
  total: '612.59',
});

test('three of four lines above the limit are passed on with their ticks, and whoever may approve them does', async () => {
  const dealer = await aDealer();
  await managerOf(dealer);
  const asked = await askedOf(dealer);
  await runJobs(world);
  const path = await linkMailedTo(business, dealer.emailOf('approver'));
  const address = `${path}/work-orders/${asked.workOrderId}`;
  const fields = fieldsOfForm((await holder.get(path)).body, `${address}/preview`);
  fields[`answer-${asked.lineIds[1]}`] = 'declined';
  fields[`reason-${asked.lineIds[1]}`] = 'The dash goes back to the maker';
  const preview = await holder.post(`${address}/preview`, fields);
  for (const words of ['Above the limit', '$208.21 more', 'Pass on to Aldous Merrin', '$612.59'])
    expect(preview.body).toContain(words);
  expect(preview.body).not.toContain('Approve — ');

  const passed = await holder.post(`${address}/passed-on`, fieldsOfForm(preview.body, `${address}/decision`));
  expect(passed.statusCode).toBe(303);
  const after = await holder.get(address);
  expect(after.body).toContain(
    'This comes to $608.21 before trip and tax, above your limit of $400.00. Aldous Merrin was asked by e-mail, with your ticks.',
  );
  await runJobs(world);
  const [mail] = (await keptMails(business)).filter(({ to }) =>
    to.includes(business.emailOf(`aldous${dealers}`)),
  );
  expect(mail?.text).toContain(
    'Ansel Corvin went through it: $608.21 before trip and tax is above the limit',
  );

  const managers = mail?.path ?? '';
  const page = await holder.get(managers);
  expect(page.body).toContain('It is yours to answer; the form starts with their ticks.');
  const started = fieldsOfForm(page.body, `${managers}/work-orders/${asked.workOrderId}/preview`);
  expect(started[`answer-${asked.lineIds[1]}`]).toBe('declined');
  expect(started[`reason-${asked.lineIds[1]}`]).toBe('The dash goes back to the maker');
  const total = await holder.post(`${managers}/work-orders/${asked.workOrderId}/preview`, started);
  expect(total.body).toContain('Approve — $612.59');
  const action = `${managers}/work-orders/${asked.workOrderId}/decision`;
  const answer = { ...fieldsOfForm(total.body, action), choice: 'as_shown' };
  expect((await holder.post(action, answer)).statusCode).toBe(303);
  const { decision, steps } = must(await readWorkOrder(world.services, business.office, asked.workOrderId));
  expect([decision?.decidedBy, decision?.totalMinor]).toEqual(['Aldous Merrin', 61259n]);
  expect(steps.map(({ event }) => event)).toContain('passed_on');
});

test('the plain answer above the limit stays refused, and passing on what is within it is, too', async () => {
  const dealer = await aDealer();
  await managerOf(dealer);
  const asked = await askedOf(dealer);
  const decided = await decideEstimate(world.services, dealer.approver, {
    ...withoutDash(asked),
    decisionId: world.newId<DecisionId>(),
  });
  expect(decided).toMatchObject({ ok: false, problem: { code: 'over_limit' } });
  const declined = {
    ...withoutDash(asked),
    answers: answersTo(asked, { 0: '', 1: '', 2: '', 3: '' }),
    total: '0',
  };
  const passed = await passOnAnswer(world.services, dealer.approver, {
    ...declined,
    passedOnId: world.newId<PassedOnId>(),
  });
  expect(passed).toMatchObject({ ok: false, problem: { code: 'wrong_state' } });
});

test('passing on is done once: again it says who answers now, and no further mail goes out', async () => {
  const dealer = await aDealer();
  await managerOf(dealer);
  const asked = await askedOf(dealer);
  await runJobs(world);
  const input = { ...withoutDash(asked), passedOnId: world.newId<PassedOnId>() };
  const first = must(await passOnAnswer(world.services, dealer.approver, input));
  expect(must(await passOnAnswer(world.services, dealer.approver, input))).toEqual(first);
  const again = await passOnAnswer(world.services, dealer.approver, {
    ...input,
    passedOnId: world.newId<PassedOnId>(),
  });
  expect(again).toMatchObject({ ok: false, problem: { code: 'duplicate' } });
  await runJobs(world);
  const mails = (await keptMails(business)).filter(({ to }) =>
    to.includes(business.emailOf(`aldous${dealers}`)),
  );
  // One when it was sent, since all of it is above the first limit; one with the ticks.
  expect(mails.length).toBe(2);
});

test('where nobody may approve as much, whoever passes on is told so, and the desk sees it', async () => {
  const dealer = await aDealer();
  await managerOf(dealer, '500.00');
  const asked = await askedOf(dealer);
  await runJobs(world);
  const input = { ...withoutDash(asked), passedOnId: world.newId<PassedOnId>() };
  const passed = must(await passOnAnswer(world.services, dealer.approver, input));
  expect(passed.passedTo).toBeNull();
  await runJobs(world);
  // A job may run twice; what it found out stands in the path once.
  const { tenantId } = business;
  must(await mailPassedOn(world.services, { tenantId, passedOnId: passed.id }));
  const { steps, asking } = must(await readWorkOrder(world.services, business.office, asked.workOrderId));
  expect(asking.nobody).toContain('may approve $814.46');
  expect(steps.at(-1)?.note).toContain('nobody who can be mailed may approve as much');
  expect(steps.filter(({ event }) => event === 'passed_on')).toHaveLength(1);
  const desk = await web.signInByPage(business.emailOf('office'), business.password);
  const page = await desk.get(`/office/work-orders/${asked.workOrderId}`);
  expect(page.body).toContain('Ansel Corvin went through it: $608.21');
});

test('a signed-in contact passes on from their own page', async () => {
  const dealer = await aDealer();
  await managerOf(dealer);
  const asked = await askedOf(dealer);
  const browser = await web.signInByPage(dealer.emailOf('approver'), business.password);
  const address = `/account/work-orders/${asked.workOrderId}`;
  const page = await browser.get(address);
  const preview = await browser.post(`${address}/preview`, fieldsOfForm(page.body, `${address}/preview`));
  expect(preview.body).toContain('Pass on to Aldous Merrin');
  const passed = await browser.post(
    `${address}/passed-on`,
    fieldsOfForm(preview.body, `${address}/decision`),
  );
  expect(passed.statusCode).toBe(303);
  expect((await browser.get(address)).body).toContain('Aldous Merrin was asked by e-mail, with your ticks.');
});

test('the database takes nothing from whoever has left, and nothing from the staff', async () => {
  const dealer = await aDealer();
  const asked = await askedOf(dealer);
  const ended = (on: string | null) =>
    asAdministrator(
      world,
      (sql) => sql`update contacts set ended_on = ${on} where account_id = ${dealer.id}
        and person_id = ${dealer.approver.personId}`,
    );
  const passedOnAs = (role: string) =>
    asAdministrator(world, (sql) =>
      sql.begin(async (tx) => {
        await tx`select set_config('role', ${`grainwright_${role}`}, true),
          set_config('app.tenant_id', ${business.tenantId}, true), set_config('app.account_id', ${dealer.id}, true)`;
        return tx`insert into passed_on_answers (tenant_id, id, account_id, work_order_id, version_id, digest, passed_by,
            answers, compared_minor, total_minor, limit_minor, passed_at)
          values (${business.tenantId}, gen_random_uuid(), ${dealer.id}, ${asked.workOrderId}, ${asked.versionId},
            ${asked.digest}, ${dealer.approver.personId}, '[]', 60821, 61259, 40000, ${world.services.now()})`;
      }),
    );
  // 42501 is insufficient_privilege: a right that is not granted, or a row policy.
  await expect(passedOnAs('staff')).rejects.toMatchObject({ code: '42501' });
  await ended('2026-10-14');
  await expect(passedOnAs('account')).rejects.toMatchObject({ code: '42501' });
  await ended(null);
  await passedOnAs('account');
});
