import { type EvidenceAnswer, type EvidenceSignature, moneyWords } from '@grainwright/documents';
import {
  acceptanceOutcomes,
  answerWays,
  day,
  dayWords,
  type Instant,
  instant,
  isBefore,
  missingSignatureReasons,
  reworkReasons,
  type SealedAcceptance,
  type SealedApproval,
  type SealedContent,
  type SealedCredit,
  type SealedRelease,
  type SealedRework,
  signerRoles,
} from '@grainwright/domain';
import { shownIn } from '../evidence/read-signed-text.ts';
import { drawn } from '../work-orders/acceptance-view.ts';
import { answeredWords, momentWords } from '../work-orders/moment-words.ts';
import { asSentence } from './as-sentence.ts';
import type { PackRecords } from './pack-records.ts';

interface Told {
  readonly at: Instant;
  readonly answer: EvidenceAnswer;
}

/** What was answered, as it was sealed, and the times nobody signed, in the order in which it happened. */
export function evidenceAnswers(records: PackRecords): readonly EvidenceAnswer[] {
  const sealed = records.seals.flatMap((seal) => {
    // Written from a value of this type, and append-only since.
    const content = JSON.parse(seal.content) as SealedContent;
    const answer = answerOf(records, content);
    return answer === null ? [] : [{ at: seal.happenedAt, answer: withSeal(answer, seal.number) }];
  });
  return [...sealed, ...notSigned(records)]
    .toSorted((a, b) => (isBefore(a.at, b.at) ? -1 : isBefore(b.at, a.at) ? 1 : 0))
    .map(({ answer }) => answer);
}

function withSeal(answer: EvidenceAnswer, number: number): EvidenceAnswer {
  return { ...answer, heading: `${answer.heading}, seal ${number}` };
}

function answerOf(records: PackRecords, content: SealedContent): EvidenceAnswer | null {
  switch (content.format) {
    case 'sealed-approval-1':
      return approval(records, content);
    case 'sealed-acceptance-1':
      return acceptance(records, content);
    case 'sealed-release-1':
      return release(records, content);
    case 'sealed-credit-1':
      return credit(content);
    case 'sealed-rework-1':
      return rework(records, content);
    case 'sealed-key-1':
      return null;
  }
}

type Facts = EvidenceAnswer['facts'];

function filled(facts: Facts): Facts {
  return facts.filter(({ value }) => value !== '');
}

function approval({ business, view }: PackRecords, content: SealedApproval): EvidenceAnswer {
  const { decision, version, currency, totalMinor } = content;
  const ways: Readonly<Record<string, string>> = answerWays;
  const who =
    decision.decidedBy ?? (decision.given === 'by_rule' ? 'Standing approval' : 'Nobody had to be asked');
  const isNewest = view.decision?.id === decision.id;
  const own = isNewest ? view.decision.signature : null;
  return {
    heading: 'Approval',
    facts: filled([
      { term: 'By', value: decision.inPlaceOf === null ? who : `${who}, in place of ${decision.inPlaceOf}` },
      {
        term: 'When',
        value: `${momentWords(instant(decision.decidedAt), business.timeZone)}, ${ways[decision.given] ?? decision.given}`,
      },
      { term: 'Rule', value: decision.rule ?? '' },
      { term: 'Written by', value: decision.recordedBy ?? '' },
      // What the newest one came to is told with its prices.
      { term: 'Total', value: isNewest ? '' : moneyWords(BigInt(totalMinor), currency) },
    ]),
    signature: own === null ? null : signatureOf(own.signerName, own.drawn),
    answered: [{ term: 'Estimate', value: `Version ${version.number}, ${version.estimate.digest}` }],
  };
}

