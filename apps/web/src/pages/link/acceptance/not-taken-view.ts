import { type Problem, problems } from '@grainwright/domain';
import type { Assets } from '../../../look/assets.ts';
import { type Html, html } from '../../../look/html.ts';
import { plainPage } from '../../../look/layout.ts';

export interface NotTakenPage {
  readonly assets: Assets['urls'];
  readonly remark: string;
  readonly problem: Problem;
}

/** Why an answer could not be taken any more, and what was written in it. */
export function notTakenView({ assets, remark, problem }: NotTakenPage): Html {
  const { title } = problems[problem.code];
  return plainPage({
    title,
    heading: title,
    body: html`<p>${problem.detail}</p>
      <h2>What you wrote</h2>
      <p>It was not sent. Copy it if you still need it.</p>
      <blockquote>${remark}</blockquote>`,
    assets,
  });
}
