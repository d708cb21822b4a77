/**
 * Whole documents, one function for each kind of page.
 *
 * fieldPage(page)   one task, one thumb: `primaryAction` (fieldButton or fieldLink) is fixed at the bottom; an answer
 *                   that comes meanwhile is told at the top;
 *                   `turnedRound` leaves out every way off the page while the owner holds the phone
 * accountPage(page) what, show me, how much, yes or no
 * officePage(page)  dense tables; `wide` for boards
 * linkPage(page)    a contact's mailed link: nothing else is a step away
 * plainPage(page)   nobody signed in: sign-in, links, errors
 *
 * All take {title, heading, body, assets} and, but for plainPage, {person, current, csrfToken}. `lead` is a
 * line under the heading, `beside` what stands to its right (actions of the page), `scripts` the module URLs
 * of `assets` that the page needs, `elsewhere` links to the person's other pages. No inline script or style:
 * the strictest content security policy fits (a photo's preview needs img-src blob:).
 */
import type { Role } from '@grainwright/domain';
import { attributes, type Fragment, type Html, html } from './html.ts';
import { type OfficeSection, officeMenu } from './office-menu.ts';

export interface Person {
  readonly name: string;
  /** The repair business whose pages these are, or on account pages the account. */
  readonly business: string;
}

export interface PageAssets {
  /** Address of the stylesheet, with its version. */
  readonly stylesheet: string;
  /** Of the module that tells what is new on field pages. */
  readonly news: string;
  /** Of the module that keeps a phone ready for where there is no signal. */
  readonly phone: string;
}

export interface PlainPage {
  readonly title: string;
  readonly heading: string;
  readonly lead?: Fragment;
  readonly body: Html;
  readonly assets: PageAssets;
  readonly scripts?: readonly string[];
  /** Shown at the top; the name of the product unless given. */
  readonly business?: string;
}

export interface SignedInPage<Section extends string> {
  readonly title: string;
  readonly heading: string;
  readonly lead?: Fragment;
  readonly beside?: Fragment;
  readonly body: Html;
  readonly person: Person;
  readonly current: Section | null;
  readonly csrfToken: string;
  readonly assets: PageAssets;
  readonly scripts?: readonly string[];
  /** Without JavaScript the page loads itself again after so long. */
  readonly refreshSeconds?: number;
  readonly elsewhere?: readonly Link[];
}

export interface Link {
  readonly label: string;
  readonly href: string;
}

interface Entry<Section extends string> extends Link {
  readonly section: Section;
}

export type FieldSection = 'today' | 'write-up';
export type AccountSection = 'needs' | 'vehicles' | 'invoices' | 'statements' | 'account';

const fieldEntries: readonly Entry<FieldSection>[] = [
  { section: 'today', label: 'Today', href: '/field' },
  { section: 'write-up', label: 'Write-up', href: '/field/write-up' },
];

const accountEntries: readonly Entry<AccountSection>[] = [
  { section: 'needs', label: 'To do', href: '/account' },
  { section: 'vehicles', label: 'Vehicles', href: '/account/vehicles' },
  { section: 'invoices', label: 'Invoices', href: '/account/invoices' },
  { section: 'statements', label: 'Statements', href: '/account/statements' },
  { section: 'account', label: 'Account', href: '/account/details' },
];

export function fieldPage(
  page: SignedInPage<FieldSection> & {
    readonly primaryAction?: Html | undefined;
    readonly turnedRound?: boolean | undefined;
    /** Whose phone this may become: the tenant's and the person's id, with a dot between. */
    readonly phoneOf?: string | undefined;
  },
): Html {
  const { primaryAction, turnedRound } = page;
  return document(
    {
      ...page,
      manifest: '/field/manifest.webmanifest',
      scripts: [...(page.scripts ?? []), page.assets.phone, ...(turnedRound ? [] : [page.assets.news])],
    },
    `field${primaryAction ? ' field--acting' : ''}`,
    html`${turnedRound ? turnedRoundHeader(page.person) : signedInHeader(page, entriesNav(fieldEntries, page.current))}
    ${page.phoneOf !== undefined && phonePlace(page.phoneOf, turnedRound === true)}
    ${!turnedRound && newsPlace}
    ${main(page)}
    ${primaryAction && html`<section class="field-action" aria-label="Next step">${primaryAction}</section>`}`,
  );
}

/** Whose phone this is, and where it says what waits for signal; the owner of the vehicle is not told. */
function phonePlace(phoneOf: string, hidden: boolean): Html {
  return html`<div ${attributes({ class: 'phone', role: 'status', 'data-phone': phoneOf, hidden })}></div>`;
}

/** Where an answer that comes meanwhile is told; the owner of the vehicle never sees it. */
const newsPlace = html`<div class="news" role="status" data-news="/field/news"></div>`;

