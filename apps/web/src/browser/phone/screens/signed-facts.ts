import { acceptanceOutcomes, type Stroke, signerRoles } from '@grainwright/domain';
import { attributes, type Html, html } from '../../../look/html.ts';
import { type Definition, definitionList } from '../../../look/tables.ts';
import type { PhoneAction } from '../action.ts';
import { wordIn } from './action-words.ts';
import { typedIn } from './mending.ts';

type Answer = Extract<PhoneAction, { kind: 'acceptance' }>;

/** What somebody answered and how they signed it, the drawing as a picture, and the text that they signed; after `before`. */
export function signedFacts({ body, shown }: Answer, before: readonly Definition[] = []): Html {
  const strokes = strokesIn(body);
  const said = [
    ...before,
    { term: 'Answer', value: wordIn(acceptanceOutcomes, typedIn(body, 'outcome')) },
    { term: 'Remark', value: typedIn(body, 'remark') },
    { term: 'Signed by', value: typedIn(body, 'signer_name') },
    { term: 'As', value: wordIn(signerRoles, typedIn(body, 'signer_role')) },
    {
      term: 'Signature',
      value: strokes.length > 0 ? drawnSignature(strokes) : 'the name, typed and confirmed',
    },
  ].filter(({ value }) => value !== '');
  return html`${definitionList(said)}
    <details><summary>The text that was signed</summary>
      ${shown !== undefined && html`<p class="signed-text"><code>${shown}</code></p>`}
      <p class="signed-text">Its SHA-256: <code>${typedIn(body, 'shown_digest')}</code></p></details>`;
}

/** The strokes of a drawn signature; empty where the name was typed. */
export function strokesIn(body: object): readonly Stroke[] {
  const mark: unknown = Reflect.get(body, 'signature');
  if (typeof mark !== 'object' || mark === null || !('strokes' in mark) || !Array.isArray(mark.strokes))
    return [];
  return mark.strokes.filter((stroke): stroke is Stroke => Array.isArray(stroke) && stroke.every(isPoint));
}

function isPoint(value: unknown): boolean {
  return (
    typeof value === 'object' &&
    value !== null &&
    'x' in value &&
    'y' in value &&
    typeof value.x === 'number' &&
    typeof value.y === 'number'
  );
}

const margin = 8;

/** The drawing as it was made, on as little ground as it takes. */
function drawnSignature(strokes: readonly Stroke[]): Html {
  const points = strokes.flat();
  const [left, top] = [Math.min(...points.map(({ x }) => x)), Math.min(...points.map(({ y }) => y))];
  const width = Math.max(...points.map(({ x }) => x)) - left;
  const height = Math.max(...points.map(({ y }) => y)) - top;
  const path = strokes
    .map((stroke) =>
      stroke.map(({ x, y }, at) => `${at === 0 ? 'M' : 'L'}${rounded(x)} ${rounded(y)}`).join(' '),
    )
    .join(' ');
  return html`<svg ${attributes({
    class: 'drawn-signature',
    role: 'img',
    'aria-label': 'The signature as it was drawn',
  })} viewBox="${rounded(left - margin)} ${rounded(top - margin)} ${rounded(width + 2 * margin)} ${rounded(height + 2 * margin)}"><path d="${path}" fill="none" stroke="currentColor" stroke-width="2.5" stroke-linecap="round" stroke-linejoin="round"/></svg>`;
}

function rounded(value: number): string {
  return String(Math.round(value * 10) / 10);
}
