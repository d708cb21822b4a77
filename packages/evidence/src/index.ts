export type { Damage } from './drawn/damage.ts';
export { type DrawnPicture, drawPicture } from './drawn/drawn-picture.ts';
export type { Part, Trim } from './drawn/panel.ts';
export { makeBareCopy } from './photo/bare-copy.ts';
export { type CoveredCopies, makeCoveredCopies } from './photo/covered-copies.ts';
export { type Derivative, type Derivatives, makeDerivatives } from './photo/derivatives.ts';
export type { ExifFacts } from './photo/exif-facts.ts';
export { inspectPhoto, type PhotoFacts } from './photo/inspect-photo.ts';
export { measurePhoto } from './photo/measure-photo.ts';
export { type ReceivedPhoto, type ReceiveOptions, receivePhoto } from './photo/receive-photo.ts';
export { inspectRecording, type RecordingFacts } from './recording/inspect-recording.ts';
export { makePoster } from './recording/make-poster.ts';
export { signaturePicture } from './signature/signature-picture.ts';
export { type DiskStorage, diskStorage } from './storage/disk-storage.ts';
export { fetchObject } from './storage/fetch-object.ts';
export {
  digestOf,
  type ObjectKey,
  type ObjectKind,
  objectKey,
  objectKindOf,
  partKey,
  toObjectKey,
} from './storage/object-key.ts';
export { readS3Settings } from './storage/s3-settings.ts';
export { type S3Settings, s3Storage } from './storage/s3-storage.ts';
export type { ByteRange, ListedObject, ObjectStore, StoredObject } from './storage/storage.ts';
