import { expect, test } from 'vitest';
import { appCacheOf, cachesToDrop, earlierAppCaches } from './app-caches.ts';

const names = ['grainwright-photos-t-p', appCacheOf('one'), appCacheOf('two'), appCacheOf('three')];

test('the files of earlier versions are looked through from the newest on, and photos are none', () => {
  expect(earlierAppCaches(names, appCacheOf('three'))).toEqual([appCacheOf('two'), appCacheOf('one')]);
});

test('an earlier version’s files stay while a window that was opened with them is there, and go with the last', () => {
  const earlier = [
    { name: 'one', windows: ['a', 'b'] },
    { name: 'two', windows: ['c'] },
    { name: 'none', windows: [] },
  ];
  expect(cachesToDrop(earlier, ['b', 'd'])).toEqual(['two', 'none']);
  expect(cachesToDrop(earlier, ['a', 'c'])).toEqual(['none']);
  expect(cachesToDrop(earlier, [])).toEqual(['one', 'two', 'none']);
});
