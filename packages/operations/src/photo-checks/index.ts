export { type KeepInSpiteInput, keepInSpite } from './keep-in-spite.ts';
export type { OpenPhotoWarning } from './open-warnings.ts';
