/**
 * Lets at most `count` of the given tasks run at the same time; the others wait their turn, first come first.
 * Waiting costs nothing but the place: decoding a photo takes tens of megabytes.
 */
export function atMost(count: number): <T>(task: () => Promise<T>) => Promise<T> {
  const waiting: (() => void)[] = [];
  let running = 0;

  return async (task) => {
    // The place is handed over by the one that leaves, so no newcomer slips in between.
    if (running >= count) await new Promise<void>((turn) => waiting.push(turn));
    else running += 1;
    try {
      return await task();
    } finally {
      const next = waiting.shift();
      if (next === undefined) running -= 1;
      else next();
    }
  };
}
