import { describe, expect, test } from 'vitest';
import { day } from '../dates.ts';
import type { PhotographedLine, PhotoPurpose } from './photos.ts';
import {
  type AcceptanceFacts,
  type FinishFacts,
  type InvoiceFacts,
  purchaseOrderCounts,
  readyForAcceptance,
  readyToFinish,
  readyToInvoice,
  readyToStart,
  readyToSubmit,
  type StartFacts,
  type SubmitFacts,
  withinPurchaseOrder,
} from './readiness.ts';

const cut = {
  label: 'Cut or tear, tailgate lining',
  repairsDamage: true,
  priced: true,
  photos: ['before'],
} as const;
const trimOff = { label: 'Trim panel off and on', repairsDamage: false, priced: true, photos: [] } as const;

describe('before a work order waits for approval', () => {
  const complete: SubmitFacts = {
    hasAccount: true,
    hasVehicle: true,
    madeAtBooking: false,
    lines: [cut, trimOff],
  };

  test('an account, a vehicle, priced lines and their before photos are enough', () => {
    expect(readyToSubmit(complete).ok).toBe(true);
  });

  test.each<[string, Partial<SubmitFacts>, string, string]>([
    ['no account', { hasAccount: false }, 'invalid_input', 'account'],
    ['no vehicle', { hasVehicle: false }, 'invalid_input', 'vehicle'],
    ['no line', { lines: [] }, 'line_missing', 'lines'],
    ['a line without a price', { lines: [cut, { ...trimOff, priced: false }] }, 'price_by_hand', 'lines'],
    [
      'a repair without its before photo',
      { lines: [{ ...cut, photos: ['after'] }] },
      'photo_missing',
      'photos',
    ],
  ])('%s is refused', (_what, change, code, field) => {
    expect(readyToSubmit({ ...complete, ...change })).toMatchObject({ ok: false, problem: { code, field } });
  });

  test('every line that lacks its photo is named', () => {
    const burn = { ...cut, label: 'Burn, carpet', photos: [] };
    const result = readyToSubmit({ ...complete, lines: [{ ...cut, photos: [] }, trimOff, burn] });
    expect(result.ok ? '' : result.problem.detail).toBe(
      'Photos still to take: before picture of Cut or tear, tailgate lining; before picture of Burn, carpet.',
    );
  });

  test('an estimate made at booking needs no photo', () => {
    expect(readyToSubmit({ ...complete, madeAtBooking: true, lines: [{ ...cut, photos: [] }] }).ok).toBe(
      true,
    );
  });
});

describe('before work starts', () => {
  const complete: StartFacts = {
    photoRule: 'retail',
    workOrderPhotos: ['walk_around'],
    approvedLineCount: 1,
    holdReason: null,
    cautionsToShow: ['heat', 'spraying'],
    cautionsAcknowledged: ['spraying', 'heat'],
  };

  // Common practice, no source: a walk-around shows what was there before anybody touched the vehicle.
  test('somebody’s own vehicle is walked around before, and not after, the work', () => {
    expect(readyToStart({ ...complete, workOrderPhotos: [] })).toMatchObject({
      ok: false,
      problem: { code: 'photo_missing', field: 'photos' },
    });
    expect(readyToStart({ ...complete, photoRule: 'trade', workOrderPhotos: [] }).ok).toBe(true);
  });

  test('an approved line and acknowledged cautions are enough', () => {
    expect(readyToStart(complete).ok).toBe(true);
  });

  test.each<[string, Partial<StartFacts>, string]>([
    ['nothing approved', { approvedLineCount: 0 }, 'nothing_approved'],
    ['a hold', { holdReason: 'credit limit' }, 'wrong_state'],
    ['a caution not acknowledged', { cautionsAcknowledged: ['heat'] }, 'cautions_open'],
  ])('%s stops it', (_what, change, code) => {
    expect(readyToStart({ ...complete, ...change })).toMatchObject({ ok: false, problem: { code } });
  });
});

