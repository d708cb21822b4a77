import { listMessageNews, listNumberNews, listStepNews } from '@grainwright/db';
import {
  addSeconds,
  displayMoney,
  type Instant,
  instant,
  isBefore,
  ok,
  type Result,
  refuse,
  type WorkOrderId,
} from '@grainwright/domain';
import { type Actor, performAsStaff, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { vehicleWords } from '../work-orders/vehicle-words.ts';

export const newsKinds = [
  'approved',
  'declined',
  'lapsed',
  'voided',
  'accepted',
  'not_accepted',
  'numbers',
  'message',
] as const;

/** Something that others did about a vehicle of one's own visits. */
export interface NewsView {
  /** The same news has the same id, however often it is told. */
  readonly id: string;
  readonly at: Instant;
  readonly kind: (typeof newsKinds)[number];
  readonly workOrderId: WorkOrderId;
  readonly number: bigint;
  readonly vehicle: string;
  /** “WO-1034 approved: $79.75”. */
  readonly words: string;
}

export interface NewsList {
  /** The earliest first. */
  readonly news: readonly NewsView[];
  /** What to give as `since` the next time. */
  readonly until: Instant;
}

/** How far back one can ask. */
const daysBack = 7;
const newsMax = 100;
/** What began before a moment may be written after it: so much is told once more, under the same ids. */
const overlapSeconds = 30;

/**
 * What is new on the work orders of the actor's own visits since a moment, of the last days at most: answers of accounts,
 * estimates that lapsed, numbers and questions that came. What they did themselves is no news. Refuses with `invalid_date`.
 */
export function listNews(
  services: Services,
  actor: Actor,
  input: { readonly since?: string | undefined } = {},
): Promise<Result<NewsList>> {
  return performAsStaff(services, actor, 'see_work_orders', async (scope) => {
    const since = readSince(input.since, scope.now);
    if (!since.ok) return since;
    const asked = { technicianId: scope.actor.personId, since: since.value, limit: newsMax };
    const steps = await listStepNews(scope.tx, asked, Object.keys(kindOfEvent));
    const numbers = await listNumberNews(scope.tx, asked);
    const messages = await listMessageNews(scope.tx, asked);
    const news = [
      ...steps.map((step) => stepNews(scope, step)),
      ...numbers.map(numberNews),
      ...messages.map(messageNews),
    ];
    return ok({
      news: news.toSorted((a, b) => (a.at === b.at ? 0 : isBefore(a.at, b.at) ? -1 : 1)),
      until: scope.now,
    });
  });
}

function readSince(text: string | undefined, now: Instant): Result<Instant> {
  const earliest = addSeconds(now, -daysBack * 86_400);
  if (text === undefined || text === '') return ok(earliest);
  try {
    const since = addSeconds(instant(text), -overlapSeconds);
    return ok(isBefore(since, earliest) ? earliest : since);
  } catch {
    return refuse('invalid_date', 'Write the moment like 2026-08-05T14:00:00Z.', 'since');
  }
}

type StepRow = Awaited<ReturnType<typeof listStepNews>>[number];
type NumberRow = Awaited<ReturnType<typeof listNumberNews>>[number];

function stepNews({ business }: Scope, row: StepRow): NewsView {
  const { id, at, workOrderId, number, totalMinor } = row;
  const kind = kindOfEvent[row.event] ?? 'approved';
  const total =
    totalMinor === null || kind !== 'approved' ? '' : `: ${displayMoney(totalMinor, business.currency)}`;
  const words = `WO-${number} ${kindWords[kind]}${total}`;
  return { id, at, kind, workOrderId, number, vehicle: vehicleWords(row.vehicle, row.ownNumber), words };
}

type StepKind = Exclude<NewsView['kind'], 'numbers' | 'message'>;

const kindOfEvent: Readonly<Record<string, StepKind>> = {
  approved: 'approved',
  approved_by_rule: 'approved',
  declined: 'declined',
  lapsed: 'lapsed',
  voided: 'voided',
  accepted: 'accepted',
  not_accepted: 'not_accepted',
};

const kindWords: Readonly<Record<StepKind, string>> = {
  approved: 'approved',
  declined: 'declined',
  lapsed: 'lapsed: nobody answered in time',
  voided: 'voided',
  accepted: 'accepted',
  not_accepted: 'not accepted',
};

function numberNews(row: NumberRow): NewsView {
  const { id, at, workOrderId, number } = row;
  const given = [row.ownNumber, row.roNumber && `RO ${row.roNumber}`, row.poNumber && `PO ${row.poNumber}`]
    .filter((each) => each !== '')
    .join(', ');
  const words = `WO-${number} has its numbers: ${given}`;
  return {
    id,
    at,
    kind: 'numbers',
    workOrderId,
    number,
    vehicle: vehicleWords(row.vehicle, row.ownNumber),
    words,
  };
}

type MessageRow = Awaited<ReturnType<typeof listMessageNews>>[number];

function messageNews(row: MessageRow): NewsView {
  const { id, at, workOrderId, number, byName } = row;
  const words = `WO-${number}: ${byName} has written`;
  const vehicle = vehicleWords(row.vehicle, row.ownNumber);
  return { id, at, kind: 'message', workOrderId, number, vehicle, words };
}
