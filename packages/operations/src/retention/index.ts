export { type DeletedByRule, deleteByRule } from './delete-by-rule.ts';
export { deletionWords } from './deletion-words.ts';
export {
  type LegalHoldInput,
  type LegalHoldView,
  liftLegalHold,
  placeLegalHold,
  readHoldsOver,
  readLegalHolds,
} from './legal-holds.ts';
export {
  type DueList,
  type KindRetention,
  type RetentionView,
  type RuleSet,
  readDueByCommand,
  readRetention,
} from './read-retention.ts';
export { type DeletionToFinish, removeDeleted } from './remove-deleted.ts';
export {
  type RetentionRuleInput,
  type SwitchRetentionInput,
  setRetentionRule,
  switchRetention,
} from './set-retention.ts';
