import { parseMoney, photoPurposes, sumMinor } from '@grainwright/domain';
import type { DecisionRecord, SeenRecord, SentVersionView } from '@grainwright/operations';
import { pictureRow } from '../../look/before-after.ts';
import { sums } from '../../look/document-sheet.ts';
import { dayShown, instantShown, money } from '../../look/figures.ts';
import { type Html, html } from '../../look/html.ts';
import { notice } from '../../look/notices.ts';
import { sealFrame } from '../../look/seam.ts';
import { dataTable, definitionList } from '../../look/tables.ts';
import { answeredBy, ruleShown, signatureShown } from './decision-shown.ts';
import { coveredWords, pictureState } from './photo-state.ts';

/**
 * Who answered what, when and how, with the estimate as it was frozen and what was seen: drawn from what was kept then,
 * so that it reads the same years later. `base` is where this person's work orders are.
 */
export function decisionRecordShown(record: DecisionRecord, base: string, timeZone: string): Html {
  const { decision, recordedBy, seen, mismatches } = record;
  return html`
    ${
      mismatches.length === 0
        ? notice(
            'done',
            'Matches',
            'What is on record is what was answered: the digests were computed again just now.',
          )
        : notice(
            'problem',
            'Does not match',
            html`${mismatches.map((sentence) => html`<p>${sentence}</p>`)}<p>Do not rely on this record. Ask whoever looks after the database.</p>`,
          )
    }
    <section><h2>The answer</h2>
      ${definitionList([
        { term: 'Account', value: record.accountName },
        { term: 'Answered by', value: answeredBy(decision) },
        { term: 'On', value: instantShown(decision.decidedAt, timeZone) },
        ...(recordedBy === null ? [] : [{ term: 'Written down by', value: recordedBy }]),
      ])}
      ${decision.rule && ruleShown(decision.rule, record.currency)}
      ${decision.signature && signatureShown(decision.signature)}
      ${answersTable(record)}</section>
    <section><h2>The estimate, version ${record.version.number}, as it was sent</h2>
      ${frozenShown(record, timeZone)}</section>
    <section><h2>What was seen</h2>${seenShown(record, base.startsWith('/office'))}</section>
    <section><h2>Every version</h2>${versionsTable(record.versions, base, record.workOrderId, timeZone)}</section>
    ${sealFrame(html`
      <p>SHA-256 of the estimate’s content, named by the answer: <code>${record.version.digest}</code></p>
      ${seen === null ? html`<p>Of what was seen nothing was kept.</p>` : html`<p>SHA-256 of what was seen: <code>${seen.digest}</code></p>`}`)}`;
}

function answersTable({ decision, version, currency }: DecisionRecord): Html {
  const textOf = (lineId: string) => version.frozen?.lines.find((line) => line.lineId === lineId)?.text;
  return html`${dataTable({
    caption: 'The answer to each line',
    captionHidden: true,
    rows: decision.lines,
    empty: html`<p>There are no lines.</p>`,
    columns: [
      {
        header: 'Line',
        names: true,
        cell: (line) => textOf(line.lineId) ?? 'A line that is not in the estimate',
      },
      { header: 'Answer', cell: ({ answer, reason }) => (reason === '' ? answer : `${answer}: ${reason}`) },
      { header: 'Why this price', cell: (line) => line.trail },
      {
        header: 'Price',
        figure: true,
        cell: (line) =>
          line.answer === 'approved'
            ? money(line.netMinor, currency)
            : html`${money(line.netMinor, currency)}, not billed`,
      },
    ],
  })}
  ${sums([
    { term: 'Repairs', value: money(decision.repairsMinor, currency) },
    ...charges(decision, currency),
    { term: 'Tax', value: money(decision.taxMinor, currency) },
    { term: 'Approved', value: money(decision.totalMinor, currency) },
  ])}`;
}

interface Charges {
  readonly afterHoursMinor: bigint;
  readonly rushMinor: bigint;
  readonly visitMinimumMinor: bigint;
  readonly tripMinor: bigint;
}

function charges({ afterHoursMinor, rushMinor, visitMinimumMinor, tripMinor }: Charges, currency: string) {
  return [
    { term: 'After hours', minor: afterHoursMinor },
    { term: 'Rush', minor: rushMinor },
    { term: 'Visit minimum', minor: visitMinimumMinor },
    { term: 'Trip', minor: tripMinor },
  ]
    .filter(({ minor }) => minor !== 0n)
    .map(({ term, minor }) => ({ term, value: money(minor, currency) }));
}

