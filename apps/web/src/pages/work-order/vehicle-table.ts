import type { VehicleList, VehicleView, VehicleWorkView } from '@grainwright/operations';
import { quietButton, quietLink } from '../../look/buttons.ts';
import { dayShown } from '../../look/figures.ts';
import { textField } from '../../look/forms.ts';
import { type Html, html } from '../../look/html.ts';
import { type Column, dataTable, emptyState } from '../../look/tables.ts';
import { stateShown, workOrderNumber } from './state-words.ts';

export interface VehicleTable {
  readonly list: VehicleList;
  /** What was looked for. */
  readonly text: string;
  /** `/account` or `/office`, where the work orders and invoices are. */
  readonly base: '/account' | '/office';
  readonly problem: string | undefined;
}

/** A box to find vehicles by any of their numbers, and what was found: one row for each, with all its work. */
export function vehicleFinder(table: VehicleTable): Html {
  const { list, text, base } = table;
  const older = list.next === null ? null : new URLSearchParams({ q: text, below: list.next.toString() });
  return html`${vehicleSearch(table)}
    ${dataTable({
      caption: text === '' ? 'Vehicles, newest work first' : 'Vehicles found',
      captionHidden: true,
      columns: columnsOf(base),
      rows: list.rows,
      empty: nothing(text, base),
    })}
    ${older && html`<p>${quietLink({ label: 'Older ones', href: `${base}/vehicles?${older}` })}</p>`}`;
}

/** The box alone, for pages that lead there. */
export function vehicleSearch({
  text,
  base,
  problem,
}: Pick<VehicleTable, 'text' | 'base' | 'problem'>): Html {
  return html`<form method="get" action="${`${base}/vehicles`}" class="filters" role="search">
    ${textField({
      name: 'q',
      label: 'Find a vehicle',
      hint: 'VIN or its last 8, RO, PO, stock, unit, lot or job number, owner',
      type: 'search',
      value: text,
      error: problem,
      maxLength: 60,
    })}
    ${quietButton({ label: 'Find' })}
  </form>`;
}

function columnsOf(base: VehicleTable['base']): readonly Column<VehicleView>[] {
  const account: readonly Column<VehicleView>[] =
    base === '/office' ? [{ header: 'Account', cell: (row) => row.accountName }] : [];
  return [
    {
      header: 'Vehicle',
      names: true,
      cell: (row) =>
        html`<span class="long-name">${row.vehicle}</span>${under(vinWords(row))}${under(row.ownerName)}`,
    },
    ...account,
    { header: 'Before and after', cell: (row) => pictures(row) },
    {
      header: 'Work',
      cell: (row) =>
        html`<ul class="works">${row.workOrders.map((work) => html`<li>${workShown(work, base)}</li>`)}</ul>`,
    },
  ];
}

function under(words: string): Html | false {
  return words !== '' && html`<br><span class="hint">${words}</span>`;
}

function vinWords({ vin, lastEight }: VehicleView): string {
  if (vin !== null) return `VIN ${vin}`;
  return lastEight === null ? '' : `VIN ending in ${lastEight}`;
}

function pictures({ before, after, vehicle }: VehicleView): Html | false {
  if (before === null && after === null) return false;
  return html`<div class="thumb-pair">${thumb(before, 'Before', vehicle)}${thumb(after, 'After', vehicle)}</div>`;
}

function thumb(id: VehicleView['before'], word: string, vehicle: string): Html | false {
  if (id === null) return false;
  return html`<figure><img class="thumb" src="/photos/${id}/thumb" alt="${vehicle}: ${word.toLowerCase()}" loading="lazy" decoding="async">
    <figcaption>${word}</figcaption></figure>`;
}

function workShown(work: VehicleWorkView, base: VehicleTable['base']): Html {
  return html`<a href="${`${base}/work-orders/${work.id}`}">${workOrderNumber(work.number)}</a>
    ${dayShown(work.day)} ${stateShown(work.state)}${work.isRework && html` <span>rework</span>`}
    ${work.invoice !== null && html`<a href="${`${base}/invoices/${work.invoice.id}`}">${work.invoice.number}</a>`}
    ${work.numbers !== '' && html`<span class="hint">${work.numbers}</span>`}`;
}

function nothing(text: string, base: VehicleTable['base']): Html {
  if (text === '')
    return emptyState(
      'No vehicles yet',
      'Each stands here once it is written up, with all that is done on it.',
    );
  return emptyState(
    'No vehicle fits',
    `Nothing on record carries “${text}”.`,
    quietLink({ label: 'Show all', href: `${base}/vehicles` }),
  );
}
