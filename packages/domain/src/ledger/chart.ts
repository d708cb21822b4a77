interface LedgerAccount {
  readonly name: string;
  /** The side on which the account usually stands: assets and costs debit, debts, income and equity credit. */
  readonly normalSide: 'debit' | 'credit';
}

/** The chart of accounts: closed, the same for every tenant. A code is written into the journal, so it never changes. */
export const ledgerAccounts = {
  bank: { name: 'Bank', normalSide: 'debit' },
  clearing: { name: 'Card and payment clearing', normalSide: 'debit' },
  receivables: { name: 'Receivables', normalSide: 'debit' },
  account_credit: { name: 'Account credit', normalSide: 'credit' },
  deposits_held: { name: 'Deposits held', normalSide: 'credit' },
  unassigned_receipts: { name: 'Receipts of unknown payers', normalSide: 'credit' },
  tax_payable: { name: 'Sales tax payable', normalSide: 'credit' },
  opening_equity: { name: 'Opening equity', normalSide: 'credit' },
  revenue_labor: { name: 'Revenue, labor', normalSide: 'credit' },
  revenue_materials: { name: 'Revenue, materials', normalSide: 'credit' },
  revenue_trip: { name: 'Revenue, trip charges', normalSide: 'credit' },
  revenue_fee: { name: 'Revenue, fees on invoices', normalSide: 'credit' },
  fee_income: { name: 'Return fees and late charges', normalSide: 'credit' },
  discounts: { name: 'Early-payment discounts', normalSide: 'debit' },
  bad_debts: { name: 'Bad debts', normalSide: 'debit' },
  processor_fees: { name: 'Payment processor’s fees', normalSide: 'debit' },
} as const satisfies Record<string, LedgerAccount>;

export type LedgerAccountCode = keyof typeof ledgerAccounts;
