import { expect, test } from 'vitest';
import { formPatience, isServiceAway } from './service-away.ts';

const order = '/field/work-orders/01990000-0000-7000-8000-000000000001';

test('what a proxy says while the service starts is no answer to a form; what the service says is', () => {
  expect([502, 503, 504].map((status) => isServiceAway({ status }))).toEqual([true, true, true]);
  // 0 is a redirect as a worker sees it.
  for (const status of [0, 200, 303, 403, 409, 422, 500]) expect(isServiceAway({ status })).toBe(false);
});

test('a form that the server does once is taken over when its answer does not come; any other is waited for', () => {
  const once = ['lines/new', 'photos', 'walk-around', 'estimate', 'start', 'finish', 'acceptance'];
  for (const path of ['/field/write-up', ...once.map((each) => `${order}/${each}`)])
    expect(formPatience(path)).toBe(30_000);
  for (const path of [
    `${order}/rework`,
    `${order}/quotes`,
    `${order}/lines/1/remove`,
    '/field/stops/order',
    '/field/phone/waiting',
  ])
    expect(formPatience(path)).toBeNull();
});
