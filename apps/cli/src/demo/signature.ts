/** A signature made of a few arcs, different for each name. */
export function scribble(name: string): { x: number; y: number; t: number }[][] {
  return [...name.split(' ').entries()].map(([word, letters]) =>
    [...Array(24).keys()].map((step) => ({
      x: 30 + word * 170 + step * 6,
      y:
        80 +
        Math.round(
          28 * Math.sin(step / 1.7 + letters.length) + 10 * Math.sin(step * 1.1 + letters.charCodeAt(0)),
        ),
      t: word * 600 + step * 16,
    })),
  );
}
