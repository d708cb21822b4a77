export { type CoverPhotoInput, coverPhoto, type UncoverPhotoInput, uncoverPhoto } from './cover-photo.ts';
export { type CoveringToMake, makeCoveredCopies } from './make-covered-copies.ts';
export { type CoveringView, type PhotoCoverings, readCoverings } from './read-coverings.ts';
export {
  readWithholding,
  showRecording,
  type WithholdingView,
  type WithholdRecordingInput,
  withholdRecording,
} from './withhold-recording.ts';
