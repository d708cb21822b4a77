import { instant } from '@grainwright/domain';
import { makeDemo } from '../../apps/cli/src/demo/make-demo.ts';
import type { PictureDrawer } from '../../apps/cli/src/demo/picture-drawer.ts';
import { demoPassword } from '../../apps/cli/src/demo/sign-ins.ts';
import { openWeb, type Web } from './web.ts';
import { aJpeg } from './work-in-hand.ts';
import { openWorld, type World } from './world.ts';

/** The whole demo over a database of its own, with the web application on it. */
export interface Demo {
  readonly world: World;
  readonly web: Web;
  /** Asks the API as somebody of the demo; the body of its answer. Throws on any other status. */
  ask<T>(email: string, path: string, status?: number): Promise<T>;
}

/** The day on which tests have the demo made; the practice business's week is counted back from it. */
export const demoMadeAt = instant('2026-11-25T18:00:00Z');

export async function openDemo(): Promise<Demo> {
  const world = await openWorld();
  world.setClock(demoMadeAt);
  await makeDemo({
    services: world.services,
    temporaryFolder: world.objects.temporaryDirectory,
    setClock: world.setClock,
    drawer: plainPictures(),
  });
  const web = await openWeb(world);
  const sessions = new Map<string, Promise<{ authorization: string }>>();
  const sessionOf = (email: string) => {
    const session = sessions.get(email) ?? web.signIn(email, demoPassword);
    sessions.set(email, session);
    return session;
  };
  return {
    world,
    web,
    ask: async <T>(email: string, path: string, status = 200) => {
      const reply = await web.app.inject({
        method: 'GET',
        url: `/api/v1${path}`,
        headers: await sessionOf(email),
      });
      if (reply.statusCode !== status) throw new Error(`${path} answered ${reply.statusCode}: ${reply.body}`);
      return reply.json<T>();
    },
  };
}

/** Plain pictures instead of drawn ones: what is drawn is tested with the drawing. */
function plainPictures(): PictureDrawer {
  return { draw: aJpeg, close: async () => {} };
}
