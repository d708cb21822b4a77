export * from './database.ts';
export { emptyDatabase } from './empty-database.ts';
export { jobUrl, loginUrl } from './login-password.ts';
export { migrate } from './migrate.ts';
export * from './repositories/acceptances.ts';
export * from './repositories/accounts.ts';
export * from './repositories/audit.ts';
export * from './repositories/billable-work-orders.ts';
export * from './repositories/businesses.ts';
export * from './repositories/cautions.ts';
export * from './repositories/decisions.ts';
export * from './repositories/estimates.ts';
export * from './repositories/invoice-photos.ts';
export * from './repositories/invoices.ts';
export * from './repositories/jobs.ts';
export * from './repositories/journal.ts';
export * from './repositories/ledger-checks.ts';
export * from './repositories/members.ts';
export * from './repositories/month-closings.ts';
export * from './repositories/numbers.ts';
export * from './repositories/payments.ts';
export * from './repositories/photos.ts';
export * from './repositories/price-book.ts';
export * from './repositories/price-book-entries.ts';
export * from './repositories/readiness.ts';
export * from './repositories/registry.ts';
export * from './repositories/seam-releases.ts';
export * from './repositories/statement-facts.ts';
export * from './repositories/vehicles.ts';
export * from './repositories/visits.ts';
export * from './repositories/work-in-hand.ts';
export * from './repositories/work-order-counts.ts';
export * from './repositories/work-order-evidence.ts';
export * from './repositories/work-order-lines.ts';
export * from './repositories/work-order-list.ts';
export * from './repositories/work-order-path.ts';
export * from './repositories/work-orders.ts';
export {
  addressOfRunningServer,
  type EmbeddedServer,
  startEmbeddedServer,
  stopAbandonedServer,
} from './server/embedded.ts';
