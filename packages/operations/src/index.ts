export type { AccountListRow, NamedMembership, WaitingCounts } from '@grainwright/db';
export { agingBucketNames } from '@grainwright/documents';
export type { AccountKind, AccountTermsInput } from './accounts/account-terms.ts';
export { type AddAccountInput, addAccount } from './accounts/add-account.ts';
export { addCertificate } from './accounts/add-certificate.ts';
export { addContact } from './accounts/add-contact.ts';
export { addSite } from './accounts/add-site.ts';
export { type ChangeAccountInput, changeAccount } from './accounts/change-account.ts';
export { endContact } from './accounts/end-contact.ts';
export { listAccountNames } from './accounts/list-account-names.ts';
export { type AccountList, listAccounts } from './accounts/list-accounts.ts';
export { type AccountView, readAccount } from './accounts/read-account.ts';
export { resumeContact } from './accounts/resume-contact.ts';
export { type ApplyPaymentInput, applyPayment } from './billing/apply-payment.ts';
export { checkLedger, type LedgerReport } from './billing/check-ledger.ts';
export { type ExportedFile, exportStatement } from './billing/export-statement.ts';
export type { PartySnapshot } from './billing/invoice-document.ts';
export type {
  InvoiceLineView,
  InvoiceRowView,
  InvoiceTaxView,
  InvoiceVehicleView,
  InvoiceView,
  SettlementView,
} from './billing/invoice-view.ts';
export { type IssueInvoiceInput, issueInvoice } from './billing/issue-invoice.ts';
export { type InvoiceList, type ListInvoicesInput, listInvoices } from './billing/list-invoices.ts';
export { type ListPaymentsInput, listPayments, type PaymentList } from './billing/list-payments.ts';
export { listReadyToInvoice, type VisitToInvoice } from './billing/list-ready-to-invoice.ts';
export { listStatements, type StatementList } from './billing/list-statements.ts';
export { type PaymentMethod, type PaymentView, paymentMethods } from './billing/payment-view.ts';
export { readInvoice } from './billing/read-invoice.ts';
export { readPayment } from './billing/read-payment.ts';
export { type ReadStatementInput, readStatement } from './billing/read-statement.ts';
export { type RecordPaymentInput, recordPayment } from './billing/record-payment.ts';
export type { StatementRowView, StatementView } from './billing/statement-view.ts';
export { type AcceptedWork, type AcceptWorkInput, acceptWork } from './evidence/accept-work.ts';
export type { PicturedPart, PicturedPhoto } from './evidence/acceptance-to-show.ts';
export { type AddedPhoto, type AddPhotoInput, addPhoto } from './evidence/add-photo.ts';
export { listPhotosToTake, type PhotosToTake } from './evidence/list-photos-to-take.ts';
export { makePhotoDerivatives, type PhotoToCopy } from './evidence/make-photo-derivatives.ts';
export { type OpenedPhoto, type OpenPhotoInput, openPhoto, type PhotoKind } from './evidence/open-photo.ts';
export { readAcceptance, type SignedAcceptance } from './evidence/read-acceptance.ts';
export { type ShownAcceptance, showAcceptance } from './evidence/show-acceptance.ts';
export { type OpenedServices, openServices, type ServiceSettings } from './open-services.ts';
export type { Actor, Scope } from './perform.ts';
export { addAccountPrice } from './prices/add-account-price.ts';
export { addCareFactor } from './prices/add-care-factor.ts';
export { addRates, type RateInput } from './prices/add-rates.ts';
export { type AddTaxAreaInput, addTaxArea } from './prices/add-tax-area.ts';
export { type AddTierInput, addTier } from './prices/add-tier.ts';
export { endPrice } from './prices/end-price.ts';
export { type PriceBookView, type RateWithPrices, readPriceBook } from './prices/read-price-book.ts';
export { type SetPriceTermsInput, setPriceTerms } from './prices/set-price-terms.ts';
export { readiness } from './readiness.ts';
export type { Services } from './services.ts';
export { changePassword } from './sign-in/change-password.ts';
export type { GivenLogin } from './sign-in/give-login.ts';
export { joinBusiness } from './sign-in/join-business.ts';
export { type Me, readMe } from './sign-in/read-me.ts';
export {
  chooseMembership,
  listOwnMemberships,
  readSession,
  type SignedInPerson,
  signOut,
} from './sign-in/read-session.ts';
export { registrySessionStore } from './sign-in/session-store.ts';
export { type SignedIn, signIn } from './sign-in/sign-in.ts';
export { type AddedPerson, addStaffMember } from './tenants/add-staff-member.ts';
export { createTenant } from './tenants/create-tenant.ts';
export { endStaffMember } from './tenants/end-staff-member.ts';
export { listStaff } from './tenants/list-staff.ts';
export { listTenants } from './tenants/list-tenants.ts';
export { type AddLineInput, addLine } from './work-orders/add-line.ts';
export { noticeable } from './work-orders/cautions.ts';
export { changeLine } from './work-orders/change-line.ts';
export { type ChangeWriteUpInput, changeWriteUp } from './work-orders/change-write-up.ts';
export { countWaiting } from './work-orders/count-waiting.ts';
export { type Decided, type DecideEstimateInput, decideEstimate } from './work-orders/decide-estimate.ts';
export type { LineAnswer } from './work-orders/estimate-version.ts';
export { type FinishWorkInput, finishWork } from './work-orders/finish-work.ts';
export { type GiveNumbersInput, giveNumbers } from './work-orders/give-numbers.ts';
export { listCautions, type StartView } from './work-orders/list-cautions.ts';
export { listPlaces, type PlaceView } from './work-orders/list-places.ts';
export {
  listRepairChoices,
  type RepairChoicesView,
  type RepairFamily,
} from './work-orders/list-repair-choices.ts';
export { listToApprove, type ToApproveList, type ToApproveView } from './work-orders/list-to-approve.ts';
export { listToday } from './work-orders/list-today.ts';
export { type ListWorkOrdersInput, listWorkOrders } from './work-orders/list-work-orders.ts';
export {
  type DecisionPreview,
  type PreviewDecisionInput,
  previewDecision,
  previewRecordedDecision,
} from './work-orders/preview-decision.ts';
export { type LineInput, readDamage, readFinding } from './work-orders/read-line.ts';
export { readWorkOrder } from './work-orders/read-work-order.ts';
export {
  type Approver,
  listApprovers,
  type RecordDecisionInput,
  recordDecision,
} from './work-orders/record-decision.ts';
export { releaseSeam } from './work-orders/release-seam.ts';
export { removeLine } from './work-orders/remove-line.ts';
export { reviewWork, type WorkReview } from './work-orders/review-work.ts';
export { type ReviseEstimateInput, reviseEstimate } from './work-orders/revise-estimate.ts';
export { type StartWorkInput, startWork } from './work-orders/start-work.ts';
export { type SubmitEstimateInput, submitEstimate } from './work-orders/submit-estimate.ts';
export { numberWords, vehicleWords } from './work-orders/vehicle-words.ts';
export type { WorkHeading } from './work-orders/work-heading.ts';
export type * from './work-orders/work-order-view.ts';
export type { LineWorkInput, OverrideInput } from './work-orders/worked-lines.ts';
export { type WriteUpInput, type WrittenUp, writeUp } from './work-orders/write-up.ts';
