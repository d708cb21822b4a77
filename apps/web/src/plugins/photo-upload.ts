import type { Readable } from 'node:stream';
import type { FastifyRequest } from 'fastify';
import { FormValues } from './forms.ts';
import { ProblemError } from './problem-error.ts';

export interface PhotoUpload {
  /** The fields that came before the file. */
  readonly fields: FormValues;
  /** Null when no file was chosen. */
  readonly file: { readonly stream: Readable; readonly truncated: () => boolean } | null;
}

/**
 * Hands a multipart request over when its file begins, so that fields can be judged before a byte of it is read.
 * What is not read is drained, or the sender would be cut off before reading our answer. Throws `invalid_input` for
 * an upload that breaks off.
 */
export async function takeUpload<T>(
  request: FastifyRequest,
  bytesMax: number,
  use: (upload: PhotoUpload) => Promise<T>,
): Promise<T> {
  if (!request.isMultipart()) throw problem('Send the photo as multipart/form-data.');
  const fields: Record<string, string[]> = {};
  let used: (() => T) | null = null;
  try {
    // One byte more than is taken: the cap itself is judged where the photo is received.
    for await (const part of request.parts({ limits: { fileSize: bytesMax + 1 } })) {
      if (part.type === 'field') {
        fields[part.fieldname] = [...(fields[part.fieldname] ?? []), String(part.value)];
        continue;
      }
      if (used === null) {
        const { file } = part;
        request.uploaded = { fields: new FormValues(fields), fileField: part.fieldname };
        const chosen = part.filename === '' ? null : { stream: file, truncated: () => file.truncated };
        used = await settle(use({ fields: new FormValues(fields), file: chosen }), file);
      }
      part.file.resume();
    }
  } catch (error) {
    // The parser tells of a file above its limit, too; that one has its answer by now.
    if (used === null) {
      request.log.info({ err: error }, 'an upload broke off');
      throw problem(brokeOff);
    }
  }
  if (used !== null) return used();
  request.uploaded = { fields: new FormValues(fields), fileField: null };
  return use({ fields: new FormValues(fields), file: null });
}

const brokeOff = 'The upload broke off before its end. Send the photo again.';

/** Keeps a failure until the request is read to its end; one of the upload itself is the sender's to mend. */
async function settle<T>(using: Promise<T>, file: Readable): Promise<() => T> {
  try {
    const value = await using;
    return () => value;
  } catch (error) {
    const thrown = file.errored ? problem(brokeOff) : error;
    return () => {
      throw thrown;
    };
  }
}

function problem(detail: string): ProblemError {
  return new ProblemError({ code: 'invalid_input', detail, field: 'photo' });
}
