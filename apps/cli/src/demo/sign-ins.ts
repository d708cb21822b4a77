import { demoAccounts, marrowbyAccount } from './accounts.ts';
import { practiceAccounts } from './practice-week.ts';

/** Everybody of the demo signs in with this. It is printed at every start, so it guards nothing. */
export const demoPassword = 'stitch by stitch';

export interface DemoPerson {
  readonly name: string;
  readonly shortName: string;
  readonly email: string;
  readonly role: 'owner' | 'office' | 'technician' | 'bookkeeper';
  /** Of the labor of repairs, in percent. */
  readonly commission?: string;
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
  {
    name: 'Ines Okparo',
    shortName: 'T1',
    email: 'ines@quillfeather.example.com',
    role: 'technician',
    commission: '40',
  },
  {
    name: 'Tobias Wrenfield',
    shortName: 'T2',
    email: 'tobias@quillfeather.example.com',
    role: 'technician',
    commission: '38',
  },
  {
    name: 'Marlo Quist',
    shortName: 'T3',
    email: 'marlo@quillfeather.example.com',
    role: 'technician',
    commission: '35',
  },
];

export const marrowbyOwner: DemoPerson = {
  name: 'Perpetua Stoke',
  shortName: 'PS',
  email: 'perpetua@marrowby.example.com',
  role: 'owner',
};

export const practiceOwner: DemoPerson = {
  name: 'Wilhelmina Tarn',
  shortName: 'WT',
  email: 'wilhelmina@thornapple.example.com',
  role: 'owner',
};

export const practiceStaff: readonly DemoPerson[] = [
  { name: 'Odessa Quill', shortName: 'OF', email: 'odessa@thornapple.example.com', role: 'office' },
  { name: 'Barnaby Loam', shortName: 'HT', email: 'barnaby@thornapple.example.com', role: 'bookkeeper' },
  { name: 'Sorrel Vance', shortName: 'T1', email: 'sorrel@thornapple.example.com', role: 'technician' },
  { name: 'Emrys Pool', shortName: 'T2', email: 'emrys@thornapple.example.com', role: 'technician' },
];

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
  const practice = [
    ...[practiceOwner, ...practiceStaff].map((person) => [
      person.email,
      `${person.role}, Thornapple Trim (practice: work of this week)`,
    ]),
    ...practiceAccounts.flatMap((account) =>
      account.contacts.map((contact) => [contact.email, `${contact.role}, ${account.name} (practice)`]),
    ),
  ];
  const rows = [...staff, ...contacts, ...second, ...practice];
  const width = Math.max(...rows.map(([email = '']) => email.length));
  return [
    `Demo sign-ins, all with the password: ${demoPassword}`,
    ...rows.map(([email = '', who = '']) => `  ${email.padEnd(width)}  ${who}`),
  ].join('\n');
}
