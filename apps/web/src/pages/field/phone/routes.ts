import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import type { FastifyPluginAsync } from 'fastify';
import type { Assets } from '../../../look/assets.ts';
import { sendPage } from '../../send-page.ts';
import type { PhotoPageOptions } from '../photos/routes.ts';
import { phoneAppView } from './app-view.ts';
import { manifest } from './manifest.ts';

/**
 * What makes the field pages an app that works without signal: its worker, the page that stands in, what a home screen
 * needs. Nothing of it is anybody's, so it is there for whoever asks.
 */
export const phoneAppPages: FastifyPluginAsync<PhotoPageOptions> = async (app, { assets, photoBytesMax }) => {
  const view = () => phoneAppView(assets.urls, photoBytesMax);
  const worker = workerText(assets);
  app.get('/field/worker.js', async (_request, reply) =>
    reply
      // Browsers look for a newer worker; its scope is wider than its own folder, since Today is at /field.
      .header('cache-control', 'no-cache')
      .header('service-worker-allowed', '/field')
      .type('text/javascript; charset=utf-8')
      .send(worker),
  );
  app.get('/field/phone/app', async (_request, reply) => sendPage(reply, view()));
  app.get('/field/phone/waiting', async (_request, reply) => sendPage(reply, view()));
  app.get('/field/manifest.webmanifest', async (_request, reply) =>
    reply
      .header('cache-control', 'public, max-age=3600')
      .type('application/manifest+json')
      .send(JSON.stringify(manifest)),
  );
  for (const [name, type] of icons) {
    const body = await readFile(fileURLToPath(new URL(`../../../look/icons/${name}`, import.meta.url)));
    app.get(`/field/${name}`, async (_request, reply) =>
      reply.header('cache-control', 'public, max-age=86400').type(type).send(body),
    );
  }
};

const icons = [
  ['icon-192.png', 'image/png'],
  ['icon-512.png', 'image/png'],
  ['icon.svg', 'image/svg+xml'],
] as const;

/** The worker with the list of files that it keeps: another list makes another worker, which keeps them anew. */
function workerText({ files, urls }: Assets): string {
  const code = files.get(urls.phoneWorker)?.body.toString('utf8');
  if (code === undefined) throw new Error('the worker of the field pages was not bundled');
  const kept = Object.values(urls).filter((url) => url !== urls.phoneWorker);
  const digest = createHash('sha256').update(JSON.stringify(kept)).update(code).digest('hex').slice(0, 16);
  return `self.grainwrightFiles=${JSON.stringify(kept)};self.grainwrightDigest="${digest}";\n${code}`;
}
