import type { AnsweredOne } from '@grainwright/operations';
import { moneyText } from '../../../look/figures.ts';
import { type Html, html } from '../../../look/html.ts';
import { notice } from '../../../look/notices.ts';
import { dataTable } from '../../../look/tables.ts';
import { approvalPage, type LinkFrame, vehicleAddress, whatElseWaits } from './vehicle-parts.ts';

/** What became of each of several vehicles that got one yes. */
export function severalView(frame: LinkFrame, answered: readonly AnsweredOne[]): Html {
  const approved = answered.filter(({ decided }) => decided !== null);
  const all = approved.length === answered.length;
  const count = answered.length === 1 ? '1 vehicle' : `${answered.length} vehicles`;
  const heading = all ? `${count} approved` : `${approved.length} of ${count} approved`;
  const wordsOf = ({ workOrderId }: AnsweredOne) =>
    frame.visit.workOrders.find(({ id }) => id === workOrderId)?.vehicle.description ?? 'A vehicle';
  return approvalPage(frame, {
    heading,
    body: html`
      ${
        all
          ? notice('done', 'Answered', 'The work comes next. A copy of each answer comes by e-mail.')
          : notice('problem', 'Not all of them', 'What was not taken says why; look at it again.')
      }
      <section><h2>What became of each</h2>
      ${dataTable({
        caption: 'What became of each',
        captionHidden: true,
        rows: answered,
        empty: html`<p>Nothing was answered.</p>`,
        columns: [
          {
            header: 'Vehicle',
            names: true,
            cell: (one) => html`<a href="${vehicleAddress(frame, one.workOrderId)}">${wordsOf(one)}</a>`,
          },
          {
            header: 'What became of it',
            cell: (one) => (one.problem === null ? 'approved' : one.problem.detail),
          },
          {
            header: 'Total',
            figure: true,
            cell: ({ decided }) =>
              decided === null ? '' : moneyText(decided.decision.totalMinor, decided.currency),
          },
        ],
      })}</section>
      ${whatElseWaits(frame, null)}
      <p><a href="${frame.path}">All vehicles of this visit</a></p>`,
  });
}
