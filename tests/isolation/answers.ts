/** What came back, as far as somebody could learn from it. */
export interface Answer {
  readonly status: number;
  readonly headers: Readonly<Record<string, string>>;
  readonly body: string;
}

/** Why two answers tell that the ids of one stand for something; null where they tell nothing. */
export function differenceOf(real: Asked, unknown: Asked): string | null {
  const [told, ofNothing] = [comparable(real), comparable(unknown)];
  if (told.status !== ofNothing.status) return `${told.status} instead of ${ofNothing.status}`;
  for (const name of new Set([...Object.keys(told.headers), ...Object.keys(ofNothing.headers)]))
    if (told.headers[name] !== ofNothing.headers[name])
      return `${name}: ${told.headers[name]} instead of ${ofNothing.headers[name]}`;
  return told.body === ofNothing.body
    ? null
    : `${told.status}: ${firstDifference(told.body, ofNothing.body)}`;
}

export interface Asked {
  readonly answer: Answer;
  /** What was sent and may come back: ids, digests, numbers. */
  readonly sent: readonly string[];
}

/** Which of the secrets stand in the answer, besides what was sent. Letters' case doesn't matter. */
export function leaksIn({ answer, sent }: Asked, secrets: readonly string[]): readonly string[] {
  const text = withoutSent(`${JSON.stringify(answer.headers)}\n${answer.body}`, sent).toLowerCase();
  // Most secrets are ids, and there are thousands of answers: the ids of an answer are found in one go.
  const ids = new Set(text.match(uuid));
  return secrets.filter((secret) => {
    const told = secret.toLowerCase();
    return isUuid.test(told) ? ids.has(told) : text.includes(told);
  });
}

const uuid = /[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}/g;
const isUuid = new RegExp(`^${uuid.source}$`);
const formToken = /(?<=name="_csrf" value=")[^"]*/g;
/** They say when or for which browser it was sent, or follow from the body. */
const passing = ['set-cookie', 'date', 'content-length', 'connection', 'keep-alive'];

function comparable({ answer, sent }: Asked): Answer {
  const neutral = (text: string) =>
    // Ids first: what was sent may by chance be a part of one.
    withoutSent(text.replaceAll(uuid, '‹id›'), sent).replaceAll(formToken, '‹token›');
  const headers = Object.entries(answer.headers).filter(([name]) => !passing.includes(name));
  return {
    status: answer.status,
    headers: Object.fromEntries(headers.map(([name, value]) => [name, neutral(value)])),
    body: neutral(answer.body),
  };
}

function withoutSent(text: string, sent: readonly string[]): string {
  return sent.reduce((left, each) => (each === '' ? left : left.replaceAll(each, '‹id›')), text);
}

function firstDifference(a: string, b: string): string {
  const at = [...a].findIndex((letter, index) => letter !== b[index]);
  const from = Math.max(0, (at === -1 ? a.length : at) - 40);
  return `“…${a.slice(from, from + 160)}…” instead of “…${b.slice(from, from + 160)}…”`;
}
