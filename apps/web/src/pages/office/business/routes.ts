import type { Problem } from '@grainwright/domain';
import {
  changeBusinessSettings,
  logoBytesMax,
  readBusinessSettings,
  removeLogo,
  setLogo,
} from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { checkCsrf, formOf } from '../../../plugins/forms.ts';
import { takeUpload } from '../../../plugins/photo-upload.ts';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { type SettingsForm, settingsInput, settingsShown, settingsTyped } from './form.ts';
import { businessPage } from './view.ts';

export interface BusinessPageOptions extends PageOptions {
  readonly temporaryFolder: string;
}

const saved = '/office/business?saved=yes';

export const officeBusinessPages: FastifyPluginAsync<BusinessPageOptions> = async (app, options) => {
  const { services, temporaryFolder } = options;

  app.get('/office/business', async (request, reply) => show(request, reply, null, null));

  app.post('/office/business', async (request, reply) => {
    const form = settingsTyped(formOf(request));
    const changed = await changeBusinessSettings(services, actorOf(request), settingsInput(form));
    if (changed.ok) return reply.redirect(saved, 303);
    return show(request, reply, form, changed.problem);
  });

  app.post('/office/business/logo', { config: { upload: true } }, async (request, reply) => {
    const answer = await takeUpload(request, logoBytesMax, async ({ fields, file }) => {
      checkCsrf(request, fields.text('_csrf'));
      if (file === null) return noFile;
      const set = await setLogo(services, actorOf(request), { ...file, directory: temporaryFolder });
      return set.ok ? null : set.problem;
    });
    return answer === null ? reply.redirect(saved, 303) : show(request, reply, null, answer);
  });

  app.post('/office/business/logo/remove', async (request, reply) => {
    unwrap(await removeLogo(services, actorOf(request)));
    return reply.redirect(saved, 303);
  });

  async function show(
    request: FastifyRequest,
    reply: FastifyReply,
    typed: SettingsForm | null,
    problem: Problem | null,
  ): Promise<FastifyReply> {
    const frame = await frameOf(request, reply, options);
    const business = unwrap(await readBusinessSettings(services, actorOf(request)));
    const shown = settingsShown(business);
    const overtaken = problem?.code === 'shown_changed' && typed !== null;
    const page = {
      frame,
      business,
      // Whoever was overtaken sees both, and what was typed is saved the next time.
      form: overtaken ? { ...typed, revision: shown.revision } : (typed ?? shown),
      overtakenBy: overtaken ? shown : null,
      problem,
      saved: problem === null && request.url === saved,
    };
    return sendPage(reply, businessPage(page), problem?.code);
  }
};

const noFile: Problem = { code: 'invalid_input', detail: 'Choose a picture first.', field: 'logo' };
