import type { AccessLinkId, WorkOrderId } from '@grainwright/domain';
import { askOwner, type OwnerAsked, readWorkOrder, type WorkOrderView } from '@grainwright/operations';
import postgres, { type Sql } from 'postgres';
import { afterAll } from 'vitest';
import { openWeb, type Web } from './web.ts';
import { finishedLine, type WorkInHand } from './work-in-hand.ts';
import { type Account, aBusiness, anAccount, type Business, must, openWorld, type World } from './world.ts';

/** Whom the technician asks by a link. */
export interface Asked {
  readonly ownerName: string;
  readonly phone: string;
  readonly email: string;
}

type Reply = Awaited<ReturnType<Web['app']['inject']>>;
type Fields = Readonly<Record<string, string>>;

/** A technician who sends links, owners who follow them without JavaScript, and what is stored of it. */
export interface OwnerDesk {
  readonly world: World;
  readonly web: Web;
  readonly admin: Sql;
  readonly business: Business;
  /** The vehicle's owner signs. */
  readonly installer: Account;
  ask(workOrderId: WorkOrderId, change?: Partial<Asked>, linkId?: AccessLinkId): ReturnType<typeof askOwner>;
  /** Finished work whose owner has a link. */
  askedOwner(change?: Partial<Asked>, account?: Account): Promise<OwnerAskedFor>;
  get(path: string): Promise<Reply>;
  /** Sends the form as it is given. */
  send(path: string, fields: Fields): Promise<Reply>;
  /** Opens the link and sends its form with these words. */
  answer(path: string, change?: Fields): Promise<Reply>;
  read(work: WorkInHand): Promise<WorkOrderView>;
  answersOf(work: WorkInHand): Promise<readonly Record<string, unknown>[]>;
}

export interface OwnerAskedFor {
  readonly work: WorkInHand;
  readonly asked: OwnerAsked;
  /** Where the link leads. */
  readonly path: string;
}

export const orrin: Asked = { ownerName: 'Orrin Vasek', phone: '212-555-0142', email: '' };

/** What an owner fills in who accepts and types the name. */
export const accepted = {
  signer_role: 'vehicle_owner',
  outcome: 'accepted',
  remark: '',
  signer_name: 'Orrin Vasek',
  confirmed: 'yes',
};

export const pathOf = ({ address }: Pick<OwnerAsked, 'address'>) => new URL(address).pathname;

/** What stands in a hidden field of a page. */
export function fieldOf(body: string, name: string): string {
  const value = new RegExp(`name="${name}" value="([^"]*)"`).exec(body)?.[1];
  if (value === undefined) throw new Error(`the page has no field ${name}`);
  return value;
}

/** The fields of a page that tell which answer it is, to what. */
export function hiddenFields({ body }: Reply) {
  return { id: fieldOf(body, 'id'), shown_digest: fieldOf(body, 'shown_digest') };
}

export async function ownerDesk(): Promise<OwnerDesk> {
  const world = await openWorld();
  const web = await openWeb(world);
  const business = await aBusiness(world);
  const installer = await anAccount(business, { limit: null });
  const admin = postgres(world.adminUrl, { max: 1, onnotice: () => undefined });
  afterAll(() => admin.end({ timeout: 5 }));
  const ask: OwnerDesk['ask'] = (workOrderId, change = {}, linkId = world.newId<AccessLinkId>()) =>
    askOwner(world.services, business.technician, { linkId, workOrderId, ...orrin, ...change });
  const get: OwnerDesk['get'] = (path) => web.app.inject({ method: 'GET', url: path });
  const send: OwnerDesk['send'] = (path, fields) =>
    web.app.inject({
      method: 'POST',
      url: `${path}/acceptance`,
      headers: { 'content-type': 'application/x-www-form-urlencoded', 'user-agent': 'an owner’s phone' },
      payload: new URLSearchParams(fields).toString(),
    });
  return {
    world,
    web,
    admin,
    business,
    installer,
    ask,
    get,
    send,
    async askedOwner(change = {}, account = installer) {
      const work = await finishedLine(account);
      const asked = must(await ask(work.workOrderId, change));
      return { work, asked, path: pathOf(asked) };
    },
    answer: async (path, change = {}) =>
      send(path, { ...hiddenFields(await get(path)), ...accepted, ...change }),
    read: async ({ workOrderId }) => must(await readWorkOrder(world.services, business.office, workOrderId)),
    answersOf: async ({ workOrderId }) => [
      ...(await admin`select outcome, remark, taken_by, link_id, identified_by, device, from_address, shown, shown_digest,
        method from acceptances where work_order_id = ${workOrderId}`),
    ],
  };
}
