import { allows, type Day, displayPercent, formatDecimal, monthOf } from '@grainwright/domain';
import type { AccountRef, AccountView, HandedInView, LegalHoldView } from '@grainwright/operations';
import { actionLink, quietLink } from '../../../look/buttons.ts';
import { columns } from '../../../look/field-group.ts';
import { dayShown, dayText, money, moneyText } from '../../../look/figures.ts';
import { hiddenCsrf } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { notice, statusWord } from '../../../look/notices.ts';
import { type Column, dataTable, definitionList, emptyState } from '../../../look/tables.ts';
import type { Frame } from '../../person.ts';
import { certificateNotice } from '../../work-order/certificate-notice.ts';
import {
  acceptanceWords,
  certificateWords,
  invoiceWords,
  kindWords,
  ownNumberWords,
  photoWords,
  roleWords,
  statementWords,
  termsWords,
} from '../account-words.ts';
import { holdNotices } from '../legal-holds/view.ts';
import { agreements } from './agreement-view.ts';
import { askOrderOf } from './ask-order.ts';
import type { AccountGlance } from './glance.ts';
import { glanceView } from './glance-view.ts';
import { handedInPart } from './handed-in.ts';

export interface AccountPageView {
  readonly frame: Frame;
  readonly view: AccountView;
  /** Certificates that the account handed in, the latest first. */
  readonly handedIn: readonly HandedInView[];
  readonly glance: AccountGlance;
  /** What keeps everything of it from being deleted. */
  readonly holds: readonly LegalHoldView[];
}

/** Everything about one account on one screen. */
export function accountView({ frame, view, handedIn, glance, holds }: AccountPageView): Html {
  const { account } = view;
  const mayChange = allows(frame.me.role, 'change_accounts');
  const mayPrice = allows(frame.me.role, 'change_price_book');
  const base = `/office/accounts/${account.id}`;
  return officePage({
    ...frame,
    title: account.name,
    heading: account.name,
    lead: `${kindWords[account.kind]}, ${account.shortName}, account since ${dayText(account.openedOn)}`,
    beside: [
      allows(frame.me.role, 'see_invoices') &&
        quietLink({ label: 'Invoices', href: `/office/invoices?account=${account.id}` }),
      allows(frame.me.role, 'see_statements') &&
        quietLink({
          label: 'Statement of this month',
          href: `${base}/statements/${monthOf(view.today)}`,
        }),
      allows(frame.me.role, 'keep_for_law') &&
        quietLink({ label: 'Legal hold', href: `${base}/legal-holds` }),
      mayChange && actionLink({ label: 'Change the terms', href: `${base}/edit` }),
    ],
    current: 'accounts',
    body: html`${warnings(view)}
      ${holdNotices(holds, frame.me.business.timeZone)}
      ${onThisPage(glance)}
      ${glanceView(view, glance)}
      <div id="terms">${columns([buying(view), working(view)])}</div>
      ${sites(view, mayChange ? base : null)}
      ${contacts(view, mayChange ? base : null, frame.csrfToken)}
      ${certificates(view, mayChange ? base : null)}
      ${handedInPart(handedIn, frame.me.business.timeZone)}
      <div id="agreements">${agreements(frame, view, mayChange ? base : null)}</div>
      ${prices(view, mayPrice ? base : null)}
      ${contracts(view, mayPrice ? base : null)}`,
  });
}

/** The parts of the page, since it is a long one. */
function onThisPage({ aging, counts, payments }: AccountGlance): Html {
  const parts = [
    aging !== null && (['money', 'Where it stands'] as const),
    aging !== null && (['open-documents', 'Open documents'] as const),
    counts !== null && (['work', 'Work under way'] as const),
    payments !== null && (['payments', 'Payments'] as const),
    ['terms', 'Terms'] as const,
    ['sites', 'Sites'] as const,
    ['contacts', 'Contacts'] as const,
    ['certificates', 'Certificates'] as const,
    ['agreements', 'Approvals and POs'] as const,
    ['prices', 'Own prices'] as const,
  ].filter((part) => part !== false);
  return html`<nav aria-label="On this page"><ul class="board">${parts.map(
    ([id, words]) => html`<li><a href="#${id}">${words}</a></li>`,
  )}</ul></nav>`;
}

