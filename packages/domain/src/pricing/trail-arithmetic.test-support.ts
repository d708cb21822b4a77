/**
 * Computes an amount from the words of its trail alone, in cents: what stands there has to lead to what is charged. It
 * shares no code with the program; rounding is half-up, common practice of the trade. Throws for words that it can't
 * follow.
 */
export function computedFromTrail(trail: string): bigint {
  for (const [words, compute] of charges) {
    const found = words.exec(trail);
    if (found !== null) return compute(found);
  }
  return computedLine(trail);
}

/** The last number of a trail, in cents. */
export function endOfTrail(trail: string): bigint | null {
  const end = / → (\d+\.\d\d)$/.exec(trail)?.[1];
  return end === undefined ? null : cents(end);
}

const charges: readonly (readonly [RegExp, (found: RegExpExecArray) => bigint])[] = [
  [
    /^(?:vehicle|visit) minimum (\S+), repairs (\S+) → \S+$/,
    ([, least, repairs]) => cents(least) - cents(repairs),
  ],
  [
    /^(?:after hours|rush) (\S+) % of (\S+?)(?:, at least (\S+))? → \S+$/,
    ([, percent, repairs, least]) => {
      const part = percentOf(cents(repairs), percent);
      return least === undefined || part > cents(least) ? part : cents(least);
    },
  ],
  [
    /^trip(?: zone “[^”]+” up to \S+ mi)? (?:waived from \S+ of repairs|(\S+?))(?:, (\S+) mi further at (\S+))? → \S+$/,
    ([, base, miles, mile]) =>
      (base === undefined ? 0n : cents(base)) + times(cents(mile ?? '0'), miles ?? '0'),
  ],
];

/** Every step of a line starts from what the one before came to. */
function computedLine(trail: string): bigint {
  const [first = '', ...steps] = trail.split(' → ');
  let amount = cents(/ (\d+\.\d\d)/.exec(first)?.[1]);
  let words = first;
  for (const step of steps) {
    amount = stepFrom(amount, words, cents(/^\d+\.\d\d/.exec(step)?.[0]));
    words = step;
  }
  return amount;
}

function stepFrom(amount: bigint, words: string, stated: bigint): bigint {
  const factor = / × (\S+) %$/.exec(words)?.[1];
  if (factor !== undefined) return percentOf(amount, factor);
  const discount = / −(\S+) %$/.exec(words)?.[1];
  if (discount !== undefined) return lessPercent(amount, discount);
  const further = /(?:first|further) repair (\S+) %$/.exec(words)?.[1];
  if (further !== undefined) return percentOf(amount, further);
  if (/no discount$|no further-repair discount$/.test(words)) return amount;
  if (/without charge$/.test(words)) return 0n;
  // A price of its own stands in for the one before; a cap is shared out over all lines of the vehicle.
  if (/own price$|tier price$/.test(words)) return stated;
  if (/vehicle cap \S+$/.test(words) && stated <= amount) return stated;
  throw new Error(`can’t follow “${words}” to ${stated}`);
}

function cents(text: string | undefined): bigint {
  if (text === undefined) throw new Error('no amount where one should stand');
  const [whole = '0', part = ''] = text.split('.');
  return BigInt(whole + part.padEnd(2, '0'));
}

function percentOf(amount: bigint, percent: string | undefined): bigint {
  const [digits, scale] = digitsOf(percent ?? '');
  return halfUp(amount * digits, 10n ** BigInt(scale + 2));
}

function lessPercent(amount: bigint, percent: string): bigint {
  const [digits, scale] = digitsOf(percent);
  const all = 10n ** BigInt(scale + 2);
  return halfUp(amount * (all - digits), all);
}

function times(amount: bigint, factor: string): bigint {
  const [digits, scale] = digitsOf(factor);
  return halfUp(amount * digits, 10n ** BigInt(scale));
}

function digitsOf(text: string): readonly [bigint, number] {
  const [whole = '', part = ''] = text.split('.');
  return [BigInt(whole + part), part.length];
}

function halfUp(digits: bigint, all: bigint): bigint {
  return (2n * digits + all) / (2n * all);
}
