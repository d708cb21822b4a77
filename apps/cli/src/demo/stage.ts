import type {
  AccountId,
  DisputeId,
  Instant,
  InvoiceId,
  LineId,
  PaymentId,
  SiteId,
  WorkOrderId,
} from '@grainwright/domain';
import type { Services, SignedInActor } from '@grainwright/operations';
import { plusMinutes } from './demo-days.ts';
import type { PictureBook } from './picture-book.ts';

export type People = ReadonlyMap<string, SignedInActor>;

export interface OpenedAccount {
  readonly accountId: AccountId;
  readonly siteId: SiteId;
  /** By e-mail address. */
  readonly contacts: People;
}

/** What was made so far, by the numbers that people would name it by. */
export interface Remembered {
  readonly workOrders: Map<number, WorkOrderId>;
  readonly invoices: Map<string, { readonly id: InvoiceId; readonly accountId: AccountId }>;
  /** Lines on an invoice, by its number and the rate's code. */
  readonly lines: Map<string, LineId>;
  readonly payments: Map<string, PaymentId>;
  /** By the invoice's number and the code of the line. */
  readonly disputes: Map<string, DisputeId>;
}

/** A business of the demo while its story is told. */
export interface Stage {
  readonly services: Services;
  readonly temporaryFolder: string;
  readonly pictures: PictureBook;
  readonly clock: DemoClock;
  readonly people: People;
  readonly owner: SignedInActor;
  readonly office: SignedInActor;
  readonly bookkeeper: SignedInActor;
  readonly accounts: ReadonlyMap<string, OpenedAccount>;
  readonly remembered: Remembered;
}

export interface DemoClock {
  /** The moment from which minutes are counted. */
  at(began: Instant): void;
  /** So many minutes after it. */
  minutesIn(minutes: number): void;
}

export function demoClock(setClock: (at: Instant) => void, began: Instant): DemoClock {
  let from = began;
  return {
    at: (moment) => {
      from = moment;
      setClock(moment);
    },
    minutesIn: (minutes) => setClock(plusMinutes(from, minutes)),
  };
}

export function accountOf({ accounts }: Pick<Stage, 'accounts'>, key: string): OpenedAccount {
  const account = accounts.get(key);
  if (!account) throw new Error(`the demo has no account ${key}`);
  return account;
}

export function personOf(people: People, key: string): SignedInActor {
  const actor = people.get(key);
  if (!actor) throw new Error(`the demo has nobody called ${key}`);
  return actor;
}

export function invoiceOf({ remembered }: Pick<Stage, 'remembered'>, number: string) {
  const invoice = remembered.invoices.get(number);
  if (!invoice) throw new Error(`the demo has no invoice ${number}`);
  return invoice;
}
