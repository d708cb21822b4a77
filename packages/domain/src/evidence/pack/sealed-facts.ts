import { displayMoney } from '../../money/money.ts';
import { reworkReasons } from '../../work/rework.ts';
import { acceptanceOutcomes, signerRoles } from '../acceptance.ts';
import { missingSignatureReasons } from '../missing-signature.ts';
import type { SealedFact } from './manifest.ts';
import { type JsonObject, listIn, objectIn, parsedJson, textIn } from './read-json.ts';

/** How an answer to an estimate came, in words for papers. */
export const answerWays = {
  here: 'signed in to the portal',
  by_link: 'by a link that was mailed',
  in_person: 'in person, beside the vehicle',
  by_phone: 'by phone, written down by the business',
  in_writing: 'in writing, written down by the business',
  by_rule: 'by standing approval',
  without_charge: 'without charge: nobody had to be asked',
} as const satisfies Record<string, string>;

/**
 * What a seal and the record under it say, in few words: what a report tells, and what a change of the record is named
 * by. Reads whatever it is given, since the record may have been changed.
 */
export function sealedFacts(said: JsonObject, content: string): readonly SealedFact[] {
  const found = objectIn(parsedJson(content) ?? undefined);
  const facts = [
    fact('Happened at', said.happenedAt),
    fact('Sealed at', said.sealedAt),
    fact('Business', objectIn(found.business).name),
    fact('Account', objectIn(found.account).name),
    fact('Vehicle', objectIn(found.vehicle).description),
    fact('VIN', objectIn(found.vehicle).vin ?? objectIn(found.vehicle).lastEight),
    ...factsOf(found),
  ];
  return facts.filter(({ value }) => value !== '');
}

/** Why a key was begun, in words for papers. */
const keyCauses = {
  first: 'the first key',
  rotated: 'changed by the business',
  secret_changed: 'the secret behind the keys had changed',
} as const satisfies Record<string, string>;

/** What lists of contents that were signed before said of such a record in other words. */
export function sealedFactsBefore(content: string): readonly SealedFact[] {
  const found = objectIn(parsedJson(content) ?? undefined);
  switch (found.format) {
    case 'sealed-acceptance-1':
      return [fact('Answered at', objectIn(found.acceptance).acceptedAt)];
    case 'sealed-release-1':
      return [fact('Not signed', objectIn(found.missing).why)];
    case 'sealed-rework-1':
      return [fact('Reason', objectIn(found.rework).reason)];
    case 'sealed-key-1':
      return [fact('Cause', found.cause)];
    default:
      return [];
  }
}

function factsOf(found: JsonObject): readonly SealedFact[] {
  switch (found.format) {
    case 'sealed-approval-1':
      return approvalFacts(found);
    case 'sealed-acceptance-1':
      return acceptanceFacts(found);
    case 'sealed-release-1':
      return releaseFacts(found);
    case 'sealed-credit-1':
      return creditFacts(found);
    case 'sealed-rework-1':
      return [
        fact('Repairs again', objectIn(objectIn(found.rework).of).number),
        fact('Reason', named(reworkReasons, textIn(objectIn(found.rework).reason))),
      ];
    case 'sealed-key-1':
      return [fact('Cause', named(keyCauses, textIn(found.cause))), fact('New key', objectIn(found.key).id)];
    default:
      return [];
  }
}

function approvalFacts(found: JsonObject): readonly SealedFact[] {
  const decision = objectIn(found.decision);
  const currency = textIn(found.currency);
  const estimate = objectIn(parsedJson(textIn(objectIn(objectIn(found.version).estimate).text)) ?? undefined);
  const words = new Map(
    listIn(estimate.lines)
      .map(objectIn)
      .map(({ line, text }) => [textIn(line), textIn(text)]),
  );
  return [
    fact('Answered at', decision.decidedAt),
    fact('Answered by', decision.decidedBy ?? decision.rule),
    fact('In place of', decision.inPlaceOf),
    fact('Answered how', named(answerWays, textIn(decision.given))),
    ...listIn(found.lines)
      .map(objectIn)
      .map(({ line, answer, netMinor }, index) => ({
        name: `Line ${index + 1}, ${words.get(textIn(line)) ?? textIn(line)}`,
        value: `${textIn(answer)}, ${amount(textIn(netMinor), currency)}`,
      })),
    fact('Tax', amount(textIn(found.taxMinor), currency)),
    fact('Total', amount(textIn(found.totalMinor), currency)),
  ];
}

function acceptanceFacts(found: JsonObject): readonly SealedFact[] {
  const acceptance = objectIn(found.acceptance);
  const signer = objectIn(found.signer);
  return [
    fact('Signer', signer.name),
    fact('Signer’s role', named(signerRoles, textIn(signer.role))),
    fact('Signed how', signer.method),
    fact('Answer', named(acceptanceOutcomes, textIn(acceptance.outcome))),
    fact('Remark', acceptance.remark),
    ...(textIn(acceptance.answeredAt) === ''
      ? [fact('Answered at', acceptance.acceptedAt)]
      : [
          fact('Signed on the phone at, by its clock', acceptance.answeredAt),
          fact('Received at', acceptance.acceptedAt),
        ]),
  ];
}

function releaseFacts(found: JsonObject): readonly SealedFact[] {
  const release = objectIn(found.release);
  const missing = objectIn(found.missing);
  return [
    fact('Not signed', named(missingSignatureReasons, textIn(missing.why))),
    fact('Why', missing.reason),
    fact('Witness', missing.witness),
    fact('Released by', release.releasedBy),
    fact('Released because', release.reason),
    fact('Released at', release.releasedAt),
  ];
}

function creditFacts(found: JsonObject): readonly SealedFact[] {
  const note = objectIn(found.creditNote);
  return [
    fact('Credit note', note.number),
    fact('Issued on', note.issuedOn),
    fact('Reason', note.reason),
    fact('Credited', amount(textIn(found.totalMinor), textIn(found.currency))),
  ];
}

function fact(name: string, value: JsonObject[string] | undefined): SealedFact {
  return { name, value: textIn(value) };
}

function named(names: Readonly<Record<string, string>>, key: string): string {
  return names[key] ?? key;
}

/** As it stands where it is no amount: then it was changed, and the report shows to what. */
function amount(minor: string, currency: string): string {
  if (!/^-?\d{1,30}$/.test(minor)) return minor;
  try {
    return displayMoney(BigInt(minor), currency);
  } catch {
    return `${minor} ${currency}`;
  }
}