describe('before work is done', () => {
  function finish(
    rule: FinishFacts['photoRule'],
    photos: readonly PhotoPurpose[],
    change: Partial<FinishFacts> = {},
  ) {
    const line: PhotographedLine = { label: 'Burn, carpet', repairsDamage: true, photos };
    return readyToFinish({
      photoRule: rule,
      workOrderPhotos: ['walk_around'],
      approvedLines: [line],
      openContradictions: [],
      openPhotoWarnings: [],
      ...change,
    });
  }

  // Common practice, no source: retail walk-around, before, after; trade before, proof, after; lot before, after.
  test.each<[FinishFacts['photoRule'], readonly PhotoPurpose[], boolean]>([
    ['retail', ['before', 'after'], true],
    ['lot', ['before', 'after'], true],
    ['trade', ['before', 'after_heat', 'after'], true],
    ['trade', ['before', 'cut_out', 'after'], true],
    ['trade', ['before', 'progress', 'after'], true],
    ['trade', ['before', 'ruler', 'after'], true],
    ['trade', ['before', 'after'], false],
    ['trade', ['before', 'stop_point', 'after'], false],
    ['lot', ['before', 'ruler'], false],
    ['lot', ['after'], false],
    ['retail', ['before'], false],
  ])('under the %s rule, photos of %j: enough is %s', (rule, photos, enough) => {
    const result = finish(rule, photos);
    expect(result.ok).toBe(enough);
    if (!result.ok) expect(result.problem.code).toBe('photo_missing');
  });

  test('retail work needs a walk-around, others do not', () => {
    const without = { workOrderPhotos: [] };
    expect(finish('retail', ['before', 'after'], without)).toMatchObject({
      problem: { detail: 'Photos still to take: walk-around.' },
    });
    expect(finish('lot', ['before', 'after'], without).ok).toBe(true);
  });

  test('a line that repairs no damage needs no photo', () => {
    expect(finish('trade', [], { approvedLines: [trimOff] }).ok).toBe(true);
  });

  test('open contradictions and photo warnings are told in their own words', () => {
    const result = finish('lot', ['before', 'after'], {
      openContradictions: ['Masking is missing.'],
      openPhotoWarnings: ['One photo looks blurred.'],
    });
    expect(result).toMatchObject({ problem: { code: 'contradiction' } });
    expect(result.ok ? '' : result.problem.detail).toContain('Masking is missing. One photo looks blurred.');
  });
});

describe('before done work counts as accepted', () => {
  const unsigned = {
    why: 'refused',
    reason: 'wants a new part',
    witness: 'Ravi Stellmacher',
    releasedBy: 'the owner',
  } as const;
  const complete: AcceptanceFacts = {
    rule: 'vehicle_owner',
    answer: { outcome: 'accepted', signerRole: 'vehicle_owner' },
    openContradictions: [],
    unsigned: null,
  };

  test.each<[string, Partial<AcceptanceFacts>]>([
    ['the owner accepted', {}],
    [
      'the owner accepted with a remark',
      { answer: { outcome: 'accepted_with_remark', signerRole: 'vehicle_owner' } },
    ],
    ['no acceptance is required', { rule: 'none', answer: null }],
    ['a refusal was recorded and released', { answer: null, unsigned }],
    ['an absence was recorded and released', { answer: null, unsigned: { ...unsigned, why: 'absent' } }],
    [
      'work not accepted was released',
      { answer: { outcome: 'not_accepted', signerRole: 'vehicle_owner' }, unsigned },
    ],
  ])('it counts when %s', (_what, change) => {
    expect(readyForAcceptance({ ...complete, ...change }).ok).toBe(true);
  });

  test.each<[string, Partial<AcceptanceFacts>, string]>([
    ['no answer came', { answer: null }, 'signature_missing'],
    [
      'it was not accepted',
      { answer: { outcome: 'not_accepted', signerRole: 'vehicle_owner' } },
      'signature_missing',
    ],
    [
      'it was not accepted where nobody had to sign',
      { rule: 'none', answer: { outcome: 'not_accepted', signerRole: 'vehicle_owner' } },
      'signature_missing',
    ],
    [
      'somebody of the account signed for the owner',
      { answer: { outcome: 'accepted', signerRole: 'account_representative' } },
      'signer_not_fitting',
    ],
    ['the owner signed where the account must', { rule: 'account_representative' }, 'signer_not_fitting'],
    ['the signature contradicts the record', { openContradictions: ['It is older.'] }, 'contradiction'],
    [
      'a refusal is not released',
      { answer: null, unsigned: { ...unsigned, releasedBy: null } },
      'signature_missing',
    ],
    ['a release has no reason', { answer: null, unsigned: { ...unsigned, reason: ' ' } }, 'invalid_input'],
    ['a release has no witness', { answer: null, unsigned: { ...unsigned, witness: '' } }, 'invalid_input'],
  ])('it does not count when %s', (_what, change, code) => {
    expect(readyForAcceptance({ ...complete, ...change })).toMatchObject({ ok: false, problem: { code } });
  });
});