function warnings(view: AccountView): Html {
  const { account, certificateWarning, today, predecessors: took } = view;
  const ended = account.endedOn !== null && account.endedOn < today;
  return html`${ended && notice('info', 'Closed to new work', closedWords(view))}
    ${took.length > 0 && notice('info', 'It took over', html`${linked(took)}. What was open before stays with the old account.`)}
    ${certificateNotice(certificateWarning, 'business')}`;
}

function closedWords({ successor }: AccountView): Html {
  const stays = 'Open balances and documents stay with this account';
  return successor === null ? html`${stays}.` : html`${stays}; new work goes to ${linked([successor])}.`;
}

function linked(accounts: readonly AccountRef[]): readonly Html[] {
  return accounts.map(
    ({ id, name }, index) => html`${index > 0 && ', '}<a href="${`/office/accounts/${id}`}">${name}</a>`,
  );
}

function buying({ account, tier, taxAreaCode, currency, groupName }: AccountView): Html {
  const waived = tier.tripWaivedFromMinor;
  return html`<h2>How they buy</h2>
    ${definitionList([
      {
        term: 'Prices',
        value: `${tier.name}${tier.discountPercent.digits === 0n ? ', list price' : `, list less ${displayPercent(tier.discountPercent)}`}`,
      },
      { term: 'Minimum', value: html`${money(tier.vehicleMinimumMinor, currency)} a vehicle` },
      ...(tier.visitMinimumMinor === 0n
        ? []
        : [{ term: 'Visit minimum', value: html`${money(tier.visitMinimumMinor, currency)} of repairs` }]),
      ...(tier.vehicleCapMinor === null
        ? []
        : [{ term: 'At most', value: html`${money(tier.vehicleCapMinor, currency)} a vehicle` }]),
      {
        term: 'Trip',
        value: waived === null ? 'Never waived' : html`Waived from ${money(waived, currency)} of repairs`,
      },
      { term: 'Tax area', value: taxAreaCode },
      { term: 'Terms', value: termsWords(account.termsDays) },
      { term: 'Invoices', value: invoiceWords[account.invoiceRule] },
      { term: 'Statement', value: statementWords[account.statementKind] },
      {
        term: 'Statements go to',
        value: account.statementEmail === '' ? 'Nobody by mail' : account.statementEmail,
      },
      {
        term: 'Money that comes in',
        value: account.appliesMoneyItself ? 'Settles the oldest first, by itself' : 'Is applied by somebody',
      },
      {
        term: 'Vehicle not there',
        value:
          account.noShowFeeMinor === null
            ? 'No fee'
            : html`${money(account.noShowFeeMinor, currency)} a visit`,
      },
      { term: 'Pays together with', value: groupName ?? 'Nobody' },
      {
        term: 'Billing address',
        value: account.billingAddress === '' ? 'None given' : lines(account.billingAddress),
      },
    ])}`;
}

/** Null: nobody is reminded. */
function reminderWords(hours: number | null): string {
  if (hours === null) return 'Not by mail';
  return hours === 1 ? 'After an hour, twice at most' : `After ${hours} hours each, twice at most`;
}

