import type { EvidenceLine, EvidencePackModel, EvidencePrices } from '@grainwright/documents';
import { moneyWords } from '@grainwright/documents';
import {
  dayAt,
  dayWords,
  displayPercent,
  doneWords,
  formatDecimal,
  ownNumberKinds,
  savings,
} from '@grainwright/domain';
import { partyLines } from '../documents/party-lines.ts';
import type { WorkOrderLineView, WorkOrderView } from '../work-orders/work-order-view.ts';
import { asSentence } from './as-sentence.ts';
import { evidenceAnswers } from './evidence-answers.ts';
import { type PicturesOfPack, picturesOfLine } from './evidence-pictures.ts';
import { evidenceProof } from './evidence-proof.ts';
import { packAsOf } from './media-of-pack.ts';
import type { PackRecords } from './pack-records.ts';

export interface EvidenceExtras {
  readonly logo: Uint8Array | null;
  readonly pictures: PicturesOfPack;
  readonly publicUrl: string;
}

/** What the document of a pack says: to its customer without what stays with the staff. */
export function evidenceModel(records: PackRecords, extras: EvidenceExtras): EvidencePackModel {
  const { view, business, account } = records;
  const asOf = dayAt(packAsOf(records), business.timeZone);
  return {
    size: business.pageSize,
    seller: { name: business.name, lines: partyLines(business), logo: extras.logo },
    buyer: { name: account.name, lines: account.billingAddress.split('\n') },
    number: `WO-${view.number}`,
    asOf,
    facts: [
      { term: 'Worked', value: dayWords(view.visit.day) },
      { term: 'At', value: view.site.name },
      { term: 'Technician', value: view.technician.name },
      ...numberFacts(view),
    ],
    vehicle: { words: view.vehicle.description, facts: vehicleFacts(view) },
    lines: view.lines.map((line) => evidenceLine(line, view, extras.pictures)),
    vehiclePictures: picturesOfLine(null, extras.pictures).shown,
    prices: view.decision === null ? null : prices(view, view.decision),
    answers: evidenceAnswers(records),
    proof: evidenceProof(records, view.lines, extras.publicUrl),
  };
}

function numberFacts({ numbers }: WorkOrderView): EvidencePackModel['facts'] {
  const own = numbers.ownKind === null ? '' : ownNumberKinds[numbers.ownKind];
  return [
    { term: `${own.charAt(0).toUpperCase()}${own.slice(1)}`, value: own === '' ? '' : numbers.own },
    { term: 'RO', value: numbers.ro },
    { term: 'PO', value: numbers.po },
  ].filter(({ value }) => value !== '');
}

function vehicleFacts({ vehicle, odometerMiles }: WorkOrderView): EvidencePackModel['facts'] {
  return [
    { term: vehicle.vin === null ? 'VIN, last eight' : 'VIN', value: vehicle.vin ?? vehicle.lastEight ?? '' },
    { term: 'Odometer', value: odometerMiles === null ? '' : `${odometerMiles.toLocaleString('en-US')} mi` },
  ].filter(({ value }) => value !== '');
}

function evidenceLine(line: WorkOrderLineView, view: WorkOrderView, pictures: PicturesOfPack): EvidenceLine {
  const { shown, further } = picturesOfLine(line.id, pictures);
  const size = line.measuredInches === null ? '' : `, ${formatDecimal(line.measuredInches)} in`;
  const where = line.visibleWhen === '' ? '' : `, seen ${line.visibleWhen}`;
  const stopped = view.stopPoints.filter((point) => point.lineId === line.id && point.shown);
  return {
    name: line.words,
    facts: [
      ...(line.repairsDamage ? [{ term: 'Damage', value: asSentence(line.damage + size + where) }] : []),
      ...(line.repairsDamage && line.material !== ''
        ? [{ term: 'Material', value: `${asSentence(line.material)} ${asSentence(line.observed)}` }]
        : []),
      { term: 'Done', value: done(line) },
      ...stopped.map(({ note }) => ({ term: 'Stopped on purpose', value: asSentence(note) })),
    ],
    pictures: shown,
    furtherPictures: further,
  };
}

function done({ answer, answerReason, words, entry, repairsDamage }: WorkOrderLineView): string {
  if (answer === 'declined')
    return asSentence(`Not repaired: declined${answerReason && `, ${answerReason}`}`);
  const { methods, family } = entry;
  const said = doneWords({ name: words, methods, family, repairsDamage });
  // The heading has named it.
  const named = `${words}: `;
  return said.startsWith(named) ? asSentence(said.slice(named.length)) : said;
}

function prices(view: WorkOrderView, decision: NonNullable<WorkOrderView['decision']>): EvidencePrices {
  const charge = (words: string, amountMinor: bigint) =>
    amountMinor === 0n ? [] : [{ words, answer: '', amountMinor }];
  return {
    currency: view.currency,
    rows: [
      ...decision.lines.map(({ lineId, answer, reason, netMinor }) => ({
        words: view.lines.find(({ id }) => id === lineId)?.words ?? 'A line since taken away',
        answer: reason === '' ? answer : `${answer}: ${reason}`,
        amountMinor: answer === 'approved' ? netMinor : null,
      })),
      ...charge('Vehicle minimum', decision.minimumMinor),
      ...charge('After hours', decision.afterHoursMinor),
      ...charge('Rush', decision.rushMinor),
      ...charge('Visit minimum', decision.visitMinimumMinor),
      ...charge('Trip', decision.tripMinor),
      ...charge('Tax', decision.taxMinor),
    ],
    totalMinor: decision.totalMinor,
    againstNewPart: againstNewPart(view, decision.totalMinor - decision.taxMinor),
  };
}

/** Both before tax: in money and per cent. */
function againstNewPart({ replacement, currency }: WorkOrderView, repairMinor: bigint): readonly string[] {
  if (replacement === null) return ['No quote for a new part is on record.'];
  const quoted = `A new part, fitted, was quoted at ${moneyWords(replacement.minor, currency)} before tax`;
  const note = replacement.note === '' ? '' : ` (${replacement.note})`;
  const saved = savings(replacement.minor, repairMinor);
  if (saved === null || repairMinor === 0n) return [`${quoted}${note}.`];
  const repair = `The repair came to ${moneyWords(repairMinor, currency)} before tax`;
  const difference =
    saved.savedMinor < 0n
      ? `${moneyWords(-saved.savedMinor, currency)} more`
      : `${moneyWords(saved.savedMinor, currency)} less, ${displayPercent(saved.percent)} saved`;
  const unquoted =
    replacement.unquoted.length === 0
      ? []
      : [`Not quoted, though it was repaired as well: ${replacement.unquoted.join('; ')}.`];
  return [`${quoted}${note}. ${repair}: ${difference}.`, ...unquoted];
}
