import { randomUUID } from 'node:crypto';
import cookie from '@fastify/cookie';
import helmet from '@fastify/helmet';
import multipart from '@fastify/multipart';
import type { Services } from '@grainwright/operations';
import fastify, { type FastifyInstance, type FastifyRequest } from 'fastify';
import { serializerCompiler, validatorCompiler } from 'fastify-type-provider-zod';
import { apiRoutes } from './api/routes.ts';
import type { Assets } from './look/assets.ts';
import { pageRoutes } from './pages/routes.ts';
import { assetRoutes } from './plugins/asset-routes.ts';
import { contentSecurity } from './plugins/content-security.ts';
import { pageForms } from './plugins/forms.ts';
import { healthRoutes } from './plugins/health-routes.ts';
import { newsStreams } from './plugins/news-streams.ts';
import { printableOnly } from './plugins/printable.ts';
import { problemAnswers } from './plugins/problems.ts';
import { sessionReader } from './plugins/session.ts';

export interface AppOptions {
  readonly services: Services;
  readonly assets: Assets;
  /** True where browsers reach it over TLS: cookies are then sent over TLS only. */
  readonly secure: boolean;
  /** Addresses of proxies whose X-Forwarded-For is believed; none when it is reached directly. */
  readonly trustProxy: readonly string[];
  /** Where photos land while they stream in, on the file system of the object store. */
  readonly temporaryFolder: string;
  readonly photoBytesMax: number;
  /** Of one video or sound; 250 MB unless given. */
  readonly recordingBytesMax?: number;
  /** How long a request may take to come in whole; five minutes unless given. */
  readonly requestMillisecondsMax?: number;
  readonly logLevel: string;
  /** Told of every route when it is registered: the test that calls them all collects them here. */
  readonly onRoute?: (route: { readonly method: string | string[]; readonly url: string }) => void;
}

/** Builds the web application; listening is main.ts's business. */
export async function buildApp(options: AppOptions): Promise<FastifyInstance> {
  const { services, assets, secure } = options;
  const app = fastify({
    logger: {
      level: options.logLevel,
      // Standard output says that the process is ready, and to whoever started it nothing else.
      stream: process.stderr,
      redact: ['req.headers.authorization', 'req.headers.cookie'],
      serializers: { req: requestInLog },
    },
    // Told to people when something failed, so it must be one of a kind over all processes.
    genReqId: () => randomUUID(),
    trustProxy: options.trustProxy.length === 0 ? false : [...options.trustProxy],
    // A photo over a slow phone line takes minutes; a request that dribbles for longer holds a connection for nothing.
    requestTimeout: options.requestMillisecondsMax ?? 300_000,
    http: {
      headersTimeout: Math.min(options.requestMillisecondsMax ?? 60_000, 60_000),
      // How often it is looked whether one has taken too long.
      connectionsCheckingInterval: Math.min(options.requestMillisecondsMax ?? 15_000, 15_000),
    },
    bodyLimit: 1_000_000,
    routerOptions: { ignoreTrailingSlash: true },
  });
  if (options.onRoute !== undefined) app.addHook('onRoute', options.onRoute);
  app.setValidatorCompiler(validatorCompiler);
  app.setSerializerCompiler(serializerCompiler);
  await app.register(problemAnswers, { assets });
  await app.register(helmet, securityHeaders(secure));
  await app.register(cookie);
  await app.register(multipart, {
    limits: { fileSize: options.photoBytesMax, files: 1, fields: 20, fieldSize: 10_000 },
  });
  await app.register(sessionReader, { services });
  await app.register(newsStreams, { services });
  await app.register(printableOnly);
  await app.register(healthRoutes, { services });
  await app.register(assetRoutes, { assets });
  await app.register(apiRoutes, {
    prefix: '/api/v1',
    services,
    temporaryFolder: options.temporaryFolder,
    photoBytesMax: options.photoBytesMax,
    recordingBytesMax: options.recordingBytesMax ?? 250_000_000,
  });
  await app.register(async (pages) => {
    await pages.register(pageForms, { secureCookies: secure });
    await pages.register(pageRoutes, {
      services,
      assets,
      secureCookies: secure,
      temporaryFolder: options.temporaryFolder,
      photoBytesMax: options.photoBytesMax,
      recordingBytesMax: options.recordingBytesMax ?? 250_000_000,
    });
  });
  return app;
}

/** What the log says of a request. The secret of a link is in its address, and no log keeps it, however it was written. */
function requestInLog(request: FastifyRequest) {
  const { method, hostname, ip } = request;
  return {
    method,
    url: decoded(request.url)
      .replaceAll(/[A-Za-z0-9_-]{22}\.[A-Za-z0-9_-]{43}/g, '…')
      .replace(/^\/link\/[^/?]+/, '/link/…'),
    host: hostname,
    remoteAddress: ip,
  };
}

function decoded(url: string): string {
  try {
    return decodeURIComponent(url);
  } catch {
    return url;
  }
}

function securityHeaders(secure: boolean) {
  return {
    contentSecurityPolicy: contentSecurity,
    strictTransportSecurity: secure ? { maxAge: 31_536_000 } : false,
    referrerPolicy: { policy: 'same-origin' as const },
    crossOriginResourcePolicy: { policy: 'same-origin' as const },
  };
}
