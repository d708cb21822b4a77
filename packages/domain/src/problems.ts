/**
 * Every problem that a person can act on, in one closed list. `status` is the HTTP status of the problem
 * details reply (RFC 9457), `title` its short name. The sentence that says what to do is written where the
 * problem is found, because only there the numbers and names are known. docs/errors.md is made from this.
 */
export const problems = {
  not_found: { status: 404, title: 'Not found' },
  not_signed_in: { status: 401, title: 'Not signed in' },
  sign_in_failed: { status: 401, title: 'Sign-in failed' },
  too_many_attempts: { status: 429, title: 'Too many attempts' },
  not_allowed: { status: 403, title: 'Not allowed' },
  link_unknown: { status: 404, title: 'Link not known' },
  link_expired: { status: 410, title: 'Link expired' },
  link_revoked: { status: 410, title: 'Link taken back' },
  deleted_by_rule: { status: 410, title: 'Deleted by rule' },
  form_expired: { status: 403, title: 'Form expired' },
  over_limit: { status: 403, title: 'Above your limit' },
  invalid_input: { status: 422, title: 'Input to correct' },
  invalid_vin: { status: 422, title: 'VIN to correct' },
  invalid_money: { status: 422, title: 'Amount to correct' },
  invalid_size: { status: 422, title: 'Size to correct' },
  invalid_date: { status: 422, title: 'Date to correct' },
  dates_out_of_order: { status: 422, title: 'Dates out of order' },
  id_reused: { status: 409, title: 'Id already used for something else' },
  duplicate: { status: 409, title: 'Already there' },
  wrong_state: { status: 409, title: 'Not at this point' },
  version_superseded: { status: 409, title: 'The estimate has changed' },
  estimate_expired: { status: 409, title: 'The estimate has expired' },
  already_decided: { status: 409, title: 'Already answered' },
  already_accepted: { status: 409, title: 'Already accepted' },
  already_invoiced: { status: 409, title: 'Already invoiced' },
  below_floor: { status: 409, title: 'Below the floor' },
  price_by_hand: { status: 422, title: 'To be priced by hand' },
  line_missing: { status: 409, title: 'No line yet' },
  photo_missing: { status: 409, title: 'Photo missing' },
  number_missing: { status: 409, title: 'Number missing' },
  over_purchase_order: { status: 409, title: 'More than the purchase order allows' },
  cautions_open: { status: 409, title: 'Cautions not acknowledged' },
  contradiction: { status: 409, title: 'Contradiction to settle' },
  shown_changed: { status: 409, title: 'What was shown has changed' },
  signature_missing: { status: 422, title: 'Signature missing' },
  signer_not_fitting: { status: 422, title: 'Signer does not fit the account’s rule' },
  nothing_approved: { status: 422, title: 'Nothing approved' },
  over_payment: { status: 409, title: 'More than is open' },
  month_closed: { status: 409, title: 'The month is closed' },
  photo_too_large: { status: 413, title: 'Photo too large' },
  photo_not_an_image: { status: 415, title: 'Not a photo' },
  photo_unreadable: { status: 422, title: 'Photo unreadable' },
  photo_too_many_pixels: { status: 422, title: 'Photo has too many pixels' },
  recording_unreadable: { status: 415, title: 'Not a recording that can be kept' },
  recording_too_large: { status: 413, title: 'Recording too large' },
  upload_offset: { status: 409, title: 'The upload goes on elsewhere' },
  upload_digest: { status: 422, title: 'Arrived changed' },
  upload_unfinished: { status: 409, title: 'Upload not finished' },
  too_many_uploads: { status: 429, title: 'Too many unfinished uploads' },
  too_many_requests: { status: 429, title: 'Too many requests' },
  unavailable: { status: 503, title: 'Not available right now' },
} as const satisfies Record<string, { status: number; title: string }>;

export type ProblemCode = keyof typeof problems;
export const problemCodes = Object.keys(problems) as ProblemCode[];

export interface Problem {
  readonly code: ProblemCode;
  /** One or two sentences for the person: what is wrong, and what to do. */
  readonly detail: string;
  /** The input it belongs to, as named in the API and the form. */
  readonly field?: string;
  /** Where several things are wrong at once: each of them, the first one included. */
  readonly errors?: readonly { readonly field: string; readonly detail: string }[];
}
