import type { NewsView } from '@grainwright/operations';
import { fieldLink } from '../../../look/buttons.ts';
import { instantShown } from '../../../look/figures.ts';
import { type Html, html } from '../../../look/html.ts';
import { fieldPage } from '../../../look/layout.ts';
import { emptyState } from '../../../look/tables.ts';
import type { Frame } from '../../person.ts';

/** Answers and numbers that came of late, the latest first. */
export function newsView(frame: Frame, news: readonly NewsView[]): Html {
  const { timeZone } = frame.me.business;
  return fieldPage({
    ...frame,
    title: 'News',
    heading: 'News',
    lead: 'What others did about your vehicles in the last seven days.',
    current: null,
    body:
      news.length === 0
        ? emptyState('Nothing new', 'A yes or a no of an account stands here as soon as it comes.')
        : html`<ul class="news-list">${news.toReversed().map((each) => entry(each, timeZone))}</ul>`,
    primaryAction: fieldLink({ label: 'Today', href: '/field' }),
  });
}

function entry({ workOrderId, words, vehicle, at }: NewsView, timeZone: string): Html {
  return html`<li><a href="/field/work-orders/${workOrderId}">${words}</a>
    <span class="hint">${vehicle} · ${instantShown(at, timeZone)}</span></li>`;
}
