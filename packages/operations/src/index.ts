export type {
  AccountListRow,
  Business as BusinessView,
  DocumentToPay,
  InvoiceStanding,
  InvoiceWithRo,
  NamedCommissionRate as CommissionRateView,
  NamedMembership,
  WaitingCounts,
} from '@grainwright/db';
export { agingBucketNames } from '@grainwright/documents';
export { readS3Settings, type S3Settings } from '@grainwright/evidence';
export type { AccountAsSeen } from './accounts/account-as-seen.ts';
export type { AccountKind, AccountTermsInput } from './accounts/account-terms.ts';
export { type AddAccountInput, addAccount } from './accounts/add-account.ts';
export { addAccountGroup } from './accounts/add-account-group.ts';
export { addCertificate } from './accounts/add-certificate.ts';
export { addContact } from './accounts/add-contact.ts';
export { type AddPurchaseOrderInput, addPurchaseOrder } from './accounts/add-purchase-order.ts';
export { addSite } from './accounts/add-site.ts';
export { readCertificateWarning } from './accounts/certificate-warnings.ts';
export { type ChangeAccountInput, changeAccount } from './accounts/change-account.ts';
export { changePurchaseOrder } from './accounts/change-purchase-order.ts';
export { type CheckHandedInInput, checkHandedIn } from './accounts/check-handed-in.ts';
export { endContact } from './accounts/end-contact.ts';
export { endStandingApproval } from './accounts/end-standing-approval.ts';
export { type HandInCertificateInput, handInCertificate } from './accounts/hand-in-certificate.ts';
export type { HandedInView } from './accounts/handed-in-view.ts';
export { listAccountGroups } from './accounts/list-account-groups.ts';
export { listAccountNames } from './accounts/list-account-names.ts';
export { type AccountList, listAccounts } from './accounts/list-accounts.ts';
export { listHandedIn, listHandedInToCheck, readHandedIn } from './accounts/list-handed-in.ts';
export { listPurchaseOrders, type PurchaseOrderList } from './accounts/list-purchase-orders.ts';
export { listStandingApprovals, type StandingApprovalList } from './accounts/list-standing-approvals.ts';
export { type AccountRef, type AccountView, readAccount } from './accounts/read-account.ts';
export { resumeContact } from './accounts/resume-contact.ts';
export { type SetStandingApprovalInput, setStandingApproval } from './accounts/set-standing-approval.ts';
export type { StandingApprovalView } from './accounts/standing-approval-view.ts';
export { type AnsweredOne, type ApprovedAsShown, approveSeveral } from './approvals/approve-several.ts';
export { type AskAgainInput, askAgain } from './approvals/ask-again.ts';
export { type ApprovalToAskFor, askForApproval } from './approvals/ask-for-approval.ts';
export type { FrozenEstimate, SeenRecord } from './approvals/frozen-record.ts';
export { listVersions, type SentVersionView } from './approvals/list-versions.ts';
export type { AskingView, AskView } from './approvals/load-asking.ts';
export { mailPassedOn, type PassedOnToMail } from './approvals/mail-passed-on.ts';
export { openAskedPhoto } from './approvals/open-asked-photo.ts';
export { type OrderApproversInput, orderApprovers } from './approvals/order-approvers.ts';
export { type PassOnAnswerInput, passOnAnswer } from './approvals/pass-on-answer.ts';
export { type PassedOnView, passedOnWords } from './approvals/passed-on-view.ts';
export { type AskedVisit, checkAsked, readAskedVisit } from './approvals/read-asked-visit.ts';
export { type DecisionRecord, readDecisionRecord } from './approvals/read-decision-record.ts';
export { type AnswerToTell, tellAnswer } from './approvals/tell-answer.ts';
export { type AnswerDisputeInput, answerDispute } from './billing/answer-dispute.ts';
export { type ApplyCreditNoteInput, applyCreditNote } from './billing/apply-credit-note.ts';
export { type ApplyPaymentInput, applyPayment } from './billing/apply-payment.ts';
export { type AssignReceiptInput, assignReceipt } from './billing/assign-receipt.ts';
export { type BringForwardInput, bringForward } from './billing/bring-forward.ts';
export { type ChargedLate, chargeLate } from './billing/charge-late.ts';
export { checkLedger, type LedgerReport } from './billing/check-ledger.ts';
export type { CreditNoteRowView, CreditNoteView } from './billing/credit-note-view.ts';
export type { DisputeView } from './billing/dispute-view.ts';
export type { PartySnapshot } from './billing/invoice-document.ts';
export type {
  InvoiceLineView,
  InvoiceRowView,
  InvoiceTaxView,
  InvoiceVehicleView,
  InvoiceView,
  SettlementView,
} from './billing/invoice-view.ts';
export type { InvoiceToIssue, WaitForInvoice, WorkToBill } from './billing/invoices-to-issue.ts';
export { type IssueCreditNoteInput, issueCreditNote } from './billing/issue-credit-note.ts';
export { type IssueInvoiceInput, issueInvoice } from './billing/issue-invoice.ts';
export { type IssuedRun, type IssueReadyInput, issueReady } from './billing/issue-ready.ts';
export type { LateChargeDue } from './billing/late-charges-due.ts';
export {
  type CreditNoteList,
  type ListCreditNotesInput,
  listCreditNotes,
} from './billing/list-credit-notes.ts';
export { type DisputeList, type ListDisputesInput, listDisputes } from './billing/list-disputes.ts';
export { type InvoiceList, type ListInvoicesInput, listInvoices } from './billing/list-invoices.ts';
export { type LateChargeList, listLateCharges } from './billing/list-late-charges.ts';
export { listOpenings } from './billing/list-openings.ts';
export { listParkedReceipts, type ParkedReceiptList } from './billing/list-parked-receipts.ts';
export { type ListPaymentsInput, listPayments, type PaymentList } from './billing/list-payments.ts';
export { type ListReadyInput, listReadyToInvoice, type ReadyList } from './billing/list-ready-to-invoice.ts';
export { type MoveCreditInput, moveCredit } from './billing/move-credit.ts';
export { type OpenDisputeInput, openDispute } from './billing/open-dispute.ts';
export type { OpeningView } from './billing/opening-view.ts';
export { type ParkReceiptInput, parkReceipt } from './billing/park-receipt.ts';
export type { ParkedReceiptView } from './billing/parked-receipt-view.ts';
export {
  type ApplicationView,
  type PaymentMethod,
  type PaymentState,
  type PaymentView,
  paymentMethods,
  type RefundView,
} from './billing/payment-view.ts';
export {
  type CreditPreview,
  type PreviewCreditNoteInput,
  previewCreditNote,
} from './billing/preview-credit-note.ts';
export { type InvoicePreview, previewInvoice } from './billing/preview-invoice.ts';
export { type ClearingView, readClearing } from './billing/read-clearing.ts';
export type { ChargeToCredit, LineToCredit } from './billing/read-correction.ts';
export { readCreditNote } from './billing/read-credit-note.ts';
export { type Creditable, readCreditable } from './billing/read-creditable.ts';
export { readDispute } from './billing/read-dispute.ts';
export { readInvoice } from './billing/read-invoice.ts';
export { readParkedReceipt } from './billing/read-parked-receipt.ts';
export { readPayment } from './billing/read-payment.ts';
export { type PaymentEntryView, readPaymentEntry } from './billing/read-payment-entry.ts';
export { outsideMethods } from './billing/receipt-input.ts';
export {
  type ClearingInput,
  type ClearingMovementView,
  recordPayout,
  recordProcessorFee,
} from './billing/record-clearing.ts';
export { type RecordDepositInput, recordDeposit } from './billing/record-deposit.ts';
export { type RecordPaymentInput, recordPayment } from './billing/record-payment.ts';
export { type RecoverWriteOffInput, recoverWriteOff } from './billing/recover-write-off.ts';
export {
  type RefundCreditInput,
  type RefundDepositInput,
  refundCredit,
  refundDeposit,
} from './billing/refund-credit.ts';
export { type ReturnPaymentInput, returnPayment } from './billing/return-payment.ts';
export { type TakeDiscountInput, takeDiscount } from './billing/take-discount.ts';
export { type UnapplyPaymentInput, unapplyPayment } from './billing/unapply-payment.ts';
export { type VoidInvoiceInput, voidInvoice } from './billing/void-invoice.ts';
export { type WriteOffInput, writeOff } from './billing/write-off.ts';
export { type CloseMonthInput, closeMonth, type ReopenMonthInput, reopenMonth } from './books/close-month.ts';
export { exportLedger, exportLedgerOf } from './books/export-ledger.ts';
export type { MonthCheck } from './books/month-checks.ts';
export { type MonthCloseView, readMonthClose } from './books/read-month-close.ts';
export {
  type ChangeBusinessSettingsInput,
  changeBusinessSettings,
  readBusinessSettings,
} from './business/change-business-settings.ts';
export { openLogo } from './business/open-logo.ts';
export { logoBytesMax, removeLogo, setLogo } from './business/set-logo.ts';
export * from './covering/index.ts';
export { type DelegationView, delegationWords } from './delegations/delegation-view.ts';
export { endDelegation } from './delegations/end-delegation.ts';
export {
  type NameDelegateInput,
  nameDelegate,
  type RecordDelegationInput,
  recordDelegation,
} from './delegations/name-delegate.ts';
export { openCreditNotePdf } from './documents/open-credit-note-pdf.ts';
export { openInvoicePdf } from './documents/open-invoice-pdf.ts';
export type { OpenedFile } from './documents/opened-file.ts';
export { type AcceptedVisit, type AcceptVisitInput, acceptVisit } from './evidence/accept-visit.ts';
export { type AcceptWorkInput, acceptWork } from './evidence/accept-work.ts';
export type { PicturedPart, PicturedPhoto } from './evidence/acceptance-to-show.ts';
export { type AddedPhoto, type AddPhotoInput, addPhoto } from './evidence/add-photo.ts';
export { type AddPhotoFromUploadInput, addPhotoFromUpload } from './evidence/add-photo-from-upload.ts';
export { listPhotosToTake, type PhotosToTake } from './evidence/list-photos-to-take.ts';
export { makePhotoDerivatives, type PhotoToCopy } from './evidence/make-photo-derivatives.ts';
export { type OpenedPhoto, type OpenPhotoInput, openPhoto, type PhotoKind } from './evidence/open-photo.ts';
export { type OpenSignatureInput, openSignature } from './evidence/open-signature.ts';
export { readAcceptance, type SignedAcceptance, type SignedToHandOver } from './evidence/read-acceptance.ts';
export { type AcceptanceRecord, readAcceptanceRecords } from './evidence/read-acceptance-records.ts';
export { type PhotoOnRecord, readPhoto } from './evidence/read-photo.ts';
export { readVisitSignature, type SignedVisitView } from './evidence/read-visit-signature.ts';
export { type RecordNoAcceptanceInput, recordNoAcceptance } from './evidence/record-no-acceptance.ts';
export { type ReleaseAcceptanceInput, releaseAcceptance } from './evidence/release-acceptance.ts';
export { type ShownAcceptance, showAcceptance } from './evidence/show-acceptance.ts';
export { type ShownVehicle, type ShownVisit, showVisitAcceptance } from './evidence/show-visit-acceptance.ts';
export type { AcceptedWork, SignedAnswer } from './evidence/take-answer.ts';
export * from './evidence-packs/index.ts';
export { type AccessLinkView, listLinks } from './links/list-links.ts';
export { type OpenedLink, openLink } from './links/open-link.ts';
export { revokeLink } from './links/revoke-link.ts';
export type { Carried, MailCarrier, MailToCarry } from './mail/mail-carrier.ts';
export {
  listMails,
  type MailList,
  type MailView,
  mailStates,
  openMailAttachment,
  readMail,
} from './mail/read-mail.ts';
export { resendMail } from './mail/resend-mail.ts';
export { sendMail } from './mail/send-mail.ts';
export { type MessageToMail, mailMessage } from './messages/mail-message.ts';
export type { MessageView } from './messages/message-view.ts';
export { type WriteMessageInput, writeMessage } from './messages/write-message.ts';
export { listNews, type NewsList, type NewsView, newsKinds } from './news/list-news.ts';
export { type NewsToWatch, type NewsWatch, watchNews } from './news/watch-news.ts';
export { type OpenedServices, openServices, type ServiceSettings } from './open-services.ts';
export { type AnswerByLinkInput, answerByLink } from './owners/answer-by-link.ts';
export { type AskOwnerInput, askOwner, type OwnerAsked } from './owners/ask-owner.ts';
export { type CopyView, readableUntil } from './owners/copy-view.ts';
export { type GiveCopyInput, giveCopy } from './owners/give-copy.ts';
export { type CopyToMail, mailOwnersCopy } from './owners/mail-owners-copy.ts';
export { noteUnanswered, type OwnersLinkStands } from './owners/no-answer.ts';
export { openOwnersPhoto, openOwnersSignature } from './owners/open-owners-photo.ts';
export type { OwnersLinkOpened } from './owners/owner-facts.ts';
export {
  type CopyLinkOpened,
  type CopyPage,
  openCopyPhoto,
  openCopySignature,
  showCopy,
} from './owners/show-copy.ts';
export { type OwnersPage, showToOwner } from './owners/show-to-owner.ts';
export type { CopyGiven } from './owners/write-copy.ts';
export type { Actor, Scope, SignedInActor } from './perform.ts';
export type { PhoneSnapshot } from './phone/phone-snapshot.ts';
export { readPhoneSnapshot } from './phone/read-phone-snapshot.ts';
export * from './photo-checks/index.ts';
export { type ChooseRemindersInput, chooseReminders } from './portal/choose-reminders.ts';
export { listNeeds } from './portal/list-needs.ts';
export type {
  AcceptanceNeed,
  CertificateNeed,
  NeedsView,
  NumbersNeed,
  PastDueNeed,
  PurchaseOrderNeed,
} from './portal/needs-view.ts';
export { checkNumbersAsked, type NumbersByLink, readNumbersByLink } from './portal/numbers-by-link.ts';
export { type OwnAccountView, readOwnAccount } from './portal/read-own-account.ts';
export { readSavings, type SavingsView } from './portal/read-savings.ts';
export * from './prices/index.ts';
export { readiness } from './readiness.ts';
export * from './recordings/index.ts';
export type { AgedAccount, AgedFigures } from './reports/aging-of.ts';
export { type AccountAgingView, readAccountAging } from './reports/read-account-aging.ts';
export { type AgingView, exportAging, readAging } from './reports/read-aging.ts';
export { type CommissionsView, exportCommissions, readCommissions } from './reports/read-commissions.ts';
export { type FiguresView, readFigures } from './reports/read-figures.ts';
export { exportSalesTax, readSalesTax, type SalesTaxView } from './reports/read-sales-tax.ts';
export { endCommissionRate, readCommissionRates, setCommissionRate } from './reports/set-commission-rate.ts';
export * from './retention/index.ts';
export * from './seals/index.ts';
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
export { type ExportedFile, exportStatement, openStatementPdf } from './statements/export-statement.ts';
export { issueStatements } from './statements/issue-statements.ts';
export { listStatementRuns, type StatementRunList } from './statements/list-statement-runs.ts';
export { listStatements, type StatementList, type StatementMonth } from './statements/list-statements.ts';
export { mailRunStatements, mailStatement } from './statements/mail-statement.ts';
export { readFrozenStatement } from './statements/read-frozen-statement.ts';
export { type ReadStatementInput, readStatement } from './statements/read-statement.ts';
export {
  readStatementRun,
  runAccountStates,
  type StatementRunHead,
  type StatementRunView,
} from './statements/read-statement-run.ts';
export { runStatementsByCommand } from './statements/run-by-command.ts';
export { runStatements } from './statements/run-statements.ts';
export type { StatementItemView, StatementRowView, StatementView } from './statements/statement-view.ts';
export { type AddedPerson, addStaffMember } from './tenants/add-staff-member.ts';
export { createTenant } from './tenants/create-tenant.ts';
export { endStaffMember } from './tenants/end-staff-member.ts';
export { letPriceByHand } from './tenants/let-price-by-hand.ts';
export { listStaff } from './tenants/list-staff.ts';
export { listTenants } from './tenants/list-tenants.ts';
export {
  type AddUploadPartInput,
  addUploadPart,
} from './uploads/add-upload-part.ts';
export { type BeginUploadInput, beginUpload, type UploadLimits } from './uploads/begin-upload.ts';
export { readUpload } from './uploads/read-upload.ts';
export { type StorageSwept, type SweepInput, sweepOrphans } from './uploads/sweep-orphans.ts';
export { type TakenUpload, type TakeUploadInput, takeUpload, useUpload } from './uploads/take-upload.ts';
export type { UploadKind, UploadView } from './uploads/upload-view.ts';
export { type Swept, sweepWaiting } from './waiting/sweep-waiting.ts';
export { type AddLineInput, addLine } from './work-orders/add-line.ts';
export { type AddStopPointInput, addStopPoint } from './work-orders/add-stop-point.ts';
export { noticeable } from './work-orders/cautions.ts';
export { changeLine } from './work-orders/change-line.ts';
export { type ChangeWriteUpInput, changeWriteUp } from './work-orders/change-write-up.ts';
export { type ConsentBelowFloorInput, consentBelowFloor } from './work-orders/consent-below-floor.ts';
export { countWaiting } from './work-orders/count-waiting.ts';
export { type Decided, type DecideEstimateInput, decideEstimate } from './work-orders/decide-estimate.ts';
export { type EarlierWorkView, listEarlierWork, reworkable } from './work-orders/earlier-work.ts';
export type { LineAnswer } from './work-orders/estimate-version.ts';
export {
  type FindVehiclesInput,
  findVehicles,
  type VehicleList,
  type VehicleView,
  type VehicleWorkView,
} from './work-orders/find-vehicles.ts';
export { type FinishWorkInput, finishWork } from './work-orders/finish-work.ts';
export { type GiveNumbersInput, giveNumbers } from './work-orders/give-numbers.ts';
export { type GiveQuoteInput, giveQuote } from './work-orders/give-quote.ts';
export { type HoldInput, holdWorkOrder, liftHold } from './work-orders/hold-work-order.ts';
export { listCautions, type StartView } from './work-orders/list-cautions.ts';
export { listPlaces, type PlaceView } from './work-orders/list-places.ts';
export {
  listRepairChoices,
  type RepairChoicesView,
  type RepairFamily,
} from './work-orders/list-repair-choices.ts';
export { listToApprove, type ToApproveList, type ToApproveView } from './work-orders/list-to-approve.ts';
export { type DayView, listDay, listToday, type TodayView } from './work-orders/list-today.ts';
export { type ListWorkOrdersInput, listWorkOrders } from './work-orders/list-work-orders.ts';
export { listWriteUpWarnings } from './work-orders/list-write-up-warnings.ts';
export type { StopView, StopWorkOrder } from './work-orders/load-stops.ts';
export {
  type KnownVehicleView,
  type LookUpVehicleInput,
  lookUpVehicle,
  type VehicleLookUp,
} from './work-orders/look-up-vehicle.ts';
export { type OrderStopsInput, orderStops } from './work-orders/order-stops.ts';
export { dropStop, type PlanStopInput, planStop } from './work-orders/plan-stop.ts';
export {
  type DecisionPreview,
  type PreviewDecisionInput,
  previewDecision,
  previewRecordedDecision,
} from './work-orders/preview-decision.ts';
export { type ProposeRepairInput, proposeRepair } from './work-orders/propose-repair.ts';
export {
  type BoardCard,
  type BoardColumn,
  type BoardColumnName,
  type BoardView,
  boardOrder,
  readBoard,
} from './work-orders/read-board.ts';
export { type LineInput, readDamage, readFinding } from './work-orders/read-line.ts';
export {
  type LastQuoteView,
  type PartToQuote,
  type QuotesView,
  readQuotes,
} from './work-orders/read-quotes.ts';
export { readStop } from './work-orders/read-stop.ts';
export { readWorkOrder } from './work-orders/read-work-order.ts';
export {
  type Approver,
  listApprovers,
  type RecordDecisionInput,
  recordDecision,
} from './work-orders/record-decision.ts';
export { type RecordKeyTestInput, recordKeyTest } from './work-orders/record-key-test.ts';
export { releaseSeam } from './work-orders/release-seam.ts';
export { removeLine } from './work-orders/remove-line.ts';
export {
  type LineToRepeat,
  type RepeatLineInput,
  readLineToRepeat,
  repeatLine,
} from './work-orders/repeat-line.ts';
export type { QuotedView, QuoteView, ReplacementView } from './work-orders/replacement-view.ts';
export { reviewWork, type WorkReview } from './work-orders/review-work.ts';
export { type ReviseEstimateInput, reviseEstimate } from './work-orders/revise-estimate.ts';
export { type StartWorkInput, startWork } from './work-orders/start-work.ts';
export { type SubmitEstimateInput, submitEstimate } from './work-orders/submit-estimate.ts';
export { takeQuoteBack } from './work-orders/take-quote-back.ts';
export { numberWords, vehicleWords } from './work-orders/vehicle-words.ts';
export {
  type VoidedWorkOrder,
  type VoidWorkOrderInput,
  voidWorkOrder,
} from './work-orders/void-work-order.ts';
export type { WorkHeading } from './work-orders/work-heading.ts';
export type * from './work-orders/work-order-view.ts';
export type * from './work-orders/work-story-view.ts';
export type { LineWorkInput, OverrideInput } from './work-orders/worked-lines.ts';
export { type WriteReworkInput, writeRework } from './work-orders/write-rework.ts';
export { type WriteUpInput, type WrittenUp, writeUp } from './work-orders/write-up.ts';
