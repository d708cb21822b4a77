import type { AccountGroupId, AccountId } from '@grainwright/domain';
import {
  type AddAccountInput,
  addAccountGroup,
  changeAccount,
  listAccountGroups,
  readAccount,
} from '@grainwright/operations';
import { beforeAll, expect, test } from 'vitest';
import {
  type Account,
  aBusiness,
  anAccount,
  type Business,
  must,
  openWorld,
  type World,
} from './support/world.ts';

// Common practice, no source.

let world: World;
let business: Business;

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
});

type Change = Omit<Parameters<typeof changeAccount>[2], 'id'>;
const change = (account: Account, input: Change) =>
  changeAccount(world.services, business.office, { id: account.id, ...input });
const read = async (account: Account) => must(await readAccount(world.services, business.office, account.id));
const refusedWith = (code: string, field?: string) => ({
  ok: false,
  problem: field === undefined ? { code } : { code, field },
});

test('an account without further settings charges no fee, applies no money by itself and is mailed nothing', async () => {
  const { account } = await read(await anAccount(business));
  expect(account).toMatchObject({
    noShowFeeMinor: null,
    appliesMoneyItself: false,
    statementEmail: '',
    groupId: null,
    successorId: null,
  });
});

test('the fee for a vehicle that was not there, money applied by itself and the address for statements are kept as given', async () => {
  const settings: Partial<AddAccountInput> = {
    noShowFee: '55.00',
    appliesMoneyItself: true,
    statementEmail: 'books@penny-lantern.example.com',
  };
  const account = await anAccount(business, settings);
  const kept = { noShowFeeMinor: 5500n, appliesMoneyItself: true, statementEmail: settings.statementEmail };
  expect((await read(account)).account).toMatchObject(kept);
  must(await change(account, { termsDays: 20 }));
  expect((await read(account)).account).toMatchObject({ ...kept, termsDays: 20 });
  must(await change(account, { noShowFee: null, appliesMoneyItself: false, statementEmail: '' }));
  expect((await read(account)).account).toMatchObject({
    noShowFeeMinor: null,
    appliesMoneyItself: false,
    statementEmail: '',
  });
  expect(await change(account, { noShowFee: '-5' })).toMatchObject(
    refusedWith('invalid_money', 'no_show_fee'),
  );
  expect(await change(account, { statementEmail: 'books at lantern' })).toMatchObject(
    refusedWith('invalid_input', 'statement_email'),
  );
});

test('accounts of one group are told by its name, and a group’s name is there once', async () => {
  const { services } = world;
  const id = world.newId<AccountGroupId>();
  const group = { id, name: 'Halden Motor Group' };
  must(await addAccountGroup(services, business.office, group));
  must(await addAccountGroup(services, business.office, group));
  expect(
    await addAccountGroup(services, business.office, { ...group, id: world.newId<AccountGroupId>() }),
  ).toMatchObject(refusedWith('duplicate', 'name'));
  expect(await addAccountGroup(services, business.office, { id, name: 'Another' })).toMatchObject(
    refusedWith('id_reused', 'id'),
  );
  expect(await addAccountGroup(services, business.technician, { ...group })).toMatchObject(
    refusedWith('not_allowed'),
  );
  expect(must(await listAccountGroups(services, business.technician))).toContainEqual(group);
  const account = await anAccount(business, { groupId: id });
  expect((await read(account)).groupName).toBe('Halden Motor Group');
  expect(await change(account, { groupId: world.newId<AccountGroupId>() })).toMatchObject(
    refusedWith('invalid_input', 'group_id'),
  );
});

test('only an account that ends has a successor; each is shown on the other’s page, and nobody follows themselves', async () => {
  const old = await anAccount(business, { name: 'Penny Lantern Motors' });
  const next = await anAccount(business, { name: 'Lantern Row Cars' });
  expect(await change(old, { successorId: next.id })).toMatchObject(
    refusedWith('invalid_input', 'successor_id'),
  );
  must(await change(old, { endedOn: '2026-09-30', successorId: next.id }));
  expect((await read(old)).successor).toEqual({ id: next.id, name: 'Lantern Row Cars' });
  expect((await read(next)).predecessors).toEqual([{ id: old.id, name: 'Penny Lantern Motors' }]);
  expect(await change(old, { successorId: old.id })).toMatchObject(
    refusedWith('invalid_input', 'successor_id'),
  );
  expect(await change(next, { endedOn: '2026-10-31', successorId: old.id })).toMatchObject(
    refusedWith('invalid_input', 'successor_id'),
  );
  expect(await change(old, { successorId: world.newId<AccountId>() })).toMatchObject(
    refusedWith('invalid_input', 'successor_id'),
  );
  expect(await change(old, { endedOn: null })).toMatchObject(refusedWith('invalid_input', 'successor_id'));
  must(await change(old, { endedOn: null, successorId: null }));
});

test('of two who give the same short name at once one has it, and the other is told whose it is', async () => {
  const [one, other] = [await anAccount(business), await anAccount(business)];
  for (const shortName of ['SAME1', 'SAME2', 'SAME3']) {
    const results = await Promise.all([change(one, { shortName }), change(other, { shortName })]);
    expect(results.filter((result) => result.ok)).toHaveLength(1);
    expect(results.find((result) => !result.ok)).toMatchObject(refusedWith('duplicate', 'short_name'));
  }
});

test('who changes an account from an older state of it is told what differs, and nothing is overwritten', async () => {
  const account = await anAccount(business);
  const seen = { termsDays: 15, requiresPo: false, endedOn: null, noShowFee: null };
  must(await change(account, { termsDays: 20, seen }));
  const late = await change(account, { requiresPo: true, seen });
  expect(late).toMatchObject(refusedWith('shown_changed'));
  expect(late.ok ? '' : late.problem.detail).toContain('the days to pay.');
  expect((await read(account)).account).toMatchObject({ termsDays: 20, requiresPo: false });
  must(await change(account, { requiresPo: true, seen: { ...seen, termsDays: 20 } }));
  expect((await read(account)).account).toMatchObject({ termsDays: 20, requiresPo: true });
});
