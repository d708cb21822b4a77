import type { DecisionView, WorkOrderView } from '@grainwright/operations';
import { sums } from '../../look/document-sheet.ts';
import { instantShown, money } from '../../look/figures.ts';
import { type Html, html } from '../../look/html.ts';
import { dataTable } from '../../look/tables.ts';
import { drawnSignature } from './acceptance-shown.ts';

/** Who said what, when, line by line, at the prices frozen with it. */
export function decisionShown(
  view: Pick<WorkOrderView, 'lines' | 'currency'>,
  decision: DecisionView,
  timeZone: string,
): Html {
  const { currency } = view;
  const amount = (minor: bigint) => money(minor, currency);
  return html`<p>${answeredBy(decision)}, ${instantShown(decision.decidedAt, timeZone)}</p>
    ${decision.rule && ruleShown(decision.rule, currency)}
    ${decision.signature && signatureShown(decision.signature)}
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
        { header: 'Why this price', cell: (line) => line.trail },
        {
          header: 'Price',
          figure: true,
          cell: (line) =>
            line.answer === 'approved' ? amount(line.netMinor) : html`${amount(line.netMinor)}, not billed`,
        },
      ],
    })}
    ${sums([
      ...(decision.minimumMinor === 0n
        ? []
        : [{ term: 'Vehicle minimum', value: amount(decision.minimumMinor) }]),
      {
        term: decision.minimumMinor === 0n ? 'Repairs' : 'Repairs with the minimum',
        value: amount(decision.repairsMinor),
      },
      ...(decision.afterHoursMinor === 0n
        ? []
        : [{ term: 'After hours', value: amount(decision.afterHoursMinor) }]),
      { term: 'Trip', value: amount(decision.tripMinor) },
      { term: 'Tax', value: amount(decision.taxMinor) },
      { term: 'Approved', value: amount(decision.totalMinor) },
    ])}`;
}

function answeredBy({ decidedBy, given }: DecisionView): string {
  if (decidedBy === null) return given === 'by_rule' ? 'Approved by standing approval' : 'Without charge';
  return given === 'here' ? decidedBy : `${decidedBy}, ${givenWords[given]}`;
}

const givenWords: Readonly<Record<Exclude<DecisionView['given'], 'here'>, string>> = {
  in_person: 'in person',
  by_phone: 'by phone',
  in_writing: 'in writing',
  by_rule: 'by standing approval',
  without_charge: 'without charge',
};

function signatureShown({ signerName, drawn }: NonNullable<DecisionView['signature']>): Html {
  if (drawn === null) return html`<p>Signed by ${signerName}, name typed and confirmed</p>`;
  return html`${drawnSignature(drawn, signerName)}<p>Signed by ${signerName}</p>`;
}

/** The rule as it stood, and what its limits were compared with: before trip and tax. */
function ruleShown(rule: NonNullable<DecisionView['rule']>, currency: string): Html {
  const { vehicleMinor, visitMinor, monthMinor } = rule.sums;
  return html`<p>Nobody had to be asked: ${rule.text}. Compared, before trip and tax: this vehicle
    ${money(vehicleMinor, currency)}, the visit so far ${money(visitMinor, currency)}, the month so far
    ${money(monthMinor, currency)}.</p>`;
}
