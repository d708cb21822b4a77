import type { PriceDraftId } from '@grainwright/domain';
import {
  acceptPriceBookChanges,
  asWritten,
  changeRate,
  discardPriceDraft,
  exportPriceDraft,
  exportPriceList,
  importPriceDraft,
  type ListRowInput,
  listDraftPriceLists,
  publishPriceDraft,
  readPriceBook,
  readPriceDraft,
  savePriceDraft,
  startPriceDraft,
} from '@grainwright/operations';
import postgres from 'postgres';
import { beforeAll, beforeEach, expect, test } from 'vitest';
import { aBusiness, type Business, must, openWorld, type World } from './support/world.ts';

let world: World;
let business: Business;

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
});
beforeEach(() => world.at('2026-11-30T09:00'));

const spring = { name: 'Spring list', countsFrom: '2027-03-01', copiedFrom: null };

async function begun(given: Partial<typeof spring> = {}): Promise<PriceDraftId> {
  const draftId = world.newId<PriceDraftId>();
  must(await startPriceDraft(world.services, business.owner, { draftId, ...spring, ...given }));
  return draftId;
}

const read = async (draftId: PriceDraftId) =>
  must(await readPriceDraft(world.services, business.owner, { draftId }));

/** The draft's own rows with some of them changed; null leaves one out. */
async function changed(
  draftId: PriceDraftId,
  changes: Readonly<Record<string, Partial<ListRowInput> | null>>,
  more: readonly ListRowInput[] = [],
) {
  const { rates, revision, name, countsFrom } = await read(draftId);
  const rows = rates.flatMap((rate) => {
    const change = changes[rate.code];
    return change === null ? [] : [{ ...asWritten(rate, 'USD'), ...change }];
  });
  return { draftId, revision, name, countsFrom, rates: [...rows, ...more] };
}

const save = async (...of: Parameters<typeof changed>) =>
  savePriceDraft(world.services, business.owner, await changed(...of));

async function publish(draftId: PriceDraftId) {
  const { revision } = await read(draftId);
  return publishPriceDraft(world.services, business.owner, { draftId, revision });
}

const periodsOf = async (code: string) =>
  must(await readPriceBook(world.services, business.owner))
    .rates.filter((rate) => rate.code === code)
    .map((rate) => [rate.validFrom, rate.validTo, rate.listMinor]);

const pillar: ListRowInput = {
  code: 'PT-S',
  repair: 'Pillar trim scratch, up to 2 in',
  family: 'Pillar trim scratch',
  overInches: '0',
  toInches: '2',
  part: 'pillar trim',
  material: 'hard_plastic',
  list: '90.00',
  materialsPercent: '10',
  takesFurtherRepair: true,
  repairsDamage: true,
};

test('a draft starts with the list in force on its day, and counts for nothing', async () => {
  const draftId = await begun();
  const draft = await read(draftId);
  expect([draft.name, draft.countsFrom, draft.copiedFrom, draft.revision, draft.rates.length]).toEqual([
    'Spring list',
    '2027-03-01',
    '2027-03-01',
    1,
    28,
  ]);
  expect(draft.change).toEqual({ changed: [], added: [], ended: [] });
  must(await save(draftId, { 'VC-M': { list: '210.00' } }));
  // 195.00: the invented price list; common practice, no source.
  expect(await periodsOf('VC-M')).toEqual([['2026-01-01', null, 19500n]]);
  expect(
    (await read(draftId)).change.changed.map(({ before, after }) => [before.listMinor, after.listMinor]),
  ).toEqual([[19500n, 21000n]]);
});

test('the same draft started again is the same one; a day that has passed is refused with a sentence', async () => {
  const draftId = await begun();
  const again = { draftId, ...spring };
  must(await startPriceDraft(world.services, business.owner, again));
  expect(await startPriceDraft(world.services, business.owner, { ...again, name: 'Another' })).toMatchObject({
    problem: { code: 'id_reused' },
  });
  const passed = { ...again, draftId: world.newId<PriceDraftId>(), countsFrom: '2026-11-29' };
  expect(await startPriceDraft(world.services, business.owner, passed)).toMatchObject({
    problem: {
      code: 'dates_out_of_order',
      field: 'counts_from',
      detail: expect.stringContaining('has passed'),
    },
  });
});

