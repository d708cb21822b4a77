import { displayPercent, savings } from '@grainwright/domain';
import type { FiguresView } from '@grainwright/operations';
import { columns } from '../../../look/field-group.ts';
import { dayText, money } from '../../../look/figures.ts';
import { errorSummary } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { dataTable, definitionList, emptyState } from '../../../look/tables.ts';
import type { FormProblems } from '../../form-problems.ts';
import type { Frame } from '../../person.ts';
import { type AskedDays, daysForm } from '../report-days.ts';

export interface FiguresPage {
  readonly frame: Frame;
  readonly days: AskedDays;
  readonly problems: FormProblems;
  /** Null where the days can't be read. */
  readonly figures: FiguresView | null;
}

export function figuresPage({ frame, days, problems, figures }: FiguresPage): Html {
  return officePage({
    ...frame,
    title: 'Figures',
    heading: 'Figures',
    lead: figures === null ? 'Choose the days.' : `${dayText(figures.from)} to ${dayText(figures.to)}.`,
    current: 'figures',
    body: html`${errorSummary(problems.summary)}
      ${daysForm('/office/figures', days, problems.errorOf)}
      ${
        figures &&
        html`${columns([comebacks(figures), html`${declined(figures)}${turnaround(figures)}`])}
      ${saved(figures)}`
      }`,
  });
}

function comebacks({ comebacks: { billed, cameBack, technicians }, comebackDays }: FiguresView): Html {
  return html`<h2>Comebacks</h2>
    <p class="board-count">${cameBack} of ${billed}</p>
    <p>Of the work orders invoiced in these days, so many came back for a rework within ${comebackDays} days. Few of few say little, so there is no percentage.</p>
    ${dataTable({
      caption: 'By technician',
      captionHidden: true,
      columns: [
        { header: 'Technician', names: true, cell: (each) => each.name },
        { header: 'Invoiced', figure: true, cell: (each) => String(each.billed), total: String(billed) },
        { header: 'Came back', figure: true, cell: (each) => String(each.cameBack), total: String(cameBack) },
      ],
      rows: technicians,
      empty: emptyState('Nothing invoiced', 'Work orders invoiced in these days would be counted here.'),
    })}`;
}

function declined({ declined: { lines, wholeOrders, declinedMinor }, currency }: FiguresView): Html {
  return html`<h2>Declined work</h2>
    ${definitionList([
      { term: 'Amount before tax', value: money(declinedMinor, currency) },
      { term: 'Lines', value: String(lines) },
      { term: 'Work orders declined whole', value: String(wholeOrders) },
    ])}`;
}

function turnaround({ turnaround: { workOrders, medianMinutes } }: FiguresView): Html {
  return html`<h2>From write-up to done</h2>
    <p>${
      medianMinutes === null
        ? 'No work was done in these days.'
        : `Half of ${workOrders} work ${workOrders === 1 ? 'order' : 'orders'} took ${durationWords(medianMinutes)} or less.`
    }</p>`;
}

function durationWords(minutes: number): string {
  if (minutes < 120) return minutes === 1 ? '1 minute' : `${minutes} minutes`;
  const hours = Math.round(minutes / 60);
  return hours < 72 ? `${hours} hours` : `${Math.round(hours / 24)} days`;
}

function saved({ savings: { vehicles, cheaper, quotedMinor, repairsMinor }, currency }: FiguresView): Html {
  const heading = html`<h2>Saved against new parts</h2>`;
  const difference = savings(quotedMinor, repairsMinor);
  if (difference === null)
    return html`<section>${heading}${emptyState('No quote for a new part', 'Where a new part was quoted, its price is compared with the repair.')}</section>`;
  return html`<section>${heading}
    ${definitionList([
      { term: 'New parts, as quoted', value: money(quotedMinor, currency) },
      { term: 'Repairs, before tax and after credits', value: money(repairsMinor, currency) },
      {
        term: 'Saved',
        value: html`<b>${money(difference.savedMinor, currency)}</b>, ${displayPercent(difference.percent)}`,
      },
      { term: 'Vehicles with a quote', value: `${vehicles}; ${cheaper} of them cost less than the part` },
    ])}
    <p class="hint">Only quotes on record count. What a new part usually costs is never added.</p></section>`;
}
