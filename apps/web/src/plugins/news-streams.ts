import { PassThrough } from 'node:stream';
import { ok, refuse } from '@grainwright/domain';
import { type NewsView, readSession, type Services, watchNews } from '@grainwright/operations';
import type { FastifyInstance, FastifyRequest } from 'fastify';
import fp from 'fastify-plugin';
import { answerNews } from '../api/news/schemas.ts';
import { ProblemError } from './problem-error.ts';
import { actorOf, sessionOf } from './session.ts';

declare module 'fastify' {
  interface FastifyInstance {
    /** Answers with what is new for whoever asks, as it happens, as server-sent events (HTML standard, section 9.2). */
    streamNews(request: FastifyRequest, reply: FastifyReply, since: string | undefined): FastifyReply;
  }
}

/** Whether the answer is to be a stream: browsers' event sources ask for this type, and for nothing else. */
export function wantsStream({ method, headers }: FastifyRequest): boolean {
  // A HEAD has no body to listen to.
  if (method !== 'GET') return false;
  return (headers.accept ?? '').split(',').some((type) => type.trim().startsWith('text/event-stream'));
}

/** A proxy may end what is silent for a minute; a browser asks again by itself after an end. */
const heartbeatMilliseconds = 20_000;
const longestMilliseconds = 600_000;
const retryMilliseconds = 3000;
const ofOnePersonMax = 3;
const altogetherMax = 500;
/** More than this unread: whoever is there does not listen. */
const unreadBytesMax = 65_536;

/** Streams of news: so many for a person and for this process. All end when the application closes. */
export const newsStreams = fp(
  async (app: FastifyInstance, { services }: { services: Services }) => {
    const open = new Map<PassThrough, string>();
    app.decorate('streamNews', (request, reply, since) => {
      const actor = actorOf(request);
      const person = `${actor.tenantId} ${actor.personId}`;
      admit([...open.values()], person);
      const stream = new PassThrough();
      open.set(stream, person);
      const { id } = sessionOf(request);
      const watch = watchNews(services, {
        tenantId: actor.tenantId,
        actor: async () => {
          const session = await readSession(services, id, request.ip);
          if (!session.ok) return session;
          const now = session.value?.actor;
          return now ? ok(now) : refuse('not_signed_in', 'Sign in again.');
        },
        since: seenLast(request) ?? since,
        tell: (news) => write(stream, eventOf(news)),
        over: () => stream.end(),
        failed: (error) => {
          request.log.error({ err: error }, 'a stream of news failed');
          stream.end();
        },
      });
      const heartbeat = setInterval(() => {
        write(stream, ': still here\n\n');
        watch.look();
      }, heartbeatMilliseconds);
      const longest = setTimeout(() => stream.end(), longestMilliseconds);
      stream.once('close', () => {
        open.delete(stream);
        clearInterval(heartbeat);
        clearTimeout(longest);
        watch.stop();
      });
      // The first word, by which the browser knows that the stream comes through.
      stream.write(`retry: ${retryMilliseconds}\nevent: ready\ndata: {}\n\n`);
      return (
        reply
          .type('text/event-stream; charset=utf-8')
          .header('cache-control', 'no-store')
          .header('x-accel-buffering', 'no')
          // The connection ends with the stream, so that the process can.
          .header('connection', 'close')
          .send(stream)
      );
    });
    app.addHook('preClose', async () => {
      for (const stream of open.keys()) stream.end();
    });
  },
  { name: 'news-streams', dependencies: ['session-reader'] },
);

function admit(open: readonly string[], person: string): void {
  if (open.filter((each) => each === person).length >= ofOnePersonMax)
    throw new ProblemError({
      code: 'too_many_requests',
      detail: `You listen ${ofOnePersonMax} times already. Close one, or ask for the list instead.`,
    });
  if (open.length >= altogetherMax)
    throw new ProblemError({
      code: 'unavailable',
      detail: 'Too many people listen here at once. Ask for the list instead.',
    });
}

/** What a browser that lost the connection has seen last. */
function seenLast(request: FastifyRequest): string | undefined {
  return [request.headers['last-event-id'] ?? []].flat()[0];
}

function eventOf(news: NewsView): string {
  return `event: news\nid: ${news.at}\ndata: ${JSON.stringify(answerNews(news))}\n\n`;
}

function write(stream: PassThrough, text: string): void {
  if (stream.writableEnded) return;
  if (stream.writableLength > unreadBytesMax) stream.destroy();
  else stream.write(text);
}