function working({ account }: AccountView): Html {
  const numbers = [
    account.requiresRo && 'RO number',
    account.requiresPo && 'PO number',
    account.ownNumberRequired &&
      account.ownNumberKind !== null &&
      ownNumberWords[account.ownNumberKind].toLowerCase(),
  ].filter((each) => each !== false);
  return html`<h2>How the work goes</h2>
    ${definitionList([
      { term: 'Acceptance', value: acceptanceWords[account.acceptanceRule] },
      {
        term: 'Prices then',
        value: account.showsPricesAtAcceptance ? 'Shown to whoever signs' : 'Not shown to whoever signs',
      },
      { term: 'Photos', value: photoWords[account.photoRule] },
      { term: 'Needed to invoice', value: numbers.length === 0 ? 'No number' : numbers.join(', ') },
      {
        term: 'Their number',
        value: account.ownNumberKind === null ? 'None' : ownNumberWords[account.ownNumberKind],
      },
      { term: 'Reminded', value: reminderWords(account.remindAfterHours) },
      { term: 'Comes in', value: account.walkIn ? 'Yes, a walk-in: no trip charge' : 'No, we drive to them' },
      ...(account.endedOn === null ? [] : [{ term: 'Ends', value: dayShown(account.endedOn) }]),
    ])}`;
}

/** A heading of a part, with what can be added to it beside. */
function partHead(heading: string, add: Html | false): Html {
  return html`<div class="page-head"><h2>${heading}</h2>${add && html`<div class="page-beside">${add}</div>`}</div>`;
}

function sites(view: AccountView, base: string | null): Html {
  return html`<section id="sites">
    ${partHead('Sites', base !== null && quietLink({ label: 'Add a site', href: `${base}/sites/new` }))}
    ${dataTable({
      caption: 'Sites',
      captionHidden: true,
      columns: [
        { header: 'Site', names: true, cell: (site) => html`<span class="long-name">${site.name}</span>` },
        { header: 'Address', cell: (site) => lines(site.address) },
        { header: 'Miles', figure: true, cell: (site) => `${formatDecimal(site.miles)} mi` },
      ],
      rows: view.sites,
      empty: emptyState('No site yet', 'A visit goes to a site. Add where their vehicles stand.'),
    })}
  </section>`;
}

function contacts(view: AccountView, base: string | null, csrfToken: string): Html {
  return html`<section id="contacts">
    ${partHead('Contacts', base !== null && quietLink({ label: 'Add a contact', href: `${base}/contacts/new` }))}
    ${dataTable({
      caption: 'Contacts',
      captionHidden: true,
      columns: [
        { header: 'Name', names: true, cell: (each) => html`<span class="long-name">${each.name}</span>` },
        { header: 'May', cell: (each) => roleWords[each.role] },
        { header: 'Limit a vehicle', figure: true, cell: (each) => limitWords(each, view.currency) },
        {
          header: 'E-mail',
          cell: (each) => each.email !== '' && html`<a href="mailto:${each.email}">${each.email}</a>`,
        },
        { header: 'Telephone', cell: (each) => each.phone },
        { header: 'Asked', cell: (each) => askOrderOf(view, each, base, csrfToken) },
        { header: 'Access', cell: (each) => access(each, base, csrfToken) },
      ],
      rows: view.contacts,
      empty: emptyState('No contact yet', 'Somebody has to say yes and somebody has to pay. Add them here.'),
    })}
  </section>`;
}

/** Where their access stands, and for whoever may change it the button that does. */
function access(contact: AccountView['contacts'][number], base: string | null, csrfToken: string): Html {
  const { hasEnded, endedOn, name, personId } = contact;
  const standing = hasEnded && endedOn !== null && statusWord('stopped', `Ended ${dayText(endedOn)}`);
  if (base === null) return html`${standing || 'Active'}`;
  const [verb, words] = hasEnded ? ['resume', 'Give access again'] : ['end', 'End access'];
  return html`${standing}<form method="post" action="${`${base}/contacts/${personId}/${verb}`}">
      ${hiddenCsrf(csrfToken)}<button class="plain-button">${words}<span class="heard">: ${name}</span></button>
    </form>`;
}

