/** One server-sent event. */
export interface SentEvent {
  readonly event: string;
  readonly id: string;
  readonly data: string;
}

export interface NewsStream {
  readonly headers: Headers;
  /** The next event; null when the stream has ended. */
  next(): Promise<SentEvent | null>;
  /** The next piece of news, in words; null when the stream has ended. */
  nextWords(): Promise<string | null>;
  close(): Promise<void>;
}

/** Opens a stream of server-sent events over a socket; throws where the answer is none. */
export async function openNewsStream(
  address: string,
  headers: Readonly<Record<string, string>>,
): Promise<NewsStream> {
  const reply = await fetch(address, { headers: { accept: 'text/event-stream', ...headers } });
  const { body } = reply;
  if (!reply.ok || body === null) throw new Error(`${reply.status} ${await reply.text()}`);
  const reader = body.pipeThrough(new TextDecoderStream()).getReader();
  let text = '';
  const next = async (): Promise<SentEvent | null> => {
    for (;;) {
      const end = text.indexOf('\n\n');
      if (end >= 0) {
        const event = eventIn(text.slice(0, end));
        text = text.slice(end + 2);
        if (event !== null) return event;
        continue;
      }
      const { done, value } = await reader.read();
      if (done) return null;
      text += value;
    }
  };
  return {
    headers: reply.headers,
    next,
    async nextWords() {
      for (;;) {
        const event = await next();
        if (event === null) return null;
        if (event.event === 'news') return (JSON.parse(event.data) as { words: string }).words;
      }
    },
    close: () => reader.cancel(),
  };
}

/** Null for what is a comment, or says only when to come back. */
function eventIn(block: string): SentEvent | null {
  const of = (name: string) =>
    block
      .split('\n')
      .filter((line) => line.startsWith(`${name}: `))
      .map((line) => line.slice(name.length + 2))
      .join('\n');
  const data = of('data');
  return data === '' ? null : { event: of('event'), id: of('id'), data };
}
