export { agingBucketNames, type StatementTable, statementCsv } from './statement-csv.ts';
