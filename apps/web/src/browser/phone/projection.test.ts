import { type AccountId, type Day, instant, type PersonId, type SiteId, toId } from '@grainwright/domain';
import type { PhonePlace, PhoneSnapshot } from '@grainwright/operations/phone';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { KeptAction, PhoneAction } from './action.ts';
import { applyActions, nextTaskOf } from './projection.ts';

/** Ids as phones make them. */
const uuid = (number: number) => `01990000-0000-7000-8000-${String(number).padStart(12, '0')}`;
const order = uuid(1);
const account = toId<AccountId>('01990000-0000-7000-8000-00000000000a');
const site = toId<SiteId>('01990000-0000-7000-8000-00000000000b');
const askedAt = '2026-08-05T15:00:00.000Z';

function snapshotWith(rules: Partial<PhonePlace['rules']> = {}): PhoneSnapshot {
  const place: PhonePlace = {
    accountId: account,
    accountName: 'Brackwater Glass & Screen',
    accountKind: 'glass_installer',
    siteId: site,
    siteName: 'Main yard',
    siteAddress: '9 Mill Lane',
    ownNumberKind: 'job',
    ownNumberRequired: true,
    requiresRo: false,
    requiresPo: false,
    openedOn: '2026-01-01' as Day,
    endedOn: null,
    rules: {
      photoRule: 'trade',
      acceptanceRule: 'vehicle_owner',
      showsPricesAtAcceptance: false,
      standing: 'up to $350.00 a vehicle',
      ...rules,
    },
  };
  return {
    takenAt: instant('2026-08-05T15:00:00Z'),
    today: '2026-08-05' as Day,
    person: { tenantId: 't', id: toId<PersonId>(account), name: 'Tobias Wrenfield', role: 'technician' },
    business: { name: 'Quillfeather', phone: '', currency: 'USD', timeZone: 'America/Chicago' },
    stops: [],
    places: [place],
    repairs: [{ family: 'Trim off and on', measured: false, repairsDamage: false, rates: [] }],
    factors: [],
    workOrders: [],
  };
}

const frame = (id: string) => ({ id, workOrderId: order, madeAt: '2026-08-05T10:00:00-05:00' });
const lineId = '01990000-0000-7000-8000-000000000011';
const versionId = '01990000-0000-7000-8000-000000000012';

const writeUp: PhoneAction = {
  ...frame(order),
  kind: 'write_up',
  body: {
    id: order,
    account_id: account,
    site_id: site,
    vin: '0VEEA2C45SK000104',
    make: 'Ostra',
    own_number: 'BG-9107',
    visit_id: uuid(2),
  },
};
const cut: PhoneAction = {
  ...frame(lineId),
  kind: 'line',
  body: {
    part: 'tailgate_lining',
    damage: 'cut_or_tear',
    observation: 'relaxes_and_lies_down',
    methods: ['mask'],
  },
};
const photo = (purpose: string, id: string): PhoneAction => ({
  ...frame(id),
  kind: 'photo',
  body: { purpose, line_id: lineId, captured_at: '2026-08-05T10:00:00-05:00' },
});
const estimate: PhoneAction = { ...frame(versionId), kind: 'estimate', body: { id: versionId } };
const start: PhoneAction = { ...frame('start'), kind: 'start', body: { airbag_lamp: 'off' } };
const finish: PhoneAction = {
  ...frame('finish'),
  kind: 'finish',
  body: { work: [{ line_id: lineId, methods: ['mask', 'fill_cut'], layers: '3' }] },
};
const acceptance = (outcome: string): PhoneAction => ({
  ...frame(`acceptance-${outcome}`),
  kind: 'acceptance',
  body: { outcome },
});
const story = [
  writeUp,
  cut,
  photo('before', uuid(21)),
  estimate,
  start,
  photo('after_heat', uuid(22)),
  photo('after', uuid(23)),
  finish,
  acceptance('accepted'),
];

const file = { bytes: 3, sha256: 'ab'.repeat(32), mediaType: 'image/jpeg' };
const nothingYet = { sentBytes: 0, refusal: null, serverHas: null, lastTry: null, sentAt: null };

function kept(
  actions: readonly PhoneAction[],
  state: KeptAction['state'] = 'waiting',
  sentAt: string | null = null,
) {
  return actions.map(
    (action, index): KeptAction => ({
      ...nothingYet,
      order: index + 1,
      action,
      state,
      sentAt,
      file: action.kind === 'photo' ? file : null,
    }),
  );
}

function after(actions: readonly KeptAction[], snapshot = snapshotWith()) {
  return applyActions({ snapshot, askedAt }, actions).workOrders[0];
}