function acceptance({ business, acceptances }: PackRecords, content: SealedAcceptance): EvidenceAnswer {
  const { signer, shown } = content;
  const { id, outcome, remark, acceptedAt, answeredAt, takenBy } = content.acceptance;
  const moments = {
    acceptedAt: instant(acceptedAt),
    answeredAt: answeredAt === null ? null : instant(answeredAt),
  };
  const row = acceptances.find((each) => each.id === id);
  const roles: Readonly<Record<string, string>> = signerRoles;
  return {
    heading: outcome === 'not_accepted' ? 'Not accepted' : 'Acceptance',
    facts: filled([
      { term: 'Answer', value: asSentence(acceptanceOutcomes[outcome]) },
      { term: 'Remark', value: remark },
      { term: 'By', value: `${signer.name}, ${roles[signer.role] ?? signer.role}` },
      {
        term: 'When',
        value: `${answeredWords(moments, business.timeZone)}, ${signer.identifiedBy}`,
      },
      { term: 'Handed over by', value: takenBy ?? '' },
      { term: 'Signed', value: signer.method === 'typed' ? 'Name typed and confirmed' : '' },
    ]),
    signature:
      row === undefined || row.strokes === null ? null : signatureOf(signer.name, drawn(row.strokes)),
    answered: [
      { term: 'Words signed', value: signedWords(shown) },
      { term: 'Shown', value: shown.digest },
    ],
  };
}

function signedWords(shown: SealedAcceptance['shown']): string {
  const { text, consent } = shownIn({ shown: shown.text });
  return [text.text, consent?.text ?? ''].filter((part) => part !== '').join('\n');
}

function signatureOf(
  name: string,
  mark: { readonly path: string; readonly viewBox: string } | null,
): EvidenceSignature | null {
  return mark === null ? null : { name, ...mark };
}

function release({ business }: PackRecords, { release: released, missing }: SealedRelease): EvidenceAnswer {
  return {
    heading: 'Released without a signature',
    facts: filled([
      ...notSignedFacts(missing),
      {
        term: 'Written down',
        value: `${missing.recordedBy}, ${momentWords(instant(missing.recordedAt), business.timeZone)}`,
      },
      {
        term: 'Released by',
        value: `${released.releasedBy}, ${momentWords(instant(released.releasedAt), business.timeZone)}`,
      },
      { term: 'Because', value: asSentence(released.reason) },
    ]),
    signature: null,
    answered: [],
  };
}

function notSignedFacts(missing: {
  readonly why: string;
  readonly reason: string;
  readonly witness: string;
}): Facts {
  const whys: Readonly<Record<string, string>> = missingSignatureReasons;
  return [
    { term: 'Not signed', value: asSentence(whys[missing.why] ?? missing.why) },
    { term: 'Reason', value: asSentence(missing.reason) },
    { term: 'Witness', value: missing.witness === '' ? 'nobody else was there' : missing.witness },
  ];
}

/** Times nobody signed and nobody let the work go on it: then it was asked again. */
function notSigned({ missing, business }: PackRecords): readonly Told[] {
  return missing
    .filter(({ releasedAt }) => releasedAt === null)
    .map((row) => ({
      at: row.recordedAt,
      answer: {
        heading: 'No signature',
        facts: filled([
          ...notSignedFacts(row),
          {
            term: 'Written down',
            value: `${row.recordedBy}, ${momentWords(row.recordedAt, business.timeZone)}`,
          },
        ]),
        signature: null,
        answered: [],
      },
    }));
}

function credit(content: SealedCredit): EvidenceAnswer {
  const { creditNote, invoice, currency, totalMinor } = content;
  return {
    heading: `Credit note ${creditNote.number}`,
    facts: filled([
      { term: 'Issued', value: dayWords(day(creditNote.issuedOn)) },
      { term: 'On', value: `Invoice ${invoice.number}` },
      { term: 'Reason', value: asSentence(creditNote.reason) },
      { term: 'Total', value: moneyWords(BigInt(totalMinor), currency) },
    ]),
    signature: null,
    answered: [],
  };
}

function rework({ business }: PackRecords, { rework: again }: SealedRework): EvidenceAnswer {
  const reasons: Readonly<Record<string, string>> = reworkReasons;
  const reason = again.reason ?? '';
  return {
    heading: 'Rework',
    facts: filled([
      { term: 'Repairs again', value: `WO-${again.of.number}` },
      { term: 'Reason', value: reason === '' ? '' : asSentence(reasons[reason] ?? reason) },
      { term: 'Written up', value: momentWords(instant(again.writtenUpAt), business.timeZone) },
    ]),
    signature: null,
    answered: [],
  };
}
