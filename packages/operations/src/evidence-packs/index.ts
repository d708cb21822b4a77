export { type OpenedArchive, openEvidencePack } from './open-evidence-pack.ts';
export { openEvidencePdf } from './open-evidence-pdf.ts';
