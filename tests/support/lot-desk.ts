import type { WorkOrderId } from '@grainwright/domain';
import { readWorkOrder } from '@grainwright/operations';
import { beforeAll, beforeEach, expect } from 'vitest';
import type { AskedEstimate } from './asked-estimates.ts';
import { fieldsOfForm, keptMails, type LinkHolder, linkHolder } from './mailed-links.ts';
import { openWeb, type Web } from './web.ts';
import { type Account, aBusiness, anAccount, type Business, must, openWorld, type World } from './world.ts';

// Figures of an invented job: common practice of the trade, no published source.

/** Two lines of a used car: a torn urethane bolster and a scuffed panel, 305.53 together. */
export const twoLines = [
  { part: 'seat_bolster', rateCode: 'PU-L' },
  { part: 'front_door_panel', damage: 'scuff', rateCode: 'SC-M' },
];
/** By itself 79.75, and with the trip that the visit is charged once 124.75. */
export const scuff = [{ part: 'front_door_panel', damage: 'scuff', rateCode: 'SC-M' }];

/** A world with a business and its web, whose lots are asked by mail and answer by link. Call it at the top of a file. */
export interface LotDesk {
  readonly world: World;
  readonly web: Web;
  readonly business: Business;
  readonly holder: LinkHolder;
  /** A used-car lot of its own, with one approver up to this limit. */
  aLot(limit?: string | null): Promise<Account>;
  /** Somebody’s e-mail address that nobody else has. */
  newEmail(name: string): string;
  stateOf(account: Account, id: WorkOrderId): Promise<string>;
  mailsTo(email: string): ReturnType<typeof keptMails>;
  /** Goes from the page of a link to the new total, with these lines declined. */
  previewed(path: string, asked: AskedEstimate, declined?: readonly number[]): ReturnType<LinkHolder['post']>;
  /** Says yes to every line by the link. */
  answeredBy(path: string, asked: AskedEstimate): Promise<void>;
}

export function vehiclePath(path: string, { workOrderId }: Pick<AskedEstimate, 'workOrderId'>): string {
  return `${path}/work-orders/${workOrderId}`;
}

export function lotDesk(): { readonly desk: () => LotDesk } {
  let opened: LotDesk | null = null;
  const desk = () => {
    if (opened === null) throw new Error('the world is not open yet');
    return opened;
  };
  beforeAll(async () => {
    opened = await openDesk();
  });
  beforeEach(() => desk().world.at('2026-10-06T09:00'));
  return { desk };
}

async function openDesk(): Promise<LotDesk> {
  const world = await openWorld();
  const web = await openWeb(world);
  const business = await aBusiness(world);
  const holder = linkHolder(web);
  let lots = 0;
  let emails = 0;
  const previewed: LotDesk['previewed'] = async (path, asked, declined = []) => {
    const page = await holder.get(path);
    const action = `${vehiclePath(path, asked)}/preview`;
    const fields = fieldsOfForm(page.body, action);
    for (const index of declined) {
      fields[`answer-${asked.lineIds[index]}`] = 'declined';
      fields[`reason-${asked.lineIds[index]}`] = 'not worth it';
    }
    return holder.post(action, fields);
  };
  return {
    world,
    web,
    business,
    holder,
    aLot: (limit = '250.00') => {
      lots += 1;
      return anAccount(business, {
        ...lotTerms,
        shortName: `LOT${lots}`,
        name: `Penny Lantern ${lots}`,
        limit,
      });
    },
    newEmail: (name) => {
      emails += 1;
      return business.emailOf(`${name}${emails}`);
    },
    stateOf: async (account, id) => must(await readWorkOrder(world.services, account.viewer, id)).state,
    mailsTo: async (email) => (await keptMails(business)).filter(({ to }) => to.includes(email)),
    previewed,
    answeredBy: async (path, asked) => {
      const preview = await previewed(path, asked);
      const action = `${vehiclePath(path, asked)}/decision`;
      const answered = await holder.post(action, {
        ...fieldsOfForm(preview.body, action),
        choice: 'as_shown',
      });
      expect(answered.statusCode).toBe(303);
    },
  };
}

const lotTerms = {
  kind: 'used_car_lot',
  tierCode: 'lot',
  ownNumberKind: 'stock',
  acceptanceRule: 'account_representative',
  photoRule: 'lot',
  miles: '8',
  certificate: { kind: 'resale', number: 'R-4471', validFrom: '2026-01-01', validTo: null },
} as const;
