import fc from 'fast-check';
import { expect, test } from 'vitest';
import { atMost } from './at-most.ts';

test('no more than the given number run at once, all of them run, and a failure gives its place back', async () => {
  await fc.assert(
    fc.asyncProperty(
      fc.integer({ min: 1, max: 4 }),
      fc.array(fc.boolean(), { maxLength: 30 }),
      fc.scheduler(),
      async (count, fails, scheduler) => {
        const run = atMost(count);
        let running = 0;
        let most = 0;
        const tasks = fails.map((fail) =>
          run(async () => {
            running += 1;
            most = Math.max(most, running);
            await scheduler.schedule(Promise.resolve());
            running -= 1;
            if (fail) throw new Error('failed');
          }),
        );
        const settled = scheduler.waitFor(Promise.allSettled(tasks));
        const outcomes = await settled;
        expect(outcomes.map(({ status }) => status === 'rejected')).toEqual(fails);
        expect(most).toBe(Math.min(count, fails.length));
      },
    ),
  );
});
