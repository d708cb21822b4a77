import type { z } from 'zod';
import type { decisionBody, previewBody } from './schemas.ts';

/** An answer as the body gives it. */
export function answerIn(body: z.infer<typeof decisionBody>) {
  return { decisionId: body.id, total: body.total, photoIds: body.photo_ids, ...seenIn(body) };
}

/** The version and the digest that were seen, and yes or no to each line. */
export function seenIn(body: z.infer<typeof previewBody>) {
  return {
    versionId: body.version_id,
    digest: body.digest,
    answers: body.answers.map(({ line_id, answer, reason }) => ({ lineId: line_id, answer, reason })),
  };
}