/** Somebody stands in the lane with it: the pages are at the top, on one line; the person is at the bottom. */
export function accountPage(page: SignedInPage<AccountSection>): Html {
  return document(
    page,
    'account',
    html`<header class="top">
      <p class="top-business">${page.person.business}</p>
      ${entriesNav(accountEntries, page.current)}
    </header>
    ${main(page)}
    <footer class="bottom">${personPart(page)}</footer>`,
  );
}

export function officePage(
  page: SignedInPage<OfficeSection> & {
    readonly wide?: boolean;
    /** Whoever looks; the menu leaves out what their role may not open. */
    readonly me?: { readonly role: Role };
  },
): Html {
  return document(
    page,
    page.wide ? 'office office--wide' : 'office',
    html`${signedInHeader(page, officeMenu({ role: page.me?.role, current: page.current }))}${main(page)}`,
  );
}

/** What a contact's mailed link opens: as an account page, without a way to anything else. */
export function linkPage(
  page: PlainPage & {
    readonly business: string;
    readonly beside?: Fragment;
    /** Whose link it is, at the bottom. */
    readonly whose: Fragment;
  },
): Html {
  return document(
    page,
    'account',
    html`<header class="top"><p class="top-business">${page.business}</p></header>
    ${main(page)}
    <footer class="bottom"><p>${page.whose}</p></footer>`,
  );
}

export function plainPage(page: PlainPage): Html {
  return document(
    page,
    'plain',
    html`<header class="top"><p class="top-business">${page.business ?? 'Grainwright'}</p></header>
    ${main(page)}`,
  );
}

function document(
  page: Pick<PlainPage, 'title' | 'assets' | 'scripts'> & {
    readonly refreshSeconds?: number;
    readonly manifest?: string;
  },
  kind: string,
  content: Html,
): Html {
  const scripts = page.scripts ?? [];
  return html`<!doctype html>
<html lang="en-US">
  <head>
    <meta charset="utf-8">
    <meta name="viewport" content="width=device-width, initial-scale=1, viewport-fit=cover">
    <meta name="color-scheme" content="light dark">
    <meta name="format-detection" content="telephone=no, date=no, address=no">
    <title>${page.title} · Grainwright</title>
    <link rel="stylesheet" href="${page.assets.stylesheet}">
    ${page.manifest !== undefined && manifestLinks(page.manifest)}
    ${scripts.map((src) => html`<script type="module" src="${src}"></script>`)}
    ${page.refreshSeconds !== undefined && html`<noscript><meta http-equiv="refresh" content="${page.refreshSeconds}"></noscript>`}
  </head>
  <body class="${kind}">
    <a class="skip" href="#main">Skip to the page</a>
    ${content}
  </body>
</html>
`;
}

/** By which a phone puts the pages on its home screen as an app. */
function manifestLinks(href: string): Html {
  return html`<link rel="manifest" href="${href}">
    <link rel="apple-touch-icon" href="/field/icon-192.png">
    <meta name="theme-color" content="#faf7f2" media="(prefers-color-scheme: light)">
    <meta name="theme-color" content="#171412" media="(prefers-color-scheme: dark)">`;
}

function main(page: Pick<SignedInPage<string>, 'heading' | 'lead' | 'beside' | 'body'>): Html {
  return html`<main id="main" tabindex="-1">
      <div class="page-head">
        <div>
          <h1>${page.heading}</h1>
          ${page.lead && html`<p class="lead">${page.lead}</p>`}
        </div>
        ${page.beside && html`<div class="page-beside">${page.beside}</div>`}
      </div>
      ${page.body}
    </main>`;
}

function signedInHeader(
  page: Pick<SignedInPage<string>, 'person' | 'elsewhere' | 'csrfToken'>,
  nav: Html,
): Html {
  return html`<header class="top">
      <p class="top-business">${page.person.business}</p>
      ${nav}
      ${personPart(page)}
    </header>`;
}

function personPart(page: Pick<SignedInPage<string>, 'person' | 'elsewhere' | 'csrfToken'>): Html {
  return html`<div class="top-person">
        ${page.elsewhere?.map((link) => html`<a href="${link.href}">${link.label}</a>`)}
        <span class="top-name">${page.person.name}</span>
        <form method="post" action="/sign-out">
          <input type="hidden" name="_csrf" value="${page.csrfToken}">
          <button class="plain-button">Sign out</button>
        </form>
      </div>`;
}

function entriesNav<Section extends string>(
  entries: readonly Entry<Section>[],
  current: Section | null,
): Html {
  return html`<nav class="top-nav" aria-label="Pages">
        <ul>${entries.map((entry) => html`<li>${navLink(entry, entry.section === current)}</li>`)}</ul>
      </nav>`;
}

/** The owner of the vehicle holds the phone: nothing here leads anywhere else. */
function turnedRoundHeader(person: Person): Html {
  return html`<header class="top"><p class="top-business">${person.business}</p></header>`;
}

function navLink(link: Link, current: boolean): Html {
  return html`<a href="${link.href}" ${attributes({ 'aria-current': current ? 'page' : null })}>${link.label}</a>`;
}
