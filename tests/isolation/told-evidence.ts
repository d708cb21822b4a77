import type { Account } from '../support/world.ts';
import { tellRecordings } from './told-recordings.ts';
import { tellRetention } from './told-retention.ts';
import { tellUploads } from './told-uploads.ts';
import type { ToldWork } from './told-work.ts';

/** What came in part by part, recordings, what is covered in photos, and what must not be deleted. */
export async function tellEvidence(
  account: Account,
  word: string,
  works: { readonly started: ToldWork; readonly accepted: ToldWork; readonly paid: ToldWork },
) {
  const uploads = await tellUploads(account);
  const { photoOverride, ...recorded } = await tellRecordings(account, works.started);
  const retained = await tellRetention(account, word, works.accepted);
  const { recording } = recorded;
  return {
    named: { ...uploads, ...recorded, ...retained.named },
    made: {
      upload: uploads.begunUpload,
      // An id that is in use, but for no photo: the sample before it takes the photo’s.
      uploadedPhoto: uploads.finishedUpload,
      recording,
      photoOverride,
      ...retained.made,
    },
  };
}