describe('before an invoice may hold it', () => {
  const complete: InvoiceFacts = {
    reworkWithoutCharge: false,
    demandedNumbers: ['repair_order', 'purchase_order'],
    givenNumbers: ['repair_order', 'purchase_order'],
  };

  test('the demanded numbers are enough', () => {
    expect(readyToInvoice(complete).ok).toBe(true);
  });

  // The figures are those of a dealer's work order, agreed beforehand: 612.59 on a purchase order with a cap of 650.00.
  test('a purchase order takes what its cap still allows to the cent, and names what is missing', () => {
    const order = { number: '77105', capMinor: 65000n, invoicedMinor: 0n, currency: 'USD' };
    expect(withinPurchaseOrder(order, 61259n).ok).toBe(true);
    expect(withinPurchaseOrder({ ...order, invoicedMinor: 3741n }, 61259n).ok).toBe(true);
    const over = withinPurchaseOrder({ ...order, invoicedMinor: 18563n }, 61259n);
    expect(over).toMatchObject({
      ok: false,
      problem: { code: 'over_purchase_order', field: 'purchase_order' },
    });
    expect(over.ok ? '' : over.problem.detail).toBe(
      'PO 77105 allows 650.00 USD. 185.63 USD of it is invoiced and this comes to 612.59 USD, 148.22 USD too much. Ask the account to raise it.',
    );
  });

  test('a purchase order counts from its first to its last day, and for no other work', () => {
    const order = { number: '77105', validFrom: day('2026-10-01'), validTo: day('2026-10-31') };
    const of = (...days: readonly string[]) => purchaseOrderCounts(order, days.map(day));
    expect(of('2026-10-01', '2026-10-31').ok).toBe(true);
    expect(of('2026-10-14', '2026-09-30')).toEqual({
      ok: false,
      problem: {
        code: 'dates_out_of_order',
        field: 'purchase_order',
        detail:
          'PO 77105 counts from Oct 1, 2026 to Oct 31, 2026, and the work is of Sep 30, 2026. Ask the account for another PO.',
      },
    });
    expect(of('2026-11-01').ok).toBe(false);
    expect(purchaseOrderCounts({ ...order, validTo: null }, [day('2027-01-01')]).ok).toBe(true);
  });

  test.each<[string, Partial<InvoiceFacts>, string]>([
    ['the PO is missing', { givenNumbers: ['repair_order'] }, 'number_missing'],
    ['a stock number is missing', { demandedNumbers: ['stock'] }, 'number_missing'],
    ['it is a rework without charge', { reworkWithoutCharge: true }, 'wrong_state'],
  ])('it is refused when %s', (_what, change, code) => {
    expect(readyToInvoice({ ...complete, ...change })).toMatchObject({ ok: false, problem: { code } });
  });

  test('missing numbers are named together', () => {
    const result = readyToInvoice({ ...complete, givenNumbers: [] });
    expect(result.ok ? '' : result.problem.detail).toBe(
      'The account needs its repair order (RO) number and purchase order (PO) number on the invoice. Ask for them.',
    );
  });
});
