import { type AcceptanceId, isUuid, type Problem, type Result, refuse, toId } from '@grainwright/domain';
import {
  type AcceptedWork,
  type AnswerByLinkInput,
  answerByLink,
  type OwnersLinkOpened,
  openLink,
  showToOwner,
} from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { type FormValues, formOf } from '../../../plugins/forms.ts';
import { type LinkParams, linkPath, linkRoute, wrongPurpose } from '../../../plugins/link.ts';
import { ProblemError, unwrap } from '../../../plugins/problem-error.ts';
import {
  answerIn,
  nothingAnswered,
  type TypedAnswer,
  typedAnswer,
} from '../../field/acceptance/typed-answer.ts';
import type { PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { notTakenView } from './not-taken-view.ts';
import { ownersPage } from './view.ts';

interface ByLink {
  Params: LinkParams;
}

/** What the vehicle's owner answers by their link. */
export const ownersAnswerPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;

  app.post<ByLink>('/link/:token/acceptance', linkRoute, async (request, reply) => {
    const values = formOf(request);
    const typed = typedAnswer(values, services.newId);
    const opened = await openLink(services, { token: request.params.token, fromAddress: request.ip });
    if (!opened.ok) return sendNotTaken(reply, options, typed, opened.problem);
    const link = opened.value;
    if (link.purpose !== 'acceptance') throw wrongPurpose();
    const input = inputOf(values, request.headers['user-agent'] ?? '');
    const answered: Result<AcceptedWork> = input.ok ? await answerByLink(services, link, input.value) : input;
    if (answered.ok) return reply.redirect(linkPath(request), 303);
    return showOwnersPage(request, reply, options, link, { typed, problem: answered.problem, values });
  });
};

interface CameBack {
  readonly typed: TypedAnswer;
  readonly problem: Problem;
  readonly values: FormValues;
}

/** What the link opens as it is now; after a form that came back, with what was typed and what to do. */
export async function showOwnersPage(
  request: FastifyRequest<ByLink>,
  reply: FastifyReply,
  options: PageOptions,
  link: OwnersLinkOpened,
  cameBack: CameBack | null = null,
): Promise<FastifyReply> {
  const { services, assets } = options;
  const page = unwrap(await showToOwner(services, link));
  const problem = cameBack?.problem ?? null;
  // Nothing can be typed into what was answered or taken up meanwhile.
  if (cameBack !== null && page.stands !== 'open')
    return sendNotTaken(reply, options, cameBack.typed, cameBack.problem);
  const typed = cameBack?.typed ?? { ...nothingAnswered, id: services.newId() };
  // What was signed for something else is not carried over to this.
  const changed =
    cameBack !== null && page.stands === 'open' && cameBack.values.text('shown_digest') !== page.digest;
  const kept = changed ? { ...typed, strokes: '', confirmed: false } : typed;
  const view = ownersPage({ page, path: linkPath(request), assets: assets.urls, typed: kept, problem });
  return sendPage(reply, view, problem?.code);
}

/** The words are given back, since nothing of this can be sent again. */
function sendNotTaken(
  reply: FastifyReply,
  { assets }: PageOptions,
  typed: TypedAnswer,
  problem: Problem,
): FastifyReply {
  if (typed.remark === '') throw new ProblemError(problem);
  return sendPage(reply, notTakenView({ assets: assets.urls, remark: typed.remark, problem }), problem.code);
}

function inputOf(values: FormValues, device: string): Result<AnswerByLinkInput> {
  const id = values.text('id');
  if (!isUuid(id))
    return refuse('invalid_input', 'This form is not whole. Open the link again and answer there.');
  const answer = answerIn(values, device);
  if (!answer.ok) return answer;
  const { outcome, remark, signerName, signerEmail, mark } = answer.value;
  const shownDigest = values.text('shown_digest');
  const said = { outcome, remark, signerName, ...(signerEmail === undefined ? {} : { signerEmail }), mark };
  return {
    ok: true,
    value: { acceptanceId: toId<AcceptanceId>(id), shownDigest, ...said, device },
  };
}
