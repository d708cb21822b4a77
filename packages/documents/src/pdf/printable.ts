/** What a typeface can draw; see `typefaces.ts`. */
type Covers = (codePoint: number) => boolean;

/**
 * Text as a typeface can print it. Letters are composed (Unicode NFC); invisible characters and those that turn the
 * direction of text are left out. A character that the typeface lacks is printed as its compatibility form where it
 * has one (Unicode NFKD: a full-width A as A), otherwise as its code in brackets, `[U+738B]`, several in a row as
 * `[U+738B U+5C0F]`: never as an empty box, and never left out in silence.
 */
export function printable(text: string, covers: Covers): string {
  if (/^[ -~]*$/.test(text)) return text;
  const plain = text
    .normalize('NFC')
    .replace(/[\t\r\n\u2028\u2029]/g, ' ')
    .replace(/[\p{Cc}\p{Cf}\p{Variation_Selector}]/gu, '');
  return [...plain]
    .map((character) => drawn(character, covers))
    .join('')
    .replaceAll(`${codeEnd}${codeStart}`, ' ')
    .replaceAll(codeStart, '[')
    .replaceAll(codeEnd, ']');
}

// Two noncharacters of Unicode, which no text in interchange holds, mark a code until its neighbors are known.
const codeStart = '\ufdd0';
const codeEnd = '\ufdd1';

function drawn(character: string, covers: Covers): string {
  if (isCovered(character, covers)) return character;
  if (/^\p{Zs}$/u.test(character)) return ' ';
  const plainer = character.normalize('NFKD').normalize('NFC');
  if ([...plainer].every((each) => isCovered(each, covers))) return plainer;
  const code = character.codePointAt(0) ?? 0;
  return `${codeStart}U+${code.toString(16).toUpperCase().padStart(4, '0')}${codeEnd}`;
}

function isCovered(character: string, covers: Covers): boolean {
  return covers(character.codePointAt(0) ?? 0);
}
