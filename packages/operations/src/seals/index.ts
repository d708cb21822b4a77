export type { SealDayRow as SealDayView } from '@grainwright/db';
export { chainAudit } from './chain-audit.ts';
export { checkSeals, type SealReport } from './check-seals.ts';
export { closeSealDays } from './close-seal-days.ts';
export type { PublicKeyView } from './public-keys.ts';
export {
  listSealDays,
  listSealKeys,
  listSeals,
  listWorkOrderSeals,
  readSealDay,
  type SealDaysView,
  type SealedThing,
  type SealedThings,
  type SealView,
} from './read-seals.ts';
export {
  readInvoiceTrail,
  readStatementTrail,
  readWorkOrderTrail,
  type TrailEntry,
  type TrailView,
} from './read-trail.ts';
export { readSeals, rotateSealKey, type SealsView } from './rotate-key.ts';
export { sealDaysOver } from './seal-days-over.ts';
export { sealRecords } from './seal-records.ts';
