import type {
  CreditNoteId,
  DiscountId,
  DisputeId,
  InvoiceId,
  LineId,
  WorkOrderId,
  WriteOffId,
} from '@grainwright/domain';
import { issueCreditNote, issueInvoice, openDispute, takeDiscount, writeOff } from '@grainwright/operations';
import { must } from '../support/world.ts';
import type { Teller } from './told-work.ts';

/** Accepted work that nothing else is told of. */
interface ToldWorks {
  readonly credited: { readonly workOrder: WorkOrderId; readonly line: LineId };
  readonly voidable: { readonly workOrder: WorkOrderId };
}

/** An invoice of which a part is credited, disputed and written off, and one that nothing has happened to. */
export async function tellCredits({ account, word }: Teller, works: ToldWorks) {
  const { world, bookkeeper } = account.business;
  const { services, newId } = world;
  const issue = async (workOrder: WorkOrderId) =>
    must(
      await issueInvoice(services, bookkeeper, {
        invoiceId: newId<InvoiceId>(),
        workOrderIds: [workOrder],
      }),
    );
  const voidable = await issue(works.voidable.workOrder);
  const { id: invoiceId } = await issue(works.credited.workOrder);
  const lineId = works.credited.line;
  const reason = `wrong size for ${word}`;
  const [creditNoteId, disputeId] = [newId<CreditNoteId>(), newId<DisputeId>()];
  const [writeOffId, discountId] = [newId<WriteOffId>(), newId<DiscountId>()];
  const dated = { on: null, reason };
  must(
    await issueCreditNote(services, bookkeeper, {
      creditNoteId,
      invoiceId,
      reason,
      lines: [{ kind: 'reduced', lineId, net: '20.00' }],
      charges: [],
      certificateIds: [],
      issuedOn: null,
      apply: false,
    }),
  );
  const disputed = { disputeId, invoiceId, lineId, amount: '1.00', reason: 'disputed', on: null };
  must(await openDispute(services, bookkeeper, { ...disputed, note: `not agreed by ${word}` }));
  const loss = { writeOffId, invoiceId, amount: '1.00', kind: 'bad_debt', ...dated };
  must(await writeOff(services, bookkeeper, loss));
  must(await takeDiscount(services, bookkeeper, { discountId, invoiceId, amount: '1.00', ...dated }));
  const made = { creditNote: creditNoteId, dispute: disputeId, writeOff: writeOffId, discount: discountId };
  const { discount: _discount, ...named } = made;
  return {
    named: { creditedInvoice: invoiceId, creditedLine: lineId, voidableInvoice: voidable.id, ...named },
    made: { ...made, contactDispute: disputeId },
  };
}
