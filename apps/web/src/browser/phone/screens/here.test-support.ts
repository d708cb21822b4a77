import { type AccountId, type Day, instant, type PersonId, type SiteId, toId } from '@grainwright/domain';
import type { PhonePlace, PhoneSnapshot } from '@grainwright/operations/phone';
import type { Assets } from '../../../look/assets.ts';
import type { Measured } from '../../camera/measure.ts';
import type { PhoneAction } from '../action.ts';
import { applyActions } from '../projection.ts';
import { openPhoneStore, type PhoneStore } from '../store.ts';
import { mendingIn, withoutMended } from './mending.ts';
import type { Here } from './screen.ts';

/** Ids as phones make them. */
export const uuid = (number: number) => `01990000-0000-7000-8000-${String(number).padStart(12, '0')}`;
export const order = uuid(1);
export const lineId = uuid(11);

const account = toId<AccountId>(uuid(100));
const site = toId<SiteId>(uuid(101));
const person = toId<PersonId>(uuid(102));

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
  },
};

const rate = (code: string, overInches: string, toInches: string) => ({
  ...{ code, overInches, toInches, repair: code, part: null, material: null, listMinor: '18500' },
});

const snapshot: PhoneSnapshot = {
  takenAt: instant('2026-08-05T15:00:00Z'),
  today: '2026-08-05' as Day,
  person: { tenantId: uuid(103), id: person, name: 'Tobias Wrenfield', role: 'technician' },
  business: { name: 'Quillfeather', phone: '', currency: 'USD', timeZone: 'America/Chicago' },
  stops: [],
  places: [place],
  repairs: [
    {
      family: 'Vinyl cut or tear',
      measured: true,
      repairsDamage: true,
      rates: [rate('cut-small', '0', '3'), rate('cut-large', '3', '6')],
    },
  ],
  factors: [],
  workOrders: [],
};

const made = (id: string) => ({ id, workOrderId: order, madeAt: '2026-08-05T10:00:00-05:00' });

/** A cut in the tailgate lining, written up, sent and started without signal. */
export const started: readonly PhoneAction[] = [
  {
    ...made(order),
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
  },
  {
    ...made(lineId),
    kind: 'line',
    body: {
      id: lineId,
      part: 'tailgate_lining',
      damage: 'cut_or_tear',
      observation: 'relaxes_and_lies_down',
      methods: ['mask', 'heat_flatten', 'fill_cut', 'cold_grain'],
      measured_inches: '2.2',
      family: 'Vinyl cut or tear',
    },
  },
  { ...made(uuid(12)), kind: 'estimate', body: { id: uuid(12) } },
  { ...made(uuid(13)), kind: 'start', body: { id: uuid(13), airbag_lamp: 'off' } },
];

export const photoIds = { before: uuid(21), afterHeat: uuid(22), after: uuid(23) };

export function photoOf(purpose: string, id: string, more: object = {}): PhoneAction {
  const body = { purpose, line_id: lineId, captured_at: '2026-08-05T10:00:00-05:00', ...more };
  return { ...made(id), kind: 'photo', body };
}

/** Of a picture that nothing is to be said against. */
const good: Measured = {
  width: 1600,
  height: 1200,
  measures: { sharpness: 900, dark: 0.1, washedOut: 0, hash: '0'.repeat(16), print: '' },
};

export const blurred: Measured = { ...good, measures: { ...good.measures, sharpness: 12 } };

let phones = 0;

export interface Phone {
  readonly store: PhoneStore;
  readonly saved: Map<string, Blob>;
  /** As the app makes it anew for each page. */
  here(path?: string, files?: Here['files']): Promise<Here>;
}

/** A phone of somebody of their own, with what was done on it; what its photos measure is given by their ids. */
export async function phoneWith(
  actions: readonly PhoneAction[],
  measures: Readonly<Record<string, Measured | null>> = {},
): Promise<Phone> {
  phones += 1;
  const owner = { tenantId: uuid(200 + phones), personId: person };
  const store = await openPhoneStore(owner);
  for (const action of actions)
    await store.keepAction(
      action,
      action.kind === 'photo' ? new Blob([action.id], { type: 'image/jpeg' }) : undefined,
    );
  const saved = new Map<string, Blob>();
  return {
    store,
    saved,
    here: async (path = '/', files = new Map()) => {
      const query = new URL(path, 'http://phone').searchParams;
      const listed = await store.listActions();
      const mending = mendingIn(query, listed);
      const kept = { askedAt: '2026-08-05T15:00:00.000Z', snapshot };
      return {
        owner,
        store,
        day: applyActions(kept, withoutMended(listed, mending)),
        actions: listed,
        frame: {
          person: { name: snapshot.person.name, business: snapshot.business.name },
          csrfToken: '',
          assets: new Proxy({}, { get: (_, name) => `/assets/${String(name)}.js` }) as Assets['urls'],
          elsewhere: [],
          phoneOf: '',
          me: {
            name: snapshot.person.name,
            role: 'technician',
            pricesByHand: false,
            today: snapshot.today,
            business: snapshot.business,
          },
        },
        path,
        sentAt: new Date('2026-08-05T15:00:00Z'),
        query,
        promised: false,
        send: () => undefined,
        files,
        mending,
        photoBytesMax: 40_000_000,
        measure: async (file) => (file.size < 4 ? null : good),
        measureKept: async (id) => measures[id] ?? good,
        save: (name, file) => void saved.set(name, file),
      };
    },
  };
}