test('only the owner has to do with drafts; whoever sees the price book has its list as a file', async () => {
  const draftId = await begun();
  for (const actor of [business.office, business.bookkeeper, business.technician]) {
    expect(await readPriceDraft(world.services, actor, { draftId })).toMatchObject({
      problem: { code: 'not_allowed' },
    });
    expect(await exportPriceList(world.services, actor, { on: null })).toMatchObject({ ok: true });
  }
});

test('all that is wrong with any row is said at once, and nothing is saved', async () => {
  const draftId = await begun();
  const wrong = await save(
    draftId,
    {
      'VC-S': { list: '140.005', materialsPercent: '120' },
      'VC-M': { toInches: '0.5' },
      'LT-S': { overInches: '0', toInches: '2' },
    },
    [{ ...pillar, code: 'KF-1', part: 'roof' }],
  );
  if (wrong.ok) throw new Error('it was taken');
  const fields = (wrong.problem.errors ?? []).map(({ detail }) => detail.split(':')[0]);
  expect(fields).toEqual([
    'LT-M, over inches',
    'VC-S, list',
    'VC-S, materials percent',
    'VC-M, to inches',
    'KF-1, part',
  ]);
  expect(wrong.problem.errors?.[1]?.detail).toContain('“140.005” has 3 decimals');
  expect(wrong.problem.errors?.[0]?.detail).toContain('LT-M and LT-S');
  expect((await read(draftId)).revision).toBe(1);
});

test('a part and a material are known by the words of the page, too', async () => {
  const draftId = await begun();
  must(await save(draftId, {}, [pillar]));
  const added = (await read(draftId)).rates.find((rate) => rate.code === 'PT-S');
  expect([added?.part, added?.material]).toEqual(['pillar_trim', 'hard_plastic']);
});

test('what somebody else saved meanwhile is not overwritten, and the same again changes nothing', async () => {
  const draftId = await begun();
  const mine = await changed(draftId, { 'VC-M': { list: '205.00' } });
  const first = await changed(draftId, { 'VC-M': { list: '210.00' } });
  expect(must(await savePriceDraft(world.services, business.owner, first)).revision).toBe(2);
  expect(must(await savePriceDraft(world.services, business.owner, first)).revision).toBe(2);
  expect(await savePriceDraft(world.services, business.owner, mine)).toMatchObject({
    problem: { code: 'shown_changed' },
  });
  expect((await read(draftId)).change.changed.map(({ after }) => after.listMinor)).toEqual([21000n]);
});

test('a draft goes out as CSV and comes in again as it was', async () => {
  const draftId = await begun();
  must(await save(draftId, { 'RI-1': null }, [{ ...pillar, repair: '=Pillar, "trim"\nscratch' }]));
  const before = await read(draftId);
  const file = must(await exportPriceDraft(world.services, business.owner, { draftId }));
  expect(file.fileName).toBe('price-list-draft-2027-03-01.csv');
  const otherId = await begun({ name: 'Another' });
  const taken = must(
    await importPriceDraft(world.services, business.owner, { draftId: otherId, revision: 1, csv: file.text }),
  );
  expect(taken).toEqual({ revision: 2, rates: 28 });
  expect((await read(otherId)).rates).toEqual(before.rates);
});

const header =
  'code,repair,family,over_inches,to_inches,part,material,list,materials_percent,takes_further_repair,repairs_damage';
const imported = async (csv: string) => {
  const draftId = await begun();
  const answer = await importPriceDraft(world.services, business.owner, { draftId, revision: 1, csv });
  return { answer, draft: await read(draftId) };
};

test('a file with wrong rows is not taken, and each row says what is wrong, by its number in the file', async () => {
  const { answer, draft } = await imported(
    [
      header,
      'VC-S,Cut,Vinyl,0,1,,,140.00,12,yes,yes',
      'VC-M,Cut,Vinyl,0.5,3,,,195.005,12,yes,yes',
      'VC-L,Cut,Vinyl,0.5,3,,,285.00,12,perhaps,yes',
      'VC-S,Cut,Vinyl 2,0,1,,,140.00,12,yes,yes',
      'vc,Cut,Vinyl 3,1,,,,140.00,12,yes,yes',
      'VC-X,Cut, thing,Vinyl 3,1,,,,140.00,12,yes,yes',
    ].join('\r\n'),
  );
  if (answer.ok) throw new Error('it was taken');
  expect(answer.problem.errors).toEqual([
    { field: 'rows.3.list', detail: 'Row 3, list: “195.005” has 3 decimals. Write at most 2, like 1234.56.' },
    { field: 'rows.4.takes_further_repair', detail: 'Row 4, takes further repair: Write yes or no.' },
    {
      field: 'rows.4.over_inches',
      detail:
        'Row 4, over inches: VC-L and VC-S (row 2) are of one family and cover the same sizes. Change the sizes of one, or its family, part or material.',
    },
    {
      field: 'rows.5.code',
      detail: 'Row 5, code: VC-S stands in row 2 already. A code stands once in a list.',
    },
    {
      field: 'rows.6.code',
      detail: 'Row 6, code: Write a code of one to twelve capitals, figures and dashes, like VC-M.',
    },
    {
      field: 'rows.7.code',
      detail:
        'Row 7: it has 12 cells, and the header has 11. A cell with a comma in it stands in quotation marks.',
    },
  ]);
  expect([draft.revision, draft.rates.length]).toEqual([1, 28]);
});