function certificates(view: AccountView, base: string | null): Html {
  return html`<section id="certificates">
    ${partHead('Certificates', base !== null && quietLink({ label: 'File a certificate', href: `${base}/certificates/new` }))}
    ${dataTable({
      caption: 'Certificates',
      captionHidden: true,
      columns: [
        {
          header: 'Number',
          names: true,
          cell: (each) => html`<span class="code long-name">${each.number}</span>`,
        },
        { header: 'Kind', cell: (each) => certificateWords[each.kind] },
        { header: 'From', cell: (each) => dayShown(each.validFrom) },
        { header: 'To', cell: (each) => (each.validTo === null ? 'no end' : dayShown(each.validTo)) },
        { header: 'Today', cell: (each) => standingWords[each.standing] },
      ],
      rows: view.certificates,
      empty: emptyState('No certificate', 'What they buy is taxed as their tax area says.'),
    })}
    <p class="hint">A certificate counts by the date of work. What it exempts, and whether a late one covers earlier
      work, is for the tax adviser of the business to say.</p>
  </section>`;
}

const standingWords = {
  not_yet: statusWord('waiting', 'Not yet valid'),
  valid: statusWord('settled', 'Valid'),
  ending: statusWord('waiting', 'Ends soon'),
  expired: statusWord('problem', 'Expired'),
} as const;

function prices(view: AccountView, base: string | null): Html {
  return html`<section id="prices">
    ${partHead('Their own prices', base !== null && quietLink({ label: 'Give an own price', href: `${base}/prices/new` }))}
    ${dataTable({
      caption: 'Their own prices',
      captionHidden: true,
      columns: [
        { header: 'Code', names: true, cell: (each) => html`<span class="code">${each.code}</span>` },
        { header: 'Why', cell: (each) => each.reason },
        { header: 'From', cell: (each) => dayShown(each.validFrom) },
        { header: 'To', cell: (each) => (each.validTo === null ? 'no end' : dayShown(each.validTo)) },
        { header: 'Price', figure: true, cell: (each) => money(each.priceMinor, view.currency) },
        ...(base === null ? [] : [endPriceColumn(view.today)]),
      ],
      rows: view.prices,
      empty: emptyState('No price of their own', 'They pay by their contract or tier for every repair.'),
    })}
  </section>`;
}

function contracts(view: AccountView, base: string | null): Html {
  const ending: Column<AccountView['contracts'][number]> = {
    header: 'Change',
    cell: (each) =>
      (each.validTo === null || each.validTo > view.today) &&
      html`<a href="${`/office/price-book/contracts/${each.id}/end`}">End it<span class="heard">: ${each.name}</span></a>`,
  };
  return html`<section id="contracts">
    ${partHead('Contracts', base !== null && quietLink({ label: 'Make a contract', href: `${base}/contracts/new` }))}
    ${dataTable({
      caption: 'Contracts',
      captionHidden: true,
      columns: [
        { header: 'Contract', names: true, cell: (each) => each.name },
        { header: 'Why', cell: (each) => each.reason },
        { header: 'From', cell: (each) => dayShown(each.validFrom) },
        { header: 'To', cell: (each) => (each.validTo === null ? 'no end' : dayShown(each.validTo)) },
        { header: 'Off list', figure: true, cell: (each) => displayPercent(each.discountPercent) },
        ...(base === null ? [] : [ending]),
      ],
      rows: view.contracts,
      empty: emptyState('No contract', 'They pay by their tier, and by their own prices.'),
    })}
  </section>`;
}

function endPriceColumn(today: Day): Column<AccountView['prices'][number]> {
  return {
    header: 'Change',
    cell: (each) =>
      (each.validTo === null || each.validTo > today) &&
      html`<a href="${`/office/price-book/account-prices/${each.id}/end`}">End it<span class="heard">: ${each.code}</span></a>`,
  };
}

function limitWords(contact: AccountView['contacts'][number], currency: string): string {
  if (contact.role !== 'approver') return '';
  return contact.limitMinor === null ? 'no limit' : moneyText(contact.limitMinor, currency);
}

function lines(text: string): readonly (Html | string)[] {
  return text.split('\n').map((line, index) => (index === 0 ? line : html`<br>${line}`));
}