function frozenShown({ version }: DecisionRecord, timeZone: string): Html {
  const { frozen, trails, sentAt } = version;
  if (frozen === null) return html`<p>Its content can’t be read.</p>`;
  const { currency, lines, vehicleMinimumMinor, expiresOn } = frozen;
  return html`<p>Sent ${instantShown(sentAt, timeZone)}${expiresOn !== null && html`, good through ${dayShown(expiresOn)}`}.</p>
    ${dataTable({
      caption: 'The lines as they were sent',
      captionHidden: true,
      rows: lines,
      empty: html`<p>There are no lines.</p>`,
      columns: [
        { header: 'Line', names: true, cell: (line) => line.text },
        { header: 'Code', cell: (line) => html`<span class="code">${line.code}</span>` },
        { header: 'Size', figure: true, cell: (line) => line.inches !== null && `${line.inches} in` },
        { header: 'Why this price', cell: (line) => trails.get(line.lineId) },
        { header: 'Labor', figure: true, cell: (line) => money(line.laborMinor, currency) },
        { header: 'Materials', figure: true, cell: (line) => money(line.materialsMinor, currency) },
        { header: 'Price', figure: true, cell: (line) => money(line.netMinor, currency) },
      ],
    })}
    ${sums([
      ...(vehicleMinimumMinor === 0n
        ? []
        : [{ term: 'Vehicle minimum', value: money(vehicleMinimumMinor, currency) }]),
      {
        term: vehicleMinimumMinor === 0n ? 'Repairs' : 'Repairs with the minimum',
        value: money(sumMinor(lines.map((line) => line.netMinor)) + vehicleMinimumMinor, currency),
      },
      ...charges(frozen, currency),
      { term: 'Tax', value: money(frozen.taxMinor, currency) },
      { term: 'Total', value: money(frozen.totalMinor, currency) },
    ])}`;
}

function seenShown({ seen, photosNow, currency }: DecisionRecord, forStaff: boolean): Html {
  if (seen === null)
    return html`<p>Which pictures stood there when this was answered was not kept. The version above is what was answered.</p>`;
  const { record } = seen;
  if (record === null) return html`<p>It can’t be read.</p>`;
  return html`<p>${record.question}</p>
    ${newPartShown(record, currency)}
    ${photosSeen(record, photosNow, forStaff)}`;
}

function newPartShown({ newPart }: SeenRecord, currency: string): Html {
  if (newPart === null) return html`<p>No quote for a new part stood there.</p>`;
  const { quoted, saved, savedPercent } = newPart;
  const amount = (text: string) => amountShown(text, currency);
  return html`<p>A new part, fitted, was quoted at ${amount(quoted)} before tax${saved !== null && html`; the repair was ${amount(saved)} less${savedPercent !== null && html` (${savedPercent} %)`}`}.</p>`;
}

/** As it was kept; with its currency where it is an amount. */
function amountShown(text: string, currency: string): Html | string {
  const parsed = parseMoney(text, { currency, field: 'quoted' });
  return parsed.ok ? money(parsed.value, currency) : text;
}

/** Parts may have been covered since: the record names the picture as it was, and only the staff still see that. */
function photosSeen({ photos }: SeenRecord, now: DecisionRecord['photosNow'], forStaff: boolean): Html {
  if (photos === null) return html`<p>Which pictures stood there was not kept.</p>`;
  if (photos.length === 0) return html`<p>No picture stood there.</p>`;
  return pictureRow(
    photos.map(({ id, purpose }) => {
      const words = purposeWords(purpose);
      const src = `/photos/${id}/thumb`;
      const found = now.get(id);
      const isCovered = found !== undefined && found.coveredOn !== null && found.deletion === null;
      const asItWas = html` <a href="/photos/${id}/uncovered">Without the covering<span class="heard">: ${words}</span></a>`;
      return {
        src,
        alt: isCovered ? `${words}, parts covered` : `${words}, as it was seen`,
        caption: isCovered ? html`${words}, ${coveredWords(found)}${forStaff && asItWas}` : words,
        ...(found === undefined ? { ready: false } : pictureState(found)),
        href: `/photos/${id}/view`,
      };
    }),
  );
}

function purposeWords(purpose: string): string {
  const isPurpose = (text: string): text is keyof typeof photoPurposes => Object.hasOwn(photoPurposes, text);
  return isPurpose(purpose) ? photoPurposes[purpose] : purpose;
}

/** Every version that was sent, with what became of it. */
export function versionsTable(
  versions: readonly SentVersionView[],
  base: string,
  workOrderId: string,
  timeZone: string,
): Html {
  return dataTable({
    caption: 'Versions of the estimate',
    captionHidden: true,
    rows: versions,
    empty: html`<p>Nothing was sent yet.</p>`,
    columns: [
      { header: 'Version', names: true, cell: ({ number }) => `Version ${number}` },
      { header: 'Sent', cell: ({ sentAt }) => instantShown(sentAt, timeZone) },
      { header: 'What became of it', cell: (version) => becameOf(version, base, workOrderId, timeZone) },
      { header: 'Total', figure: true, cell: ({ totalMinor, currency }) => money(totalMinor, currency) },
    ],
  });
}

function becameOf(
  { stands, decisionId, decidedAt, decidedBy, given }: SentVersionView,
  base: string,
  workOrderId: string,
  timeZone: string,
): Html | string {
  if (stands === 'waits') return 'waits for an answer';
  if (decisionId === null || decidedAt === null) return 'superseded, never answered';
  const who = decidedBy ?? (given === 'by_rule' ? 'a standing approval' : 'nobody: without charge');
  return html`<a href="${base}/${workOrderId}/decisions/${decisionId}">answered by ${who}</a>, ${instantShown(decidedAt, timeZone)}`;
}
