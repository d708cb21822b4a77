import { type AcceptanceRow, findWorkOrder, hasMailAbout } from '@grainwright/db';
import { type MailId, ok, type Result, signerRoles, toId } from '@grainwright/domain';
import type { JobScope } from '../job-scope.ts';
import { queueMail } from '../mail/queue-mail.ts';
import { addressOfBusiness, quoted } from '../messages/mail-message.ts';
import { momentWords } from '../work-orders/moment-words.ts';
import { vehicleWords } from '../work-orders/vehicle-words.ts';

/** Mails a no by a link to the technician of the visit or, where mail does not reach them, to the business; once. */
export async function tellNotAccepted(
  scope: JobScope,
  publicUrl: string,
  { id, workOrderId, signerName, signerRole, remark, acceptedAt }: AcceptanceRow,
): Promise<Result<unknown>> {
  const found = await findWorkOrder(scope.tx, workOrderId);
  const to = found && (await addressOfBusiness(scope, found));
  if (found === null || to === null || (await hasMailAbout(scope.tx, 'message', id))) return ok(null);
  const { workOrder, vehicle, account } = found;
  const about = `WO-${workOrder.number}, ${vehicleWords(vehicle, workOrder.ownNumber)}`;
  const text = [
    `${signerName}, ${signerRoles[signerRole]}, did not accept the work on ${momentWords(acceptedAt, scope.business.timeZone)}:`,
    ...quoted(remark),
    `Put it right, take a new after picture, and ask again: ${publicUrl}/field/work-orders/${workOrderId}`,
    '',
    scope.business.name,
  ];
  return queueMail(scope, {
    id: toId<MailId>(scope.newId()),
    kind: 'message',
    accountId: account.id,
    aboutId: id,
    to: [to],
    subject: `Not accepted: ${about}`,
    text: `${text.join('\n')}\n`,
    attachments: [],
  });
}
