/** What a service worker keeps its app's files under, and when those of an earlier version may go. */

const prefix = 'grainwright-app-';

export function appCacheOf(digest: string): string {
  return `${prefix}${digest}`;
}

/** The app's caches but for the one of this version, the newest first; `names` are in the order in which they were made. */
export function earlierAppCaches(names: readonly string[], own: string): readonly string[] {
  return names.filter((name) => name.startsWith(prefix) && name !== own).toReversed();
}

/** Windows that were open, by the browser's ids, when a newer version took the place of the one that made a cache. */
export interface EarlierCache {
  readonly name: string;
  readonly windows: readonly string[];
}

/** No window is left that was opened with them; one that is goes on asking for its modules. */
export function cachesToDrop(earlier: readonly EarlierCache[], open: readonly string[]): readonly string[] {
  return earlier.filter(({ windows }) => !windows.some((id) => open.includes(id))).map(({ name }) => name);
}