test('each thing done on the phone leads to the next, as on the server', () => {
  const tasks = story.map((_, index) => {
    const work = after(kept(story.slice(0, index + 1)));
    return work && [work.state, nextTaskOf(work).kind];
  });
  expect(tasks).toEqual([
    ['written_up', 'add_line'],
    ['written_up', 'before_photo'],
    ['written_up', 'send'],
    ['approved', 'start'],
    ['in_work', 'after_photo'],
    ['in_work', 'after_photo'],
    ['in_work', 'finish'],
    ['done', 'hand_over'],
    ['accepted', 'nothing'],
  ]);
});

test('it says what was typed as the server would read it', () => {
  const work = after(kept(story.slice(0, 8)));
  expect(work).toMatchObject({
    number: null,
    versionId,
    // The tenth sign of the VIN is S: model year 2025 (49 CFR 565.15(d), table VII).
    vehicle: { vin: '0VEEA2C45SK000104', lastEight: 'SK000104', modelYear: 2025 },
    lines: [{ methods: ['mask', 'fill_cut'], layers: 3, material: 'foam_backed_vinyl', answer: 'approved' }],
    photos: [{ sha256: file.sha256 }, {}, {}],
  });
  expect(work?.waiting).toHaveLength(8);
});

test('an end of work that was given up and made again counts before the answer that waits for it', () => {
  const [first, ...rest] = kept([...story.slice(7, 9), { ...finish, id: uuid(50) }]).map((each, index) => ({
    ...each,
    order: 20 + index,
  }));
  if (first?.action.kind !== 'finish') throw new Error('the story ends with it');
  const work = after([...kept(story.slice(0, 7)), { ...first, state: 'dropped' }, ...rest]);
  expect(work).toMatchObject({ state: 'accepted' });
});

test('without what was agreed beforehand a person has to approve first', () => {
  const work = after(kept([...story.slice(0, 4), start]), snapshotWith({ standing: null }));
  expect(work?.state).toBe('awaiting_approval');
});

test('a no keeps the work done and asks to put it right', () => {
  const work = after(kept([...story.slice(0, 8), acceptance('not_accepted')]));
  expect(work).toMatchObject({ state: 'done', notAccepted: true });
});

test('what was dropped is not there, and what it took along before it was sent is not done twice', () => {
  const [first, second] = kept([writeUp, cut]);
  if (first === undefined || second === undefined) throw new Error('two were kept');
  expect(after([first, { ...second, state: 'dropped' }])?.lines).toEqual([]);
  const known = after([first, second]);
  const taken = { ...snapshotWith(), workOrders: known === undefined ? [] : [known] };
  const sentBefore = kept([writeUp, cut], 'sent', '2026-08-05T14:59:59.000Z');
  expect(after(sentBefore, taken)?.lines).toHaveLength(1);
  const sentAfter = kept([writeUp, cut], 'sent', '2026-08-05T15:00:01.000Z');
  expect(after(sentAfter, taken)).toMatchObject({ lines: [{}], waiting: [] });
});

test('what the server did not take as evidence is not shown and not signed', () => {
  const [first, second, third, ...rest] = kept(story.slice(0, 7));
  if (first === undefined || second === undefined || third === undefined) throw new Error('seven were kept');
  const refused = { ...third, state: 'conflict' as const };
  const work = after([first, second, refused, ...rest]);
  expect(work?.photos.map(({ id }) => id)).toEqual([uuid(22), uuid(23)]);
  expect(work?.waiting).toHaveLength(7);
});

test('a photo is answered by one taken again, by a reason of its own, or by one told with the end of work', () => {
  const again = photo('after', uuid(24));
  const retake = { ...again, body: { ...again.body, retake_of: uuid(23) } } as PhoneAction;
  const reason: PhoneAction = {
    ...frame('reason'),
    kind: 'photo_reason',
    body: { photo_id: uuid(21), reason: 'It was dark there.' },
  };
  const told = {
    ...finish,
    body: { photo_reasons: [{ photo_id: uuid(22), override_id: uuid(40), reason: 'No room for the lamp.' }] },
  } as PhoneAction;
  const work = after(kept([...story.slice(0, 7), retake, reason, told]));
  expect(work?.retakes).toEqual(new Map([[uuid(23), uuid(24)]]));
  expect([...(work?.keptBecause ?? [])].map(([id, { reason: words }]) => [id, words])).toEqual([
    [uuid(21), 'It was dark there.'],
    [uuid(22), 'No room for the lamp.'],
  ]);
});

test('applied once or more often, it comes to the same', () => {
  fc.assert(
    fc.property(fc.nat(story.length), fc.nat(story.length), (length, from) => {
      const once = kept(story.slice(0, length));
      const again = [...once, ...once.slice(from)];
      const { waiting: _, ...work } = after(again) ?? { waiting: [] };
      const { waiting: __, ...expected } = after(once) ?? { waiting: [] };
      expect(work).toEqual(expected);
    }),
  );
});
