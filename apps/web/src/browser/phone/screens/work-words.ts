import { photoPurposes } from '@grainwright/domain';
import type { WorkHeading } from '@grainwright/operations';
import { factsOfLines, numberWords, vehicleWords } from '@grainwright/operations/phone';
import { workOrderNumber } from '../../../pages/work-order/state-words.ts';
import type { PhoneWork } from '../projection.ts';

/** “2025 Ostra Vela, gray, job number BG-9107” as the service’s pages say it; where the account has no number of its own, “WO-1004”. */
export function numberedWork(work: PhoneWork): string {
  const { vehicle, ownNumberKind: ownKind, ownNumber: own, roNumber: ro, poNumber: po } = work;
  const numbers = numberWords({ ownKind, own, ro, po });
  return `${vehicleWords(vehicle, own)}, ${numbers === '' ? numberOf(work) : numbers}`;
}

export function numberOf({ number }: Pick<PhoneWork, 'number'>): string {
  return workOrderNumber(number === null ? null : BigInt(number));
}

/** What stands at the top of every page about it. */
export function headingOf(work: PhoneWork): WorkHeading {
  return {
    id: work.id,
    number: work.number === null ? null : BigInt(work.number),
    state: work.state,
    vehicle: vehicleWords(work.vehicle, work.ownNumber),
    accountName: work.accountName,
    ownNumber: work.ownNumber,
    acceptanceRule: work.rules.acceptanceRule,
  };
}

/** Lines with their names and what they say; those declined are not done. */
export function linesOf(work: PhoneWork) {
  return factsOfLines(work.lines);
}

export function purposeWords(purpose: keyof typeof photoPurposes): string {
  return photoPurposes[purpose];
}

/** The purposes for which there is something to see, a recording of the walk around it included. */
export function picturedBy(work: PhoneWork) {
  return [...work.photos.map(({ purpose }) => purpose), ...work.recorded];
}
