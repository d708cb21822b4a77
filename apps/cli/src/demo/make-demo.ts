import { type Instant, type StatementRunId, type TenantId, toId } from '@grainwright/domain';
import { issueStatements, runStatements, type Services } from '@grainwright/operations';
import { demoAccounts, marrowbyAccount } from './accounts.ts';
import { august, tailgateVisit } from './august.ts';
import { dayBefore, instantOn, plusMinutes } from './demo-days.ts';
import type { DemoMoney } from './money.ts';
import { demoMoney } from './money.ts';
import { must } from './must.ts';
import { october } from './october.ts';
import { type DemoBusiness, openAccount, openBusiness } from './open-business.ts';
import { minuteOf, openPictureBook, shotsOf } from './picture-book.ts';
import type { PictureDrawer } from './picture-drawer.ts';
import { practiceAccounts, practiceWeek } from './practice-week.ts';
import { closeChains, sealNow } from './seal-now.ts';
import { september } from './september.ts';
import {
  marrowbyOwner,
  practiceOwner,
  practiceStaff,
  quillfeatherOwner,
  quillfeatherStaff,
} from './sign-ins.ts';
import { writeSpringList } from './spring-list.ts';
import { demoClock, type OpenedAccount, type Stage } from './stage.ts';
import { tellMoney } from './tell-money.ts';
import { type PlannedVisit, tellVisit } from './tell-visit.ts';
import type { DemoVisit } from './work-order.ts';

/** The demo's businesses have ids of their own, by which a later start knows that the demo is there. */
export const demoTenants = {
  quillfeather: toId<TenantId>('0197f000-0000-7000-8000-000000000001'),
  marrowby: toId<TenantId>('0197f000-0000-7000-8000-000000000002'),
  practice: toId<TenantId>('0197f000-0000-7000-8000-000000000003'),
} as const;

/** Whether a business is one of the demo's. */
export function isDemo(id: TenantId): boolean {
  return Object.values(demoTenants).includes(id);
}

/** A business with everything that happens in it. */
interface Story {
  readonly business: DemoBusiness;
  readonly openedOn: (madeAt: Instant) => string;
  readonly visits: readonly DemoVisit[];
  readonly money: readonly DemoMoney[];
  /** Months whose statements are issued, each on the first day of the next one. */
  readonly statementsOf: readonly string[];
  /** Whether a price list for the coming spring is in the making when the demo is made. */
  readonly springList: boolean;
}

const stories: readonly Story[] = [
  {
    business: {
      id: demoTenants.quillfeather,
      name: 'Quillfeather Interior Repair',
      address: '14 Tanner Row\nTessaly Bend',
      email: 'office@quillfeather.example.com',
      owner: quillfeatherOwner,
      staff: quillfeatherStaff,
      accounts: demoAccounts,
      firstNumbers: { workOrder: 1001, invoice: 2001, creditNote: 3001 },
    },
    openedOn: () => '2026-07-01',
    visits: [...august, ...september, ...october],
    money: demoMoney,
    statementsOf: ['2026-08', '2026-09'],
    springList: true,
  },
  {
    business: {
      id: demoTenants.marrowby,
      name: 'Marrowby Trim Mending',
      address: '3 Quay Lane\nMarrowby',
      email: 'office@marrowby.example.com',
      owner: marrowbyOwner,
      staff: [],
      accounts: [marrowbyAccount],
      firstNumbers: { workOrder: 501, invoice: 501, creditNote: 501 },
    },
    openedOn: () => '2026-07-01',
    visits: [marrowbyVisit()],
    money: [],
    statementsOf: [],
    springList: false,
  },
  {
    business: {
      id: demoTenants.practice,
      name: 'Thornapple Trim (practice)',
      address: '9 Orchard Cut\nTessaly Bend',
      email: 'office@thornapple.example.com',
      owner: practiceOwner,
      staff: practiceStaff,
      accounts: practiceAccounts,
      firstNumbers: { workOrder: 101, invoice: 201, creditNote: 301 },
    },
    openedOn: (madeAt) => dayBefore(madeAt, 60),
    visits: practiceWeek,
    money: [],
    statementsOf: [],
    springList: true,
  },
];

/** The second business saw the same vehicle for an account of the same name. */
function marrowbyVisit(): DemoVisit {
  const workOrders = tailgateVisit.workOrders.map((workOrder) => ({
    ...workOrder,
    until: 'awaiting_approval' as const,
  }));
  return { ...tailgateVisit, technician: marrowbyOwner.shortName, day: '2026-08-12', workOrders };
}

export interface DemoTools {
  readonly services: Services;
  readonly temporaryFolder: string;
  readonly setClock: (at: Instant) => void;
  readonly drawer: PictureDrawer;
}

/**
 * Makes the demo's businesses through the operations, each thing on its own day. Throws where one is refused. Answers
 * false when it was broken off: what is there then is not whole.
 */
