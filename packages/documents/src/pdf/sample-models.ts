import { addDays, day, decimal, month } from '@grainwright/domain';
import type { CreditNoteModel } from './credit-note-pdf.ts';
import type { InvoiceLine, InvoiceModel } from './invoice-model.ts';
import type { StatementEntry, StatementItem, StatementModel } from './statement-model.ts';

// A JPEG of 16 by 12 pixels and a PNG of 4 by 2, both of one color, made for these tests.
export const jpeg = Buffer.from(
  '/9j/2wBDABQODxIPDRQSEBIXFRQYHjIhHhwcHj0sLiQySUBMS0dARkVQWnNiUFVtVkVGZIhlbXd7gYKBTmCNl4x9lnN+gXz/2wBDARUXFx4aHjshITt8U0ZTfHx8fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHx8fHz/wAARCAAMABADASIAAhEBAxEB/8QAFQABAQAAAAAAAAAAAAAAAAAAAAX/xAAUEAEAAAAAAAAAAAAAAAAAAAAA/8QAFQEBAQAAAAAAAAAAAAAAAAAABAX/xAAUEQEAAAAAAAAAAAAAAAAAAAAA/9oADAMBAAIRAxEAPwCeACqv/9k=',
  'base64',
);
export const png = Buffer.from(
  'iVBORw0KGgoAAAANSUhEUgAAAAQAAAACCAYAAAB/qH1jAAAACXBIWXMAAAPoAAAD6AG1e1JrAAAAEUlEQVQImWOQj/E9g4wZ0AUAzuIModlyXIkAAAAASUVORK5CYII=',
  'base64',
);

const seller = {
  name: 'Seamline Interior Repair',
  lines: ['14 Mill Street', 'Alder Falls, OH 44000', '555-0142', 'office@seamline.example'],
  logo: null,
};

const buyer = { name: 'Bluegate Glass & Trim', lines: ['900 Harbor Road', 'Alder Falls, OH 44001'] };

const digest = '9f86d081884c7d659a2feaa0c55ad015a3bf4f1b2b0b822cd15d6c15b0f00a08';

/** A statement of open items: 100.00 to open with, 84.50 charged, 12.00 credited and 22.50 paid leave 150.00. */
export function openItemStatement(changes: Partial<StatementModel> = {}): StatementModel {
  return {
    size: 'letter',
    seller,
    buyer,
    number: 'ST-0007',
    month: month('2026-10'),
    from: day('2026-10-01'),
    to: day('2026-10-31'),
    currency: 'USD',
    openingMinor: 10000n,
    chargesMinor: 8450n,
    creditsMinor: 1200n,
    paymentsMinor: 2250n,
    closingMinor: 15000n,
    content: { kind: 'open_item', items: [oldItem, newItem] },
    aging: {
      basis: 'due_date',
      buckets: { current: 8450n, days_1_30: 6550n, days_31_60: 0n, days_61_90: 0n, over_90: 0n },
      unappliedMinor: 0n,
    },
    depositsHeldMinor: 0n,
    replacement: null,
    note: '',
    posting: 412n,
    digest,
    sealedDay: { day: day('2026-08-31'), root: digest, sha256: digest },
    publicUrl: 'https://repair.example',
    ...changes,
  };
}

const oldItem: StatementItem = {
  issuedOn: day('2026-09-02'),
  number: 'GW-0012',
  theirNumbers: 'RO 4471, PO 88',
  dueOn: day('2026-10-02'),
  daysPastDue: 29,
  amountMinor: 10000n,
  settledMinor: 3450n,
  openMinor: 6550n,
  disputedMinor: 2000n,
};

const newItem: StatementItem = {
  issuedOn: day('2026-10-12'),
  number: 'GW-0019',
  theirNumbers: '',
  dueOn: day('2026-11-11'),
  daysPastDue: 0,
  amountMinor: 8450n,
  settledMinor: 0n,
  openMinor: 8450n,
  disputedMinor: 0n,
};

/** An account that paid twice: 123.22 is to its credit. */
export function creditStatement(changes: Partial<StatementModel> = {}): StatementModel {
  return openItemStatement({
    openingMinor: 0n,
    chargesMinor: 12322n,
    creditsMinor: 0n,
    paymentsMinor: 24644n,
    closingMinor: -12322n,
    content: { kind: 'open_item', items: [] },
    aging: {
      basis: 'due_date',
      buckets: { current: 0n, days_1_30: 0n, days_31_60: 0n, days_61_90: 0n, over_90: 0n },
      unappliedMinor: -12322n,
    },
    ...changes,
  });
}

