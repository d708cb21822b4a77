/** What also runs on a phone without signal: plain functions over plain data, without database, disk or network. */
export { buildAcceptance, type PicturedPart, type PicturedRow } from './evidence/shown-acceptance.ts';
export { readSignerContact } from './evidence/signer-contact.ts';
export type {
  PhoneLine,
  PhonePhoto,
  PhonePlace,
  PhoneRepair,
  PhoneRules,
  PhoneSnapshot,
  PhoneStop,
  PhoneWorkOrder,
} from './phone/phone-snapshot.ts';
export { deletionWords } from './retention/deleted-words.ts';
export { factsOfLines, type LineFacts, type StoredLine } from './work-orders/line-facts.ts';
export {
  type LineInput,
  readDamage,
  readFinding,
  readLineAtVehicle,
  storedFinding,
} from './work-orders/read-line.ts';
export { readWriteUp } from './work-orders/read-write-up.ts';
export {
  cautionsAtHandOver,
  cautionsToShow,
  noticeable,
  readCircumstances,
} from './work-orders/shown-cautions.ts';
export { numberWords, vehicleWords } from './work-orders/vehicle-words.ts';
