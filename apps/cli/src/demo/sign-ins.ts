import { demoAccounts, marrowbyAccount } from './accounts.ts';

/** Everybody of the demo signs in with this. It is printed at every start, so it guards nothing. */
export const demoPassword = 'stitch by stitch';

export interface DemoPerson {
  readonly name: string;
  readonly shortName: string;
  readonly email: string;
  readonly role: 'owner' | 'office' | 'technician' | 'bookkeeper';
}

export const quillfeatherOwner: DemoPerson = {
  name: 'Delphine Aster-Rowe',
  shortName: 'DA',
  email: 'delphine@quillfeather.example.com',
  role: 'owner',
};

export const quillfeatherStaff: readonly DemoPerson[] = [
  { name: 'Ottoline Fairbrook', shortName: 'OF', email: 'ottoline@quillfeather.example.com', role: 'office' },
  {
    name: 'Hollis Tamberlane',
    shortName: 'HT',
    email: 'hollis@quillfeather.example.com',
    role: 'bookkeeper',
  },
  { name: 'Ines Okparo', shortName: 'T1', email: 'ines@quillfeather.example.com', role: 'technician' },
  { name: 'Tobias Wrenfield', shortName: 'T2', email: 'tobias@quillfeather.example.com', role: 'technician' },
  { name: 'Marlo Quist', shortName: 'T3', email: 'marlo@quillfeather.example.com', role: 'technician' },
];

export const marrowbyOwner: DemoPerson = {
  name: 'Perpetua Stoke',
  shortName: 'PS',
  email: 'perpetua@marrowby.example.com',
  role: 'owner',
};

/** The lines that `npm start` prints below “ready”. */
export function demoSignIns(): string {
  const staff = [quillfeatherOwner, ...quillfeatherStaff].map((person) => [
    person.email,
    `${person.role}, Quillfeather Interior Repair`,
  ]);
  const contacts = demoAccounts.flatMap((account) =>
    account.contacts.map((contact) => [contact.email, `${contact.role}, ${account.name}`]),
  );
  const second = [
    [marrowbyOwner.email, 'owner, Marrowby Trim Mending'],
    ...marrowbyAccount.contacts.map((contact) => [
      contact.email,
      `${contact.role}, ${marrowbyAccount.name} (of Marrowby)`,
    ]),
  ];
  const rows = [...staff, ...contacts, ...second];
  const width = Math.max(...rows.map(([email = '']) => email.length));
  return [
    `Demo sign-ins, all with the password: ${demoPassword}`,
    ...rows.map(([email = '', who = '']) => `  ${email.padEnd(width)}  ${who}`),
  ].join('\n');
}
