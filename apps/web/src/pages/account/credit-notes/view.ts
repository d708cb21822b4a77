import type { CreditNoteList, CreditNoteView } from '@grainwright/operations';
import { quietLink } from '../../../look/buttons.ts';
import type { Html } from '../../../look/html.ts';
import { accountPage } from '../../../look/layout.ts';
import { creditNoteSheet } from '../../billing/credit-note-sheet.ts';
import { creditNoteTable } from '../../billing/credit-note-table.ts';
import { logoAddress } from '../../billing/logo-address.ts';
import type { Frame } from '../../person.ts';

export function accountCreditNotesView({
  frame,
  list,
}: {
  readonly frame: Frame;
  readonly list: CreditNoteList;
}): Html {
  return accountPage({
    ...frame,
    title: 'Credit notes',
    heading: 'Credit notes',
    lead: `From ${frame.me.business.name}, newest first.`,
    beside: quietLink({ label: 'Invoices', href: '/account/invoices' }),
    current: 'invoices',
    body: creditNoteTable({
      list,
      base: '/account/credit-notes',
      invoices: '/account/invoices',
      query: {},
      withAccount: false,
    }),
  });
}

export function accountCreditNoteView({
  frame,
  note,
}: {
  readonly frame: Frame;
  readonly note: CreditNoteView;
}): Html {
  return accountPage({
    ...frame,
    title: note.number,
    heading: note.number,
    beside: [
      quietLink({ label: note.invoiceNumber, href: `/account/invoices/${note.invoiceId}` }),
      quietLink({ label: 'All credit notes', href: '/account/credit-notes' }),
    ],
    current: 'invoices',
    body: creditNoteSheet(note, '/account/invoices', logoAddress(frame.me.business)),
  });
}