test.each([
  ['', 'no text'],
  ['code;list\nVC-S;140,00', 'separated by semicolons'],
  [`${header},colour\n`, '“colour” is no column of a price list'],
  ['code,repair\nVC-S,Cut', 'The first row lacks “family”'],
  // Without them every rate would be for any part and material.
  [`${header.replace('part,material,', '')}\n`, 'The first row lacks “part”, “material”.'],
  [header, 'no row below the header'],
  [`${header}\n${'VC-S,Cut,Vinyl,0,1,,,140.00,12,yes,yes\n'.repeat(2001)}`, 'at most 2000 rows'],
  [`${header}\n${'x'.repeat(1_000_000)}`, 'larger than 1 MB'],
])('what is no price list is refused with what is expected: %#', async (csv, words) => {
  const { answer } = await imported(csv);
  expect(answer.ok ? '' : answer.problem.detail).toContain(words);
});

test('a gap between the sizes of a family is taken, and said', async () => {
  const rows = ['VC-S,Cut,Vinyl,0,1,,,140.00,12,yes,yes', 'VC-L,Cut,Vinyl,3,6,,,285.00,12,yes,TRUE'];
  const { answer, draft } = await imported(`\uFEFF${[header, ...rows].join('\n')}`);
  expect(answer).toMatchObject({ ok: true });
  expect(draft.gaps.map(({ below, above }) => [below.code, above.code])).toEqual([['VC-S', 'VC-L']]);
});

test('a discarded draft stays as it was and can’t be put into force', async () => {
  const draftId = await begun();
  must(await discardPriceDraft(world.services, business.owner, { draftId, revision: 1 }));
  must(await discardPriceDraft(world.services, business.owner, { draftId, revision: 1 }));
  for (const answer of [await publish(draftId), await save(draftId, { 'VC-M': { list: '1.00' } })])
    expect(answer).toMatchObject({ problem: { code: 'wrong_state' } });
});

test('put into force, it ends what changes the day before, begins what is new and leaves the rest alone', async () => {
  business = await aBusiness(world);
  const draftId = await begun();
  must(await save(draftId, { 'VC-M': { list: '210.00' }, 'CM-1': null }, [pillar]));
  must(await publish(draftId));
  must(await publishPriceDraft(world.services, business.owner, { draftId, revision: 2 }));
  expect(await periodsOf('VC-M')).toEqual([
    ['2026-01-01', '2027-02-28', 19500n],
    ['2027-03-01', null, 21000n],
  ]);
  expect(await periodsOf('CM-1')).toEqual([['2026-01-01', '2027-02-28', 4500n]]);
  expect(await periodsOf('PT-S')).toEqual([['2027-03-01', null, 9000n]]);
  expect(await periodsOf('LT-M')).toEqual([['2026-01-01', null, 22500n]]);
  const draft = await read(draftId);
  expect([draft.state, draft.endedByName, draft.change]).toEqual([
    'published',
    'Delphine Aster-Rowe',
    { changed: [], added: [], ended: [] },
  ]);
  expect(await save(draftId, { 'VC-M': { list: '1.00' } })).toMatchObject({
    problem: { code: 'wrong_state', detail: expect.stringContaining('put into force for') },
  });
});

test('the database keeps the rows of a list that was put into force, whoever asks', async () => {
  const { drafts } = must(await listDraftPriceLists(world.services, business.owner));
  const published = drafts.find((draft) => draft.state === 'published');
  const sql = postgres(world.adminUrl, { max: 1, onnotice: () => {} });
  await expect(sql`delete from price_draft_rates where draft_id = ${published?.id ?? ''}`).rejects.toThrow(
    'stays as it was',
  );
  await expect(sql`update price_drafts set name = 'x' where id = ${published?.id ?? ''}`).rejects.toThrow(
    'stays as it was',
  );
  await sql.end();
});

