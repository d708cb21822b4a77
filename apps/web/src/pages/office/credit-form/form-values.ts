import { type CertificateId, isUuid, type Problem, toId } from '@grainwright/domain';
import type { ChargeToCredit, Creditable, LineToCredit } from '@grainwright/operations';
import type { FormValues } from '../../../plugins/forms.ts';

type Line = Creditable['lines'][number];
type Charge = Creditable['charges'][number];

/** The names of a line's fields. */
export const lineFields = (lineId: string) => ({
  change: `line-${lineId}`,
  net: `net-${lineId}`,
  inches: `inches-${lineId}`,
  code: `code-${lineId}`,
});

/** What a charge's checkbox sends: it has no id of its own. */
export const chargeKey = ({ kind, visitId, workOrderId, label }: Charge) =>
  [kind, visitId, workOrderId ?? '', label].join('|');

export interface AskedCredit {
  readonly lines: readonly LineToCredit[];
  readonly charges: readonly ChargeToCredit[];
  readonly certificateIds: readonly CertificateId[];
}

/** What was asked for, of what the invoice has. */
export function askedCredit(form: FormValues, creditable: Creditable): AskedCredit {
  const checked = new Set(form.all('charge'));
  return {
    lines: creditable.lines.flatMap((line) => lineAsked(form, line)),
    charges: creditable.charges.filter((charge) => checked.has(chargeKey(charge))).map(chargeAsked),
    certificateIds: form
      .all('certificate')
      .filter(isUuid)
      .map((id) => toId<CertificateId>(id)),
  };
}

function lineAsked(form: FormValues, { lineId }: Line): readonly LineToCredit[] {
  const fields = lineFields(lineId);
  switch (form.text(fields.change)) {
    case 'dropped':
      return [{ kind: 'dropped', lineId }];
    case 'reduced':
      return [{ kind: 'reduced', lineId, net: form.text(fields.net) }];
    case 'repriced':
      return [
        {
          kind: 'repriced',
          lineId,
          measuredInches: form.text(fields.inches),
          rateCode: form.text(fields.code),
        },
      ];
    default:
      return [];
  }
}

function chargeAsked({ kind, visitId, workOrderId, label }: Charge): ChargeToCredit {
  switch (kind) {
    case 'after_hours':
    case 'rush':
    case 'visit_minimum':
    case 'trip':
      return { kind, visitId };
    case 'minimum':
      if (workOrderId === null) throw new Error('a minimum without its vehicle');
      return { kind, workOrderId };
    case 'fee':
      return { kind, label, visitId, workOrderId: workOrderId ?? undefined };
  }
}

/** The operation counts the lines it was given; the form names its fields by line. */
export function asFormProblem(problem: Problem, lines: readonly LineToCredit[]): Problem {
  const [, place = '', part = ''] = /^lines\.(\d+)(?:\.(\w+))?$/.exec(problem.field ?? '') ?? [];
  const line = place === '' ? undefined : lines[Number(place)];
  if (line === undefined) return problem;
  const fields = lineFields(line.lineId);
  const named = { net: fields.net, measured_inches: fields.inches, rate_code: fields.code };
  const field = Object.entries(named).find(([name]) => name === part)?.[1] ?? fields.change;
  return { ...problem, field };
}