export async function makeDemo(tools: DemoTools, brokenOff: () => boolean = () => false): Promise<boolean> {
  const madeAt = tools.services.now();
  for (const story of stories) {
    await tellStory(tools, story, madeAt, brokenOff);
    if (brokenOff()) return false;
  }
  tools.setClock(madeAt);
  return true;
}

async function tellStory(
  tools: DemoTools,
  story: Story,
  madeAt: Instant,
  brokenOff: () => boolean,
): Promise<void> {
  const visits = story.visits.map((visit, index) => planned(visit, madeAt, story.business, index));
  const stage = await openStage(tools, story, madeAt, visits);
  for (const event of inOrder(stage, story, visits)) {
    if (brokenOff()) return;
    stage.clock.at(event.at);
    await event.tell();
    await sealNow(stage);
  }
  stage.clock.at(madeAt);
  await closeChains(stage);
  if (!story.springList) return;
  await writeSpringList(stage.services, stage.owner, dayBefore(madeAt, 0));
}

/** A vehicle's pictures are drawn by a number of its own, so that no two look alike. */
function planned(
  visit: DemoVisit,
  madeAt: Instant,
  { id, accounts, firstNumbers }: DemoBusiness,
  index: number,
): PlannedVisit {
  const account = accounts.find((each) => each.shortName === visit.account);
  // A lot asks for before and after only, and that is what is taken there, in passing.
  const isLot = account?.photoRule === 'lot';
  const coarse = isLot || id === demoTenants.practice;
  const began = beginning(visit, madeAt);
  return {
    ...visit,
    began,
    workOrders: visit.workOrders.map((workOrder, turn) => ({
      workOrder,
      began: plusMinutes(began, turn * minuteOf.next),
      shots: shotsOf(workOrder, firstNumbers.workOrder * 100 + index * 10 + turn)
        .filter(({ purpose }) => !isLot || purpose !== 'progress')
        .map((shot) => ({ ...shot, drawn: { ...shot.drawn, coarse } })),
    })),
  };
}

function beginning({ day, time }: DemoVisit, madeAt: Instant): Instant {
  if (typeof day === 'string') return instantOn(day, time);
  if ('daysBack' in day) return instantOn(dayBefore(madeAt, day.daysBack), time);
  return plusMinutes(madeAt, -day.minutesBack);
}

async function openStage(
  { services, temporaryFolder, setClock, drawer }: DemoTools,
  { business, openedOn }: Story,
  madeAt: Instant,
  visits: readonly PlannedVisit[],
): Promise<Stage> {
  const day = openedOn(madeAt);
  setClock(instantOn(day, '08:00'));
  const people = await openBusiness(services, business, day);
  const [owner] = people.values();
  if (!owner) throw new Error('the demo’s business has no owner');
  const accounts = new Map<string, OpenedAccount>();
  for (const account of business.accounts)
    accounts.set(account.shortName, await openAccount(services, owner, account, day));
  return {
    services,
    temporaryFolder,
    pictures: openPictureBook(
      drawer,
      visits.flatMap((visit) => visit.workOrders),
    ),
    clock: demoClock(setClock, madeAt),
    people,
    owner,
    office: people.get('OF') ?? owner,
    bookkeeper: people.get('HT') ?? owner,
    accounts,
    remembered: {
      workOrders: new Map(),
      invoices: new Map(),
      lines: new Map(),
      payments: new Map(),
      disputes: new Map(),
    },
  };
}

interface StoryEvent {
  readonly at: Instant;
  readonly tell: () => Promise<void>;
}

/** Deposits come in the morning, other money is booked in the evening, statements go out early on the first day. */
function inOrder(
  stage: Stage,
  { money, statementsOf }: Story,
  visits: readonly PlannedVisit[],
): readonly StoryEvent[] {
  const events: readonly StoryEvent[] = [
    ...visits.map((visit) => ({ at: visit.began, tell: () => tellVisit(stage, visit) })),
    ...money.map((booked) => ({
      at: instantOn(booked.on, booked.kind === 'deposit' ? '08:00' : '17:00'),
      tell: () => tellMoney(stage, booked),
    })),
    ...statementsOf.map((month) => ({ at: dayAfter(month), tell: () => issueMonth(stage, month) })),
  ];
  return events.toSorted((a, b) => Date.parse(a.at) - Date.parse(b.at));
}

function dayAfter(month: string): Instant {
  const [year = 0, number = 0] = month.split('-').map(Number);
  return instantOn(`${year}-${String(number + 1).padStart(2, '0')}-01`, '07:00');
}

async function issueMonth({ services, bookkeeper }: Stage, month: string): Promise<void> {
  const runId = toId<StatementRunId>(services.newId());
  must(await runStatements(services, bookkeeper, { runId, month, accountIds: null }));
  must(await issueStatements(services, { tenantId: bookkeeper.tenantId, runId }));
}
