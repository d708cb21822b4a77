/**
 * The template every page is written with.
 *
 * html`<p class="${kind}">${text}</p>` → Html. Text and quoted attributes are escaped; only Html, made by
 * this file, goes in as it is; lists are joined; null, undefined and false are nothing. Every other type is
 * refused by tsc, and again when it runs.
 * attributes({ required: true, value }) → what may stand between a tag's name and its `>`.
 * safeUrl(href) → the href, or it throws. URL attributes are checked by it without being asked.
 */

/** Markup known to be safe. Only `html` makes it. */
class Html {
  readonly #markup: string;
  constructor(markup: string) {
    this.#markup = markup;
  }
  toString(): string {
    return this.#markup;
  }
}

export type { Html };

/** Checked attributes of one tag. Only `attributes` makes them. */
class Attributes {
  readonly #markup: string;
  constructor(markup: string) {
    this.#markup = markup;
  }
  toString(): string {
    return this.#markup;
  }
}

export type { Attributes };

/**
 * What may be written into text. No `true`, which says nothing, and no bigint: an amount in minor units
 * printed without `money` would be wrong by a factor of a hundred.
 */
export type Fragment = Html | string | number | null | undefined | false | readonly Fragment[];

/** Throws for a hole where no escaping would help: unquoted, in a name, in script, style, or a comment. */
export function html(strings: TemplateStringsArray, ...values: readonly (Fragment | Attributes)[]): Html {
  const places = placesOf(strings);
  let markup = strings[0] ?? '';
  values.forEach((value, index) => {
    markup += written(value, places[index] ?? 'text') + (strings[index + 1] ?? '');
  });
  return new Html(markup);
}

/** `true` writes the bare name; undefined, null and false leave the attribute out. Throws for handlers and `style`. */
export function attributes(
  record: Readonly<Record<string, string | number | boolean | null | undefined>>,
): Attributes {
  let markup = '';
  for (const [name, value] of Object.entries(record)) {
    if (!/^[a-z][a-z0-9-]*$/.test(name)) throw new Error(`not an attribute’s name: ${name}`);
    refuseCode(name);
    if (value === undefined || value === null || value === false) continue;
    if (value === true) {
      markup += ` ${name}`;
      continue;
    }
    const text = String(value);
    markup += ` ${name}="${escapeText(urlAttributes.has(name) ? safeUrl(text) : text)}"`;
  }
  return new Attributes(markup);
}

/**
 * An address that may be linked to: within this site, or http, https, mailto, sms, tel. Throws for javascript:,
 * data: and the like, and for `//host`. Browsers ignore control characters and read `\` as `/`, so does this.
 */
