import { photoPurposes } from '@grainwright/domain';
import type { WorkHeading } from '@grainwright/operations';
import { factsOfLines, vehicleWords } from '@grainwright/operations/phone';
import { workOrderNumber } from '../../../pages/work-order/state-words.ts';
import type { PhoneWork } from '../projection.ts';

/** “2025 Ostra Vela, gray, WO-1004”; by the account's own number while it has none. */
export function numberedWork(work: PhoneWork): string {
  const isNamed = work.number === null && work.ownNumber !== '';
  return `${vehicleWords(work.vehicle, work.ownNumber)}, ${isNamed ? work.ownNumber : numberOf(work)}`;
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
