import {
  findVehicleKeys,
  type InvoiceOfWork,
  type InvoicePhoto,
  listBeforeAndAfter,
  listInvoicesOfWork,
  listWorkOfVehicles,
  type WorkOfVehicle,
} from '@grainwright/db';
import {
  type AccountId,
  allows,
  type Day,
  type InvoiceId,
  ok,
  type PhotoId,
  type Result,
  type WorkOrderId,
  type WorkOrderState,
} from '@grainwright/domain';
import { type Actor, perform } from '../perform.ts';
import { readOptionalWords } from '../read-input.ts';
import type { Services } from '../services.ts';
import { numberWords, vehicleWords } from './vehicle-words.ts';

export interface FindVehiclesInput {
  /** A VIN, its last 8, part of an RO, PO or own number or of the owner's name, or a work order's number. */
  readonly text: string;
  /** Null: of every account. A contact finds the own account's whatever stands here. */
  readonly accountId: AccountId | null;
  /** The `next` of the page before. */
  readonly below?: bigint | undefined;
}

/** A vehicle with everything that was done on it for an account, the newest work first. */
export interface VehicleView {
  readonly accountId: AccountId;
  readonly accountName: string;
  readonly vehicle: string;
  readonly vin: string | null;
  readonly lastEight: string | null;
  readonly ownerName: string;
  readonly workOrders: readonly VehicleWorkView[];
  /** Of its newest work that has pictures; their copies are made. */
  readonly before: PhotoId | null;
  readonly after: PhotoId | null;
}

export interface VehicleWorkView {
  readonly id: WorkOrderId;
  readonly number: bigint;
  readonly state: WorkOrderState;
  readonly isRework: boolean;
  readonly day: Day;
  /** The account's numbers in words. */
  readonly numbers: string;
  /** Null while there is none, and for who may not see invoices. */
  readonly invoice: { readonly id: InvoiceId; readonly number: string } | null;
}

export interface VehicleList {
  readonly rows: readonly VehicleView[];
  /** Where the next page goes on; null on the last. */
  readonly next: bigint | null;
}

const rowsOfAPage = 30;

/** Vehicles that fit, the newest work first: all for who may see all, a technician's own, a contact's account's. */
export function findVehicles(
  services: Services,
  actor: Actor,
  input: FindVehiclesInput,
): Promise<Result<VehicleList>> {
  return perform(services, actor, 'see_work_orders', async ({ tx, member }) => {
    const text = readOptionalWords(input.text, 'text', 'what to look for', 60);
    if (!text.ok) return text;
    const ownOnly = actor.accountId === null && !allows(member.role, 'see_all_work_orders');
    const found = await findVehicleKeys(tx, {
      text: text.value,
      accountId: actor.accountId ?? input.accountId ?? undefined,
      technicianId: ownOnly ? actor.personId : undefined,
      below: input.below,
      limit: rowsOfAPage + 1,
    });
    const shown = found.slice(0, rowsOfAPage);
    const works = await listWorkOfVehicles(tx, shown);
    const ids = works.map((work) => work.id);
    const photos = ids.length === 0 ? [] : await listBeforeAndAfter(tx, ids);
    const invoices = allows(member.role, 'see_invoices') ? await listInvoicesOfWork(tx, ids) : [];
    const rows = shown.flatMap(({ accountId, key }) => {
      const own = works.filter((work) => work.accountId === accountId && work.key === key);
      return vehicleView(own, { photos, invoices });
    });
    return ok({ rows, next: found.length > rowsOfAPage ? (shown.at(-1)?.newest ?? null) : null });
  });
}

interface Shown {
  readonly photos: readonly InvoicePhoto[];
  readonly invoices: readonly InvoiceOfWork[];
}

/** By its newest write-up; a VIN that an older one has is kept. */
function vehicleView(works: readonly WorkOfVehicle[], shown: Shown): readonly VehicleView[] {
  const [newest] = works;
  if (newest === undefined) return [];
  const { accountId, accountName, vehicle } = newest;
  return [
    {
      accountId,
      accountName,
      vehicle: vehicleWords(vehicle, newest.ownNumber),
      vin: works.find((work) => work.vehicle.vin !== null)?.vehicle.vin ?? null,
      lastEight: vehicle.lastEight,
      ownerName: works.find((work) => work.ownerName !== '')?.ownerName ?? '',
      workOrders: works.map((work) => workView(work, shown.invoices)),
      ...picturesOf(works, shown.photos),
    },
  ];
}

function workView(work: WorkOfVehicle, invoices: readonly InvoiceOfWork[]): VehicleWorkView {
  const invoice = invoices.find((each) => each.workOrderId === work.id);
  return {
    id: work.id,
    number: work.number,
    state: work.state,
    isRework: work.reworkOfId !== null,
    day: work.day,
    numbers: numberWords({
      ownKind: work.ownNumberKind,
      own: work.ownNumber,
      ro: work.roNumber,
      po: work.poNumber,
    }),
    invoice: invoice === undefined ? null : { id: invoice.id, number: invoice.number },
  };
}

function picturesOf(works: readonly WorkOfVehicle[], photos: readonly InvoicePhoto[]) {
  const newest = works.find((work) => photos.some((photo) => photo.workOrderId === work.id));
  const own = photos.filter((photo) => photo.workOrderId === newest?.id);
  return {
    before: own.find((photo) => photo.purpose === 'before')?.id ?? null,
    after: own.findLast((photo) => photo.purpose === 'after')?.id ?? null,
  };
}
