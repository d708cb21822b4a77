import type { DecisionId, InvoiceId, WorkOrderId } from '@grainwright/domain';
import { formatMinor } from '@grainwright/domain';
import {
  addTier,
  type DecisionPreview,
  decideEstimate,
  type InvoiceView,
  issueInvoice,
  previewDecision,
  type SetPriceTermsInput,
  setPriceTerms,
} from '@grainwright/operations';
import { type AskedEstimate, answersTo } from './asked-estimates.ts';
import { must } from './must.ts';
import { asAdministrator } from './work-in-hand.ts';
import { type Account, anAccount } from './world-account.ts';
import type { Business } from './world-business.ts';

/** Rush is 30 %, at least 40.00; the trip goes by zone. */
export const rushTerms: Omit<SetPriceTermsInput, 'id' | 'validFrom' | 'validTo'> = {
  furtherRepairPercents: ['100', '90', '80'],
  trip: '45.00',
  milesIncluded: '20',
  mile: '1.50',
  tripZones: [
    { name: 'Valley', upToMiles: '20', amount: '45.00' },
    { name: 'Foothills', upToMiles: '35', amount: '70.00' },
  ],
  afterHoursPercent: '25',
  afterHoursMinimum: '60.00',
  rushPercent: '30',
  rushMinimum: '40.00',
  depositFrom: '200.00',
  depositPercent: '50',
  depositStep: '10.00',
};

const limited = {
  discountPercent: '0',
  vehicleMinimum: '65.00',
  vehicleCap: '300.00',
  visitMinimum: '320.00',
  tripWaivedFrom: null,
};

/** 195.00, 140.00 × 90 % = 126.00 and 95.00 × 80 % = 76.00: 397.00 of repairs at list. */
export const threeLines = [
  { part: 'seat_cushion', rateCode: 'VC-M' },
  { part: 'dash', rateCode: 'VC-S' },
  { part: 'front_door_panel', damage: 'scuff', rateCode: 'SC-S' },
] as const;

/** An account 24 miles away, of a tier with a cap of 300.00 a vehicle and a minimum of 320.00 a visit; from 2026-08-10. */
export async function limitedDealer(business: Business): Promise<Account> {
  const { world, owner } = business;
  const dated = { id: world.services.newId(), validFrom: '2026-08-06', validTo: null };
  must(await setPriceTerms(world.services, owner, { ...rushTerms, ...dated }));
  must(await addTier(world.services, owner, { code: 'limited', name: 'Limited', ...limited }));
  world.at('2026-08-10T09:00');
  return anAccount(business, { name: 'Halden of Tessaly', tierCode: 'limited', miles: '24', limit: null });
}

/** The account’s approver says yes to all but the declined lines. */
export async function approvedBy(
  account: Account,
  asked: AskedEstimate,
  declined: Readonly<Record<number, string>> = {},
): Promise<DecisionPreview> {
  const { services, newId } = account.business.world;
  const { workOrderId, versionId, digest } = asked;
  const seen = { workOrderId, versionId, digest, answers: answersTo(asked, declined) };
  const preview = must(await previewDecision(services, account.approver, seen));
  const total = formatMinor(preview.totalMinor, 'USD');
  const decisionId = newId<DecisionId>();
  must(await decideEstimate(services, account.approver, { ...seen, decisionId, total }));
  return preview;
}

/** Takes approved work as accepted without being told, and bills it. */
export async function billedAtOnce(business: Business, ...ids: readonly WorkOrderId[]): Promise<InvoiceView> {
  const { world, bookkeeper } = business;
  await taken(business, 'accepted', ...ids);
  const invoiceId = world.newId<InvoiceId>();
  return must(await issueInvoice(world.services, bookkeeper, { invoiceId, workOrderIds: ids }));
}

/** Work orders in a state whose story is told elsewhere. */
export async function taken(
  { world }: Business,
  state: 'accepted' | 'void',
  ...ids: readonly WorkOrderId[]
): Promise<void> {
  await asAdministrator(
    world,
    (admin) => admin`update work_orders set state = ${state} where id in ${admin(ids)}`,
  );
}
