import type { Readable } from 'node:stream';
import { ok, type PriceDraftId, type Problem, type Result, refuse } from '@grainwright/domain';
import { importPriceDraft, listBytesMax, readPriceDraft } from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { checkCsrf } from '../../../plugins/forms.ts';
import { takeUpload } from '../../../plugins/photo-upload.ts';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pathId } from '../../path-id.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { csvPage } from './csv-view.ts';
import { draftPath } from './draft-view.ts';

const path = '/office/price-book/drafts/:id/csv';

interface ById {
  readonly Params: { readonly id: string };
}

interface Typed {
  readonly text: string;
  readonly problem: Problem | null;
}

/** Reads a list in, from a file or from what is pasted. */
export const csvPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;
  app.get<ById>(path, async (request, reply) => send(request, reply, { text: '', problem: null }));
  app.post<ById>(path, { config: { upload: true } }, async (request, reply) => {
    const draftId = pathId<PriceDraftId>(request.params.id);
    const answer = await takeUpload(
      request,
      listBytesMax,
      async ({ fields, file }): Promise<Typed | null> => {
        checkCsrf(request, fields.text('_csrf'));
        const pasted = fields.asTyped('csv');
        const chosen = file === null ? ok(pasted) : await textOf(file.stream);
        if (!chosen.ok) return { text: pasted, problem: chosen.problem };
        const revision = Number(fields.text('revision')) || 0;
        const input = { draftId, revision, csv: chosen.value };
        const taken = await importPriceDraft(services, actorOf(request), input);
        return taken.ok ? null : { text: chosen.value, problem: taken.problem };
      },
    );
    return answer === null
      ? reply.redirect(`${draftPath(draftId)}?saved=yes`, 303)
      : send(request, reply, answer);
  });

  async function send(
    request: FastifyRequest<ById>,
    reply: FastifyReply,
    { text, problem }: Typed,
  ): Promise<FastifyReply> {
    const frame = await frameOf(request, reply, options);
    const draftId = pathId<PriceDraftId>(request.params.id);
    const draft = unwrap(await readPriceDraft(services, actorOf(request), { draftId }));
    return sendPage(reply, csvPage({ frame, draft, text, problem }), problem?.code);
  }
};

/** What a file says; refused where it is larger than a list is, or no UTF-8. */
async function textOf(stream: Readable): Promise<Result<string>> {
  const parts: Buffer[] = [];
  let bytes = 0;
  for await (const part of stream) {
    const chunk = Buffer.from(part);
    bytes += chunk.length;
    if (bytes > listBytesMax)
      return refuse('invalid_input', 'The file is larger than 1 MB. A price list is far smaller.', 'file');
    parts.push(chunk);
  }
  try {
    return ok(new TextDecoder('utf-8', { fatal: true }).decode(Buffer.concat(parts)));
  } catch {
    return refuse(
      'invalid_input',
      'The file is not UTF-8. Save it as “CSV UTF-8” and choose it again.',
      'file',
    );
  }
}
