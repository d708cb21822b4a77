import { findHandedIn, insertHandedIn, listHandedInRows } from '@grainwright/db';
import { type HandedInId, ok, type Result, refuse } from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { type Actor, performAsContact, record } from '../perform.ts';
import { type DatedInput, readPeriod, readWords } from '../read-input.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';
import { type HandedInView, handedInView } from './handed-in-view.ts';

export interface HandInCertificateInput extends DatedInput {
  readonly id: HandedInId;
  readonly kind: 'resale' | 'exempt_use';
  readonly number: string;
}

const waitingMax = 20;

/**
 * A contact hands in an exemption certificate of the own account. Nothing is exempt by it until the business has
 * confirmed it. Refuses with `dates_out_of_order`, `invalid_input`, `id_reused`, `too_many_requests`.
 */
export function handInCertificate(
  services: Services,
  actor: Actor,
  input: HandInCertificateInput,
): Promise<Result<HandedInView>> {
  return performAsContact(services, actor, 'hand_in_certificate', async (scope) => {
    const { tx, member, now } = scope;
    const { id, kind } = input;
    const read = everyResult({
      number: readWords(input.number, 'number', 'the certificate’s number', 80),
      valid: readPeriod(input),
    });
    if (!read.ok) return read;
    const { number, valid } = read.value;
    const own = { accountId: member.accountId, kind, number, validFrom: valid.from, validTo: valid.to };
    const there = await findHandedIn(tx, id);
    if (there !== null) return sameContent(there, own) ? ok(handedInView(there)) : taken();
    const waiting = { accountId: member.accountId, waitingOnly: true, limit: waitingMax };
    if ((await listHandedInRows(tx, waiting)).length === waitingMax)
      return refuse(
        'too_many_requests',
        `${waitingMax} certificates of yours wait to be checked already. Ask ${scope.business.name} about them first.`,
      );
    const handedIn = { id, ...own, handedInBy: actor.personId, handedInAt: now };
    if (!(await insertHandedIn(tx, handedIn))) return taken();
    await record(
      scope,
      'certificate_handed_in',
      { kind: 'account', id: member.accountId },
      { handed_in: id, kind, number, valid_from: valid.from, valid_to: valid.to },
    );
    const found = await findHandedIn(tx, id);
    if (found === null) throw new Error('the certificate just handed in is not there');
    return ok(handedInView(found));
  });
}

function taken() {
  return refuse('id_reused', 'This id stands for another certificate. Send a new one.', 'id');
}
