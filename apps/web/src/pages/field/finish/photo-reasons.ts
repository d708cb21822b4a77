import { isUuid, type PhotoOverrideId, toId } from '@grainwright/domain';
import type { KeepInSpiteInput, WorkReview } from '@grainwright/operations';
import type { FormValues } from '../../../plugins/form-values.ts';

/** Why photos stay, as the form says. One id for one reason, made with the page: sent twice, it is kept once. */
export function photoReasonsOf(
  form: FormValues,
  warned: WorkReview['photoWarnings'],
): readonly KeepInSpiteInput[] {
  return warned.flatMap(({ photoId }) => {
    const overrideId = form.text(`keep-id-${photoId}`);
    const reason = form.text(`keep-${photoId}`);
    return isUuid(overrideId) && reason.trim() !== ''
      ? [{ overrideId: toId<PhotoOverrideId>(overrideId), photoId, reason }]
      : [];
  });
}
