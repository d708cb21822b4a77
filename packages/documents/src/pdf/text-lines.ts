/**
 * Text as lines no wider than `width`, in whatever unit `measure` answers. Line breaks that people typed stay; lines
 * break at spaces, and inside a word only where the word alone is too wide: after a mark such as a hyphen, or else
 * between any two letters.
 */
export function textLines(text: string, width: number, measure: (text: string) => number): readonly string[] {
  return text
    .replace(/\r\n?/g, '\n')
    .split('\n')
    .flatMap((line) => wrapped(line.trimEnd(), width, measure));
}

function wrapped(line: string, width: number, measure: (text: string) => number): readonly string[] {
  const lines: string[] = [];
  let current: string | null = null;
  for (const word of line.split(' ')) {
    const longer: string = current === null ? word : `${current} ${word}`;
    if (measure(longer) <= width) {
      current = longer;
      continue;
    }
    if (current !== null) lines.push(current);
    const pieces = measure(word) <= width ? [word] : broken(word, width, measure);
    lines.push(...pieces.slice(0, -1));
    current = pieces.at(-1) ?? '';
  }
  return [...lines, current ?? ''];
}

const letters = new Intl.Segmenter('en-US', { granularity: 'grapheme' });

function broken(word: string, width: number, measure: (text: string) => number): readonly string[] {
  const pieces: string[] = [];
  let current = '';
  for (const part of parts(word, width, measure)) {
    if (current !== '' && measure(current + part) > width) {
      pieces.push(current);
      current = '';
    }
    current += part;
  }
  return [...pieces, current];
}

function parts(word: string, width: number, measure: (text: string) => number): readonly string[] {
  return word
    .split(/(?<=[-–/_.,;:@])/)
    .flatMap((part) =>
      measure(part) <= width ? [part] : [...letters.segment(part)].map((each) => each.segment),
    );
}
