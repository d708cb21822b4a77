import type { PartySnapshot } from '../billing/invoice-document.ts';

/** What stands below a party's name on a document: its address, line by line, phone and e-mail. */
export function partyLines({ address, phone, email }: Omit<PartySnapshot, 'name'>): readonly string[] {
  return [...address.split('\n'), phone, email];
}
