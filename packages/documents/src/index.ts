export { agingCsv } from './aging-csv.ts';
export { commissionsCsv } from './commissions-csv.ts';
export { ledgerCsv } from './ledger-csv.ts';
export { type CreditNoteLine, type CreditNoteModel, creditNotePdf } from './pdf/credit-note-pdf.ts';
export type {
  EvidenceAnswer,
  EvidenceLine,
  EvidencePackModel,
  EvidencePicture,
  EvidencePriceRow,
  EvidencePrices,
  EvidenceProof,
  EvidenceSignature,
} from './pdf/evidence-pack-model.ts';
export { evidencePackPdf } from './pdf/evidence-pack-pdf.ts';
export { dayWords, moneyWords, monthWords } from './pdf/figures.ts';
export type {
  DocumentAcceptance,
  DocumentPicture,
  DocumentTax,
  InvoiceLine,
  InvoiceModel,
  InvoiceVehicle,
  PicturePair,
} from './pdf/invoice-model.ts';
export { invoicePdf } from './pdf/invoice-pdf.ts';
export type { DocumentFact, DocumentParty, DocumentSeller } from './pdf/letterhead.ts';
export type { PageSize } from './pdf/sheet.ts';
export type {
  StatementContent,
  StatementEntry,
  StatementItem,
  StatementModel,
} from './pdf/statement-model.ts';
export { statementPdf } from './pdf/statement-pdf.ts';
export { priceListColumns, priceListCsv } from './price-list-csv.ts';
export { type CsvTable, readCsv } from './read-csv.ts';
export { salesTaxCsv } from './sales-tax-csv.ts';
export { agingBucketNames, type StatementTable, statementCsv } from './statement-csv.ts';
export { type ZipFile, zipOf } from './zip.ts';
