import { type Id, isUuid, toId } from '@grainwright/domain';

/** An id in a page's query; null where there is none, or something else. */
export function queryId<T extends Id<string>>(text: unknown): T | null {
  return typeof text === 'string' && isUuid(text.toLowerCase()) ? toId<T>(text.toLowerCase()) : null;
}