test('a rate that changed since the draft began is named; seen and gone on from, the list can be put into force', async () => {
  const draftId = await begun({ countsFrom: '2027-06-01' });
  must(await save(draftId, { 'LT-M': { list: '240.00' } }));
  const change = {
    code: 'SC-S',
    repair: 'Scuff',
    list: '99.00',
    materialsPercent: '15',
    validFrom: '2027-04-01',
  };
  must(await changeRate(world.services, business.owner, { id: world.services.newId(), ...change }));
  expect((await read(draftId)).moved).toEqual(['SC-S']);
  expect(await publish(draftId)).toMatchObject({
    problem: { code: 'shown_changed', detail: expect.stringContaining('SC-S changed in the price book') },
  });
  expect(await periodsOf('LT-M')).toEqual([['2026-01-01', null, 22500n]]);
  const goOn = (shown: { readonly revision: number; readonly book: string }) =>
    acceptPriceBookChanges(world.services, business.owner, {
      draftId,
      revision: shown.revision,
      book: shown.book,
    });
  const shown = await read(draftId);
  const unseen = { ...change, code: 'VC-L', repair: 'Long cut', list: '299.00' };
  must(await changeRate(world.services, business.owner, { id: world.services.newId(), ...unseen }));
  expect(await goOn(shown)).toMatchObject({ problem: { code: 'shown_changed', field: 'book' } });
  const seen = await read(draftId);
  expect(seen.moved).toEqual(['SC-S', 'VC-L']);
  expect(must(await goOn(seen)).revision).toBe(3);
  // Sent again it is done already; whoever saw the list before can't put it into force.
  expect(must(await goOn(seen)).revision).toBe(3);
  expect(await publishPriceDraft(world.services, business.owner, { draftId, revision: 2 })).toMatchObject({
    problem: { code: 'shown_changed' },
  });
  must(await publish(draftId));
  // The draft has SC-S as it was copied, 95.00, so the list goes back to that.
  expect(await periodsOf('SC-S')).toEqual([
    ['2026-01-01', '2027-03-31', 9500n],
    ['2027-04-01', '2027-05-31', 9900n],
    ['2027-06-01', null, 9500n],
  ]);
});

test('on its day or after it, a list is not put into force any more', async () => {
  const draftId = await begun({ countsFrom: '2027-08-01' });
  world.at('2027-08-01T09:00');
  expect(await publish(draftId)).toMatchObject({
    problem: {
      code: 'dates_out_of_order',
      field: 'counts_from',
      detail: expect.stringContaining('tomorrow'),
    },
  });
});

test('a list does not pass over a price that is set for later already', async () => {
  const change = {
    code: 'HL-M',
    repair: 'Headliner',
    list: '130.00',
    materialsPercent: '10',
    validFrom: '2028-01-01',
  };
  must(await changeRate(world.services, business.owner, { id: world.services.newId(), ...change }));
  const draftId = await begun({ countsFrom: '2027-09-01' });
  must(await save(draftId, { 'HL-M': null }));
  expect(await publish(draftId)).toMatchObject({
    problem: { code: 'duplicate', detail: expect.stringContaining('HL-M has a price that begins on') },
  });
  const { revision, ...head } = await changed(draftId, {});
  const { inForce, currency } = await read(draftId);
  const headliner = inForce.filter((rate) => rate.code === 'HL-M').map((rate) => asWritten(rate, currency));
  const back = [...head.rates, ...headliner];
  must(await savePriceDraft(world.services, business.owner, { ...head, revision, rates: back }));
  must(await publish(draftId));
});

test('a code that ended earlier can’t come back by a list, and that is said while the list is made', async () => {
  const endedId = await begun({ countsFrom: '2027-10-01' });
  must(await save(endedId, { 'RI-1': null }));
  must(await publish(endedId));
  const draftId = await begun({ name: 'Back again', countsFrom: '2028-02-01' });
  must(await save(draftId, {}, [{ ...pillar, code: 'RI-1', family: 'Back', part: null, material: null }]));
  const { notTaken } = await read(draftId);
  expect(notTaken.map(({ code }) => code)).toEqual(['RI-1']);
  expect(await publish(draftId)).toMatchObject({ problem: { detail: notTaken[0]?.detail } });
  must(await save(draftId, { 'RI-1': null }));
  expect((await read(draftId)).notTaken).toEqual([]);
});
