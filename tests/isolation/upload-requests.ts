import { createHash } from 'node:crypto';
import type { SampleRequests } from './sample-request.ts';

/** What the uploads that are begun here begin with, and all that is announced of one. */
export const firstPart = Buffer.from('the first bytes of a file');
export const announcedBytes = 300;

export const uploadApiRequests: Readonly<Record<string, SampleRequests>> = {
  'POST /api/v1/uploads': (_named, { upload }) => ({
    json: {
      upload_id: upload,
      bytes: announcedBytes,
      sha256: createHash('sha256').update(upload).digest('hex'),
      media_type: 'image/jpeg',
    },
  }),
  'GET /api/v1/uploads/:id': ({ begunUpload }) => ({ params: { id: begunUpload } }),
  'PATCH /api/v1/uploads/:id': ({ begunUpload }) => ({
    params: { id: begunUpload },
    part: { offset: 0, text: firstPart.toString() },
  }),
  'GET /api/v1/photos/:id': ({ photo }) => ({ params: { id: photo } }),
  'POST /api/v1/work-orders/:id/photos/from-upload': (
    { started, startedLine, finishedUpload },
    { uploadedPhoto },
  ) => ({
    params: { id: started },
    json: {
      photo_id: uploadedPhoto,
      upload_id: finishedUpload,
      purpose: 'progress',
      line_id: startedLine,
      captured_at: '2026-08-05T09:12:00-05:00',
    },
  }),
};
