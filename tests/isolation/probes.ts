import { randomBytes, randomInt } from 'node:crypto';
import { v7 } from 'uuid';
import { type Holdings, type Made, madeKeys, type Named, namedKeys } from './holdings.ts';
import type { SampleRequest, SampleRequests } from './sample-request.ts';

/** A request with ids of somebody else's, and the same with ids that stand for nothing. */
export interface Probe {
  /** Which of its ids are somebody else's; the rest are the asker's own. */
  readonly foreign: string;
  readonly real: Sent;
  readonly unknown: Sent;
}

export interface Sent {
  readonly request: SampleRequest;
  /** Ids, digests and numbers of `request` that may come back. */
  readonly values: readonly string[];
}

export interface Asking {
  readonly own: Named;
  readonly email: string;
}

/**
 * All probes of a route: with everything that it names being the victim's, and then one at a time, since a route that
 * looks at its address alone would not notice what stands in the body. None where it names nothing that is there.
 */
export function probesOf(build: SampleRequests, victim: Holdings, { own, email }: Asking): readonly Probe[] {
  const unknown = unknownNamed();
  const requests = (named: Named, made: Made) => variants(build(named, made, email));
  return requests(unknown, unknownMade()).flatMap((pattern, place) => {
    const used = namedKeys.filter((key) => JSON.stringify(pattern).includes(unknown[key]));
    if (used.length === 0) return [];
    const at = (named: Named, made: Made): Sent => {
      const request = requests(named, made)[place] ?? {};
      const text = JSON.stringify(request);
      const values = [...Object.values(named), ...Object.values(made)];
      return { request, values: values.filter((value) => text.includes(value)) };
    };
    const everything = {
      foreign: used.join(', '),
      real: at(victim.named, victim.made),
      unknown: at(unknown, unknownMade()),
    };
    const foreignAlone = used.length === 1 ? [] : used.filter((key) => own[key] !== victim.named[key]);
    const single = foreignAlone.map((key) => ({
      foreign: `only ${key}`,
      real: at({ ...own, [key]: victim.named[key] }, unknownMade()),
      unknown: at({ ...own, [key]: unknown[key] }, unknownMade()),
    }));
    return [everything, ...single];
  });
}

/** The requests of a route that names nothing, or with these ids. */
export function requestsOf(
  build: SampleRequests | undefined,
  { named, made }: Holdings,
  email: string,
): readonly SampleRequest[] {
  return build === undefined ? [{}] : variants(build(named, made, email));
}

/** Ids, digests and numbers of nothing, of the same form as real ones. */
export function unknownNamed(): Named {
  return record(namedKeys, (key) => {
    if (key.endsWith('Digest')) return randomBytes(32).toString('hex');
    if (key.endsWith('Total')) return `${randomInt(100, 999)}.${randomInt(10, 99)}`;
    if (key === 'number') return String(randomInt(70_000_000, 79_999_999));
    return key === 'roNumber' ? `Nothing${randomInt(1000, 9999)}-RO` : v7();
  });
}

export function unknownMade(): Made {
  return record(madeKeys, () => v7());
}

function variants(built: ReturnType<SampleRequests>): readonly SampleRequest[] {
  return [built].flat();
}

function record<Key extends string>(keys: readonly Key[], value: (key: Key) => string): Record<Key, string> {
  return Object.fromEntries(keys.map((key) => [key, value(key)])) as Record<Key, string>;
}
