import type { DecisionView, WorkOrderView } from '@grainwright/operations';
import { sums } from '../../look/document-sheet.ts';
import { dayText, instantShown, money } from '../../look/figures.ts';
import { type Html, html } from '../../look/html.ts';
import { dataTable } from '../../look/tables.ts';
import { drawnSignature } from './acceptance-shown.ts';
import { byHandNote, depositEntries } from './price-parts.ts';

/** Who said what, when, line by line, at the prices frozen with it. */
export function decisionShown(
  view: Pick<WorkOrderView, 'lines' | 'currency' | 'priceNotes'>,
  decision: DecisionView,
  timeZone: string,
): Html {
  const { currency } = view;
  const amount = (minor: bigint) => money(minor, currency);
  return html`${whoAnswered(decision, currency, timeZone)}
    ${dataTable({
      caption: 'The answer to each line',
      captionHidden: true,
      rows: decision.lines,
      empty: html`<p>There are no lines.</p>`,
      columns: [
        {
          header: 'Line',
          names: true,
          cell: (line) =>
            view.lines.find((each) => each.id === line.lineId)?.words ?? 'A line since taken away',
        },
        {
          header: 'Answer',
          cell: (line) => (line.reason === '' ? line.answer : `${line.answer}: ${line.reason}`),
        },
        { header: 'Why this price', cell: (line) => trailShown(line, byHandNote(view, line.lineId)) },
        {
          header: 'Price',
          figure: true,
          cell: (line) =>
            line.answer === 'approved' ? amount(line.netMinor) : html`${amount(line.netMinor)}, not billed`,
        },
      ],
    })}
    ${decisionSums(decision, currency)}`;
}

/** Who said it, how and when, with the rule or the signature that stands for it. */
export function whoAnswered(decision: DecisionView, currency: string, timeZone: string): Html {
  return html`<p>${answeredBy(decision)}, ${instantShown(decision.decidedAt, timeZone)}</p>
    ${decision.rule && ruleShown(decision.rule, currency)}
    ${decision.signature && signatureShown(decision.signature)}`;
}

/** What the approved lines come to, with what is asked in advance where that is given. */
export function decisionSums(
  decision: DecisionView,
  currency: string,
  deposit: WorkOrderView['deposit'] = null,
): Html {
  const amount = (minor: bigint) => money(minor, currency);
  const charge = (term: string, minor: bigint) => (minor === 0n ? [] : [{ term, value: amount(minor) }]);
  return sums([
    ...charge('Vehicle minimum', decision.minimumMinor),
    {
      term: decision.minimumMinor === 0n ? 'Repairs' : 'Repairs with the minimum',
      value: amount(decision.repairsMinor),
    },
    ...charge('After hours', decision.afterHoursMinor),
    ...charge('Rush', decision.rushMinor),
    ...charge('Visit minimum', decision.visitMinimumMinor),
    { term: 'Trip', value: amount(decision.tripMinor) },
    { term: 'Tax', value: amount(decision.taxMinor) },
    { term: 'Approved', value: amount(decision.totalMinor) },
    ...depositEntries(deposit, currency),
  ]);
}

function trailShown({ trail }: DecisionView['lines'][number], note: string): Html {
  return html`${trail}${note !== '' && html`<br><strong>${note}</strong>`}`;
}

/** “Thea Winslow for Gideon Marsh, until Dec 4, 2026”; how it came is said where it did not come here. */
export function answeredBy({ decidedBy, answeredFor, given }: DecisionView): string {
  if (decidedBy === null) return given === 'by_rule' ? 'Approved by standing approval' : 'Without charge';
  const who =
    answeredFor === null
      ? decidedBy
      : `${decidedBy} for ${answeredFor.name}, until ${dayText(answeredFor.through)}`;
  return given === 'here' ? who : `${who}, ${givenWords[given]}`;
}

const givenWords: Readonly<Record<Exclude<DecisionView['given'], 'here'>, string>> = {
  by_link: 'by the link in the mail',
  in_person: 'in person',
  by_phone: 'by phone',
  in_writing: 'in writing',
  by_rule: 'by standing approval',
  without_charge: 'without charge',
};

export function signatureShown({ signerName, drawn }: NonNullable<DecisionView['signature']>): Html {
  if (drawn === null) return html`<p>Signed by ${signerName}, name typed and confirmed</p>`;
  return html`${drawnSignature(drawn, signerName)}<p>Signed by ${signerName}</p>`;
}

/** The rule as it stood, and what its limits were compared with: before trip and tax. */
export function ruleShown(rule: NonNullable<DecisionView['rule']>, currency: string): Html {
  const { vehicleMinor, visitMinor, monthMinor } = rule.sums;
  return html`<p>Nobody had to be asked: ${rule.text}. Compared, before trip and tax: this vehicle
    ${money(vehicleMinor, currency)}, the visit so far ${money(visitMinor, currency)}, the month so far
    ${money(monthMinor, currency)}.</p>`;
}
