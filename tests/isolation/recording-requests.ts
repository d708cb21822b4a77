import type { SampleRequests } from './sample-request.ts';

/** The boxes of an empty film, after ISO/IEC 14496-12 §4.2; as it stands here it is text, too. */
export const emptyFilm = '\0\0\0\x10ftypisom\0\0\0\0\0\0\0\x08moov';

/** Recordings, and why photos are kept. */
export const recordingApiRequests: Readonly<Record<string, SampleRequests>> = {
  'POST /api/v1/photos/:id/override': ({ checkedPhoto }, { photoOverride }) => ({
    params: { id: checkedPhoto },
    json: { override_id: photoOverride, reason: 'the edge is what counts' },
  }),
  'POST /api/v1/work-orders/:id/recordings/from-upload': ({ started, filmUpload }, { recording }) => ({
    params: { id: started },
    json: { recording_id: recording, upload_id: filmUpload, seconds: 30 },
  }),
  'GET /api/v1/recordings/:id/film': ({ recording }) => ({ params: { id: recording } }),
  'GET /api/v1/recordings/:id/poster': ({ recording }) => ({ params: { id: recording } }),
};

export const recordingPageRequests: Readonly<Record<string, SampleRequests>> = {
  'GET /recordings/:id/film': ({ recording }) => ({ params: { id: recording } }),
  'GET /recordings/:id/poster': ({ recording }) => ({ params: { id: recording } }),
  'GET /field/work-orders/:id/walk-around': ({ started }) => ({ params: { id: started } }),
  'POST /field/work-orders/:id/walk-around': ({ started }, { recording }) => ({
    params: { id: started },
    file: { fields: { recording_id: recording }, text: emptyFilm },
  }),
  'POST /field/work-orders/:id/photos/:photoId/keep': ({ started, checkedPhoto }, { photoOverride }) => ({
    params: { id: started, photoId: checkedPhoto },
    form: { override_id: photoOverride, reason: 'the edge is what counts' },
  }),
};
