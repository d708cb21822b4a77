/** Every table that queries are written with. */
export * from './accounts.ts';
export * from './audit.ts';
export * from './billing.ts';
export * from './credit-notes.ts';
export * from './disputes.ts';
export * from './evidence.ts';
export * from './months.ts';
export * from './portal.ts';
export * from './prices.ts';
export * from './receipts.ts';
export * from './registry.ts';
export * from './statements.ts';
export * from './work-orders.ts';
export * from './write-offs.ts';
