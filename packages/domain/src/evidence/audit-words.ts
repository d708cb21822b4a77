/**
 * What an account may read of the audit records, in words of the trade. The database holds the same list: what is not
 * on it, an account's role does not see.
 */
export const shownToAccounts = {
  work_order_written_up: 'Written up',
  work_order_submitted: 'Estimate sent',
  approval_asked: 'Asked for an answer',
  answer_passed_on: 'Answer passed on, above a limit',
  estimate_revised: 'Estimate changed',
  work_order_price_changed: 'Price changed',
  work_order_approved: 'Approved',
  work_order_approved_by_rule: 'Approved by a standing approval',
  work_order_declined: 'Declined',
  work_order_lapsed: 'Estimate ran out',
  photo_added: 'Photo taken',
  photo_covered: 'Part of a photo covered',
  work_order_started: 'Work started',
  work_order_finished: 'Work finished',
  acceptance_taken: 'Answer to the finished work signed',
  visit_accepted: 'Several vehicles accepted with one signature',
  work_order_accepted: 'Accepted',
  signature_missing: 'Nobody signed',
  work_order_released: 'Released without a signature',
  work_order_reworked_done: 'Rework accepted',
  work_order_voided: 'Voided',
  numbers_given: 'Numbers given',
  message_written: 'Message written',
  work_order_invoiced: 'Put on an invoice',
  work_order_settled: 'Paid',
  work_order_payment_came_back: 'Payment came back',
  work_order_invoice_voided: 'Taken off a voided invoice',
  invoice_issued: 'Invoice issued',
  invoice_voided: 'Invoice voided',
  credit_note_issued: 'Credit note issued',
  credit_note_applied: 'Credit note applied',
  dispute_opened: 'Disputed',
  dispute_answered: 'Dispute answered',
  late_charge_charged: 'Late charge charged',
  discount_taken: 'Discount for early payment taken',
  statement_issued: 'Statement issued',
} as const satisfies Readonly<Record<string, string>>;

/** What the business reads besides; an action without words of its own is shown by its name. */
const toTheBusinessAlone: Readonly<Record<string, string>> = {
  estimate_answered: 'Answer to the estimate written down',
  acceptance_not_bound: 'Signed on a phone, and not bound to the work',
  acceptance_released: 'Release without a signature written down',
  line_added: 'Line added',
  line_changed: 'Line changed',
  line_removed: 'Line taken away',
  line_withdrawn: 'Line withdrawn',
  work_order_changed: 'Write-up changed',
  work_order_seam_released: 'Seam near an airbag released',
  cautions_acknowledged: 'Cautions acknowledged',
  work_written_down: 'Work written down',
  work_costs: 'Minutes and materials written down',
  key_tested: 'Key tested',
  stop_point_added: 'Stop point marked',
  below_floor_consented: 'Price below the floor consented to',
  replacement_quoted: 'New part quoted',
  replacement_quote_taken_back: 'Quote for a new part taken back',
  owner_asked: 'Link sent to the vehicle’s owner',
  copy_given: 'Copy given to the signer',
  link_revoked: 'Link taken back',
  mail_queued: 'Mail queued',
  mail_requeued: 'Mail queued again',
  photo_uncovered: 'Photo uncovered',
  photo_kept_in_spite: 'Photo kept in spite of a warning',
  recording_added: 'Recording added',
  recording_withheld: 'Recording kept from the account',
  recording_shown_again: 'Recording shown to the account again',
  legal_hold_placed: 'Legal hold placed',
  legal_hold_lifted: 'Legal hold lifted',
  retention_set: 'Time of keeping set',
  retention_switched_on: 'Deleting by rule switched on',
  retention_switched_off: 'Deleting by rule switched off',
  deleted_by_rule: 'Deleted by rule',
  written_off: 'Written off',
  write_off_recovered: 'Write-off recovered',
  work_order_void_reason: 'Reason of the void written down',
};

/** An action of the audit record in words. */
export function auditWords(action: string): string {
  const known: Readonly<Record<string, string>> = { ...toTheBusinessAlone, ...shownToAccounts };
  const words = Object.hasOwn(known, action) ? known[action] : undefined;
  if (words !== undefined) return words;
  const plain = action.replaceAll('_', ' ');
  return `${plain.slice(0, 1).toUpperCase()}${plain.slice(1)}`;
}
