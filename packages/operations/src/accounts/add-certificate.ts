import { findAccount, findCertificate, insertCertificate } from '@grainwright/db';
import { type AccountId, type CertificateId, ok, type Result, refuse } from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { type Actor, performAsStaff, record } from '../perform.ts';
import { type DatedInput, readPeriod, readWords } from '../read-input.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';

export interface AddCertificateInput extends DatedInput {
  readonly id: CertificateId;
  readonly accountId: AccountId;
  readonly kind: 'resale' | 'exempt_use';
  readonly number: string;
}

/**
 * Files an exemption certificate. It counts by the date of work, first and last day included; a renewed one may
 * overlap the old. Refuses with `dates_out_of_order`.
 */
export function addCertificate(
  services: Services,
  actor: Actor,
  input: AddCertificateInput,
): Promise<Result<{ id: CertificateId }>> {
  return performAsStaff(services, actor, 'change_accounts', async (scope) => {
    const { tx } = scope;
    const { id, accountId, kind } = input;
    const read = everyResult({
      number: readWords(input.number, 'number', 'the certificate’s number', 80),
      valid: readPeriod(input),
    });
    if (!read.ok) return read;
    if ((await findAccount(tx, accountId)) === null) return refuse('not_found', 'There is no such account.');
    const { number, valid } = read.value;
    const certificate = { id, accountId, kind, number, validFrom: valid.from, validTo: valid.to };
    if (!(await insertCertificate(tx, certificate))) {
      const there = await findCertificate(tx, id);
      return there !== null && sameContent(there, certificate)
        ? ok({ id })
        : refuse('id_reused', 'This id stands for another certificate. Send a new one.', 'id');
    }
    await record(
      scope,
      'certificate_added',
      { kind: 'account', id: accountId },
      { certificate: id, kind, number, valid_from: valid.from, valid_to: valid.to },
    );
    return ok({ id });
  });
}