/** A statement with `count` invoices of 1.00 each, one a day from October 1 on. */
export function longStatement(count: number, changes: Partial<StatementModel> = {}): StatementModel {
  const entries = Array.from(
    { length: count },
    (_, index): StatementEntry => ({
      on: addDays(day('2026-10-01'), index % 31),
      words: 'Invoice',
      document: `GW-${String(index + 1).padStart(4, '0')}`,
      theirNumbers: `RO ${5000 + index}`,
      amountMinor: 100n,
    }),
  );
  const chargesMinor = 100n * BigInt(count);
  return openItemStatement({
    openingMinor: 0n,
    chargesMinor,
    creditsMinor: 0n,
    paymentsMinor: 0n,
    closingMinor: chargesMinor,
    content: { kind: 'balance_forward', entries },
    aging: {
      basis: 'due_date',
      buckets: { current: chargesMinor, days_1_30: 0n, days_31_60: 0n, days_61_90: 0n, over_90: 0n },
      unappliedMinor: 0n,
    },
    ...changes,
  });
}

/** One vehicle, a trip, a tax of 8 % on 160.00 and a deposit of 50.00. */
export function sampleInvoice(changes: Partial<InvoiceModel> = {}): InvoiceModel {
  return {
    size: 'letter',
    seller: { ...seller, logo: png },
    buyer,
    number: 'GW-0021',
    issuedOn: day('2026-10-12'),
    dueOn: day('2026-11-11'),
    workedOn: day('2026-10-09'),
    currency: 'USD',
    theirNumbers: [{ term: 'PO', value: '7710' }],
    vehicles: [
      {
        vehicle: '2021 Hollis Meridian, gray',
        numbers: 'WO-1012, RO 4471, stock 220',
        lines: [
          {
            code: 'LT-M',
            description: 'Leather tear, medium (driver seat, left bolster)',
            trail: 'list 150.00, tier 0.90',
            laborMinor: 11880n,
            materialsMinor: 1620n,
            netMinor: 13500n,
          },
        ],
        subtotalMinor: 13500n,
        acceptance: {
          outcome: 'Accepted',
          name: 'Dana Ruiz',
          role: 'account’s representative',
          on: day('2026-10-09'),
          remark: '',
        },
        pictures: [
          {
            words: 'Leather tear, driver seat',
            before: { bytes: jpeg, takenOn: day('2026-10-08') },
            after: { bytes: jpeg, takenOn: day('2026-10-09') },
          },
        ],
      },
    ],
    charges: [trip],
    taxes: [
      {
        areaName: 'Alder County',
        component: 'State',
        ratePercent: decimal('8'),
        baseMinor: 16000n,
        taxMinor: 1280n,
      },
    ],
    exemptions: [],
    netMinor: 16000n,
    taxMinor: 1280n,
    totalMinor: 17280n,
    deposits: [{ words: 'Deposit of Oct 2, 2026, card', amountMinor: 5000n }],
    dueMinor: 12280n,
    note: 'Thank you for your business.',
    ...changes,
  };
}

const trip: InvoiceLine = {
  code: 'TRIP',
  description: 'Trip',
  trail: '25 miles',
  laborMinor: 0n,
  materialsMinor: 0n,
  netMinor: 2500n,
};

/** 62.50 and 5.38 tax taken back. */
export function sampleCreditNote(changes: Partial<CreditNoteModel> = {}): CreditNoteModel {
  return {
    size: 'letter',
    seller,
    buyer,
    number: 'CN-0003',
    issuedOn: day('2026-11-04'),
    invoice: { number: 'GW-0021', issuedOn: day('2026-10-12') },
    currency: 'USD',
    reason: 'Seam opened again',
    lines: [
      {
        code: 'RI-1',
        description: 'Remove and install',
        vehicle: '2021 Hollis Meridian, gray',
        netMinor: 6250n,
      },
    ],
    taxes: [
      {
        areaName: 'Alder County',
        component: 'State',
        ratePercent: decimal('8.6'),
        baseMinor: 6250n,
        taxMinor: 538n,
      },
    ],
    netMinor: 6250n,
    taxMinor: 538n,
    totalMinor: 6788n,
    explanation: 'Issued 172.80, recomputed 104.92: the difference is credited.',
    note: '',
    ...changes,
  };
}
