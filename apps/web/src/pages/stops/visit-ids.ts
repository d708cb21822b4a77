import { isUuid, toId, type VisitId } from '@grainwright/domain';
import type { FormValues } from '../../plugins/forms.ts';

/** The stops of a form in their order; what is no id is no stop, and the order is refused for lack of it. */
export function visitIdsIn(form: FormValues): readonly VisitId[] {
  return form
    .all('visit_ids')
    .map((text) => text.toLowerCase())
    .filter(isUuid)
    .map((text) => toId<VisitId>(text));
}