export function safeUrl(href: string): string {
  const read = [...href]
    .filter((character) => character > ' ')
    .join('')
    .replaceAll('\\', '/');
  const scheme = /^([^/?#:]*):/.exec(read)?.[1]?.toLowerCase();
  const refused = scheme === undefined ? read.startsWith('//') : !linkable.has(scheme);
  if (refused) throw new Error(`not an address to link to: ${href.slice(0, 40)}`);
  return href;
}

const linkable: ReadonlySet<string> = new Set(['http', 'https', 'mailto', 'sms', 'tel']);
const urlAttributes: ReadonlySet<string> = new Set([
  'action',
  'formaction',
  'href',
  'poster',
  'src',
  'xlink:href',
]);

type Place = 'text' | 'attributes' | 'value' | 'url';

function written(value: Fragment | Attributes, place: Place): string {
  if (value instanceof Attributes) {
    if (place !== 'attributes') throw new Error('attributes belong inside a tag');
    return value.toString();
  }
  if (place === 'attributes')
    throw new Error('only attributes(…) may stand between a tag’s name and its end');
  if (value === null || value === undefined || value === false) return '';
  if (value instanceof Html) {
    if (place !== 'text') throw new Error('markup does not belong in an attribute');
    return value.toString();
  }
  if (typeof value === 'string') return escapeText(place === 'url' ? safeUrl(value) : value);
  if (typeof value === 'number' && Number.isFinite(value)) return String(value);
  if (Array.isArray(value)) return value.map((part: Fragment) => written(part, place)).join('');
  throw new Error(`cannot be written into a page: ${typeof value}`);
}

const escapes: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

function escapeText(text: string): string {
  return text.replace(/[&<>"']/g, (character) => escapes[character] ?? character);
}

function refuseCode(attribute: string): void {
  if (attribute.startsWith('on') || attribute === 'style' || attribute === 'srcdoc')
    throw new Error(`nothing may be written into ${attribute}`);
}

/** Where reading a template has come to. `tag` and `value` are what was read of them so far. */
interface Cursor {
  readonly mode: 'text' | 'tag' | 'value' | 'comment' | 'raw';
  readonly tag: string;
  readonly attribute: string;
  readonly quote: string;
  readonly value: string;
}

const start: Cursor = { mode: 'text', tag: '', attribute: '', quote: '', value: '' };
const hole = '\u0000';
const known = new WeakMap<TemplateStringsArray, readonly Place[]>();

/** Read once for each template in the source, so a page costs no more for it. */
function placesOf(strings: TemplateStringsArray): readonly Place[] {
  const before = known.get(strings);
  if (before) return before;
  let cursor = start;
  const places: Place[] = [];
  strings.forEach((chunk, index) => {
    cursor = read(cursor, chunk);
    if (index === strings.length - 1) return;
    places.push(placeAt(cursor));
    cursor = cursor.mode === 'value' ? { ...cursor, value: cursor.value + hole } : cursor;
  });
  if (cursor.mode !== 'text')
    throw new Error(`a template ends inside a ${cursor.mode}: ${cursor.tag.slice(0, 60)}`);
  known.set(strings, places);
  return places;
}

function placeAt(cursor: Cursor): Place {
  if (cursor.mode === 'text') return 'text';
  if (cursor.mode === 'tag') {
    if (/=\s*$/.test(cursor.tag)) throw new Error(`an attribute without quotes: <${cursor.tag}`);
    if (!/\s$/.test(cursor.tag)) throw new Error(`a hole inside a name or an unquoted value: <${cursor.tag}`);
    return 'attributes';
  }
  if (cursor.mode === 'value') {
    refuseCode(cursor.attribute);
    return urlAttributes.has(cursor.attribute) ? placeInUrl(cursor) : 'value';
  }
  throw new Error(`a hole inside ${cursor.mode === 'raw' ? 'script or style' : 'a comment'}`);
}

/** A hole that can decide the scheme is checked; one after the path has begun can't. */
function placeInUrl(cursor: Cursor): Place {
  if (cursor.value === '') return 'url';
  if (
    /^(\/(?!\/)|#|\?|https?:\/\/[^/]+\/|mailto:|tel:|\0[^\0]*[/?#])/.test(cursor.value) &&
    cursor.value !== '/'
  )
    return 'value';
  if (cursor.value === '/')
    throw new Error(`start ${cursor.attribute} with a folder, or give the whole address`);
  throw new Error(`an address in pieces in ${cursor.attribute}`);
}

function read(from: Cursor, chunk: string): Cursor {
  let cursor = from;
  let rest = chunk;
  while (rest !== '') {
    const ending = endings[cursor.mode](cursor);
    const found = ending.exec(rest);
    const passed = found ? rest.slice(0, found.index) : rest;
    rest = found ? rest.slice(found.index + found[0].length) : '';
    cursor = found ? turned(cursor, passed, found[0]) : grown(cursor, passed);
  }
  return cursor;
}

const endings: Readonly<Record<Cursor['mode'], (cursor: Cursor) => RegExp>> = {
  text: () => /<!--|<(?=[a-z/!]|$)/i,
  tag: () => /["'>]/,
  value: (cursor) => (cursor.quote === '"' ? /"/ : /'/),
  comment: () => /-->/,
  raw: (cursor) => (cursor.tag.toLowerCase().startsWith('script') ? /<(?=\/script)/i : /<(?=\/style)/i),
};

function grown(cursor: Cursor, passed: string): Cursor {
  if (cursor.mode === 'tag') return { ...cursor, tag: cursor.tag + passed };
  if (cursor.mode === 'value') return { ...cursor, value: cursor.value + passed };
  return cursor;
}

function turned(cursor: Cursor, passed: string, end: string): Cursor {
  const at = grown(cursor, passed);
  if (end === '<!--') return { ...start, mode: 'comment' };
  if (end === '<') return { ...start, mode: 'tag' };
  if (end === '-->') return start;
  if (at.mode === 'value') return { ...at, mode: 'tag', tag: `${at.tag}""`, value: '' };
  if (end === '>') return /^(script|style)\b/i.test(at.tag) ? { ...at, mode: 'raw' } : start;
  const attribute = /([^\s"'=<>/]+)\s*=\s*$/.exec(at.tag)?.[1];
  if (attribute === undefined) throw new Error(`a quote without an attribute: <${at.tag}`);
  return { ...at, mode: 'value', attribute: attribute.toLowerCase(), quote: end, value: '' };
}
