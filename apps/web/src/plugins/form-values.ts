import { unprintable } from './unprintable.ts';

/**
 * Fields of a form that was posted, by name. A field sent more than once keeps all its values in `all`. What can't be
 * printed is dropped: it comes along when text is pasted, and nobody can see it to mend it.
 */
export class FormValues {
  readonly #fields: ReadonlyMap<string, readonly string[]>;
  constructor(body: unknown) {
    const entries = body !== null && typeof body === 'object' ? Object.entries(body) : [];
    this.#fields = new Map(
      entries.map(([name, value]) => [
        name,
        (Array.isArray(value) ? value : [value]).map((each) => withoutControls(String(each))),
      ]),
    );
  }
  text(name: string): string {
    return this.#fields.get(name)?.at(-1)?.trim() ?? '';
  }
  /** As `text`, with the space around it: for passwords. */
  asTyped(name: string): string {
    return this.#fields.get(name)?.at(-1) ?? '';
  }
  all(name: string): readonly string[] {
    return this.#fields.get(name) ?? [];
  }
  checked(name: string): boolean {
    return this.#fields.has(name);
  }
  /** Every value with its name, in the order they came. */
  entries(): readonly (readonly [string, string])[] {
    return [...this.#fields].flatMap(([name, values]) => values.map((value) => [name, value] as const));
  }
}

function withoutControls(text: string): string {
  return text.toWellFormed().replaceAll(unprintable, '');
}
