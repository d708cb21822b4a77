import { limitAmount, type WorkOrderId } from '@grainwright/domain';
import type { AskedVisit, WorkOrderView } from '@grainwright/operations';
import type { Assets } from '../../../look/assets.ts';
import { moneyText } from '../../../look/figures.ts';
import { type Html, html } from '../../../look/html.ts';
import { linkPage } from '../../../look/layout.ts';
import type { NoticeReader } from '../../work-order/consent-parts.ts';

/** What every page of a contact's link is made of. */
export interface LinkFrame {
  readonly visit: AskedVisit;
  /** Of the link: `/link/…` */
  readonly path: string;
  readonly assets: Assets['urls'];
}

/** A page of the link, without a way to anything that the link does not open. */
export function approvalPage(
  { visit, assets }: LinkFrame,
  page: {
    readonly heading: string;
    readonly lead?: Html | string;
    readonly beside?: Html | null;
    readonly body: Html;
  },
): Html {
  const { person, accountName, business } = visit;
  const { heading, lead, beside, body } = page;
  return linkPage({
    title: heading,
    heading,
    ...(lead === undefined ? {} : { lead }),
    ...(beside ? { beside } : {}),
    body,
    assets,
    scripts: [assets.pictures, assets.divider],
    business: business.name,
    whose: `This link is ${person.name}’s, for ${accountName}. Do not forward it.`,
  });
}

export function vehicleAddress({ path }: Pick<LinkFrame, 'path'>, id: WorkOrderId): string {
  return `${path}/work-orders/${id}`;
}

/** Nothing but this visit is a step away: invoices stay closed to the link. */
export function linkReader({ visit }: LinkFrame): NoticeReader {
  return { timeZone: visit.business.timeZone, invoicesAt: null };
}

/** Those that wait for an answer of the account, as they can be answered. */
export function waitingOf({ workOrders }: AskedVisit): readonly WorkOrderView[] {
  return workOrders.filter(
    ({ state, estimate }) => state === 'awaiting_approval' && estimate?.versionId != null,
  );
}

export function totalOf({ estimate }: WorkOrderView): bigint {
  return estimate?.price.invoice.totals.withTaxMinor ?? 0n;
}

/** Whether the reader can say yes to all of it just as it is. */
export function canApproveAsShown({ right, today }: AskedVisit, { estimate }: WorkOrderView): boolean {
  if (right === null || estimate === null || estimate.expiresOn === null) return false;
  const { vehicle, visit } = estimate.price;
  const compared = limitAmount(
    vehicle.repairsMinor,
    visit.afterHours?.amountMinor ?? 0n,
    visit.rush?.amountMinor ?? 0n,
  );
  return estimate.expiresOn >= today && (right.limitMinor === null || compared <= right.limitMinor);
}

/** What else of the visit waits, each a step away; null: nothing does. */
export function whatElseWaits(frame: LinkFrame, besides: WorkOrderId | null): Html | null {
  const others = waitingOf(frame.visit).filter(({ id }) => id !== besides);
  if (others.length === 0) return null;
  return html`<section><h2>What else waits for you</h2>
    <ul>${others.map(
      (view) =>
        html`<li><a href="${vehicleAddress(frame, view.id)}">${view.vehicle.description}</a>, ${moneyText(totalOf(view), view.currency)}</li>`,
    )}</ul></section>`;
}
