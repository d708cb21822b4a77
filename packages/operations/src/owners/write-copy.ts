import {
  type AcceptanceRow,
  findAcceptanceCopy,
  findAccessLinks,
  type GivenCopy,
  insertAcceptanceCopies,
} from '@grainwright/db';
import {
  type AcceptanceCopyId,
  type AccessLinkId,
  type CopyChannel,
  type CopyWish,
  dayWords,
  type MailId,
  ok,
  type PersonId,
  type Result,
  refuse,
  toId,
} from '@grainwright/domain';
import { readSignedText, type SignedText } from '../evidence/read-signed-text.ts';
import type { JobScope } from '../job-scope.ts';
import { linkAddress } from '../links/link-text.ts';
import { type MadeLink, makeCopyLink } from '../links/make-link.ts';
import { linkRevoked } from '../links/open-link.ts';
import { readMailAddress } from '../mail/mail-address.ts';
import { queueMail } from '../mail/queue-mail.ts';
import { record } from '../perform.ts';
import { readOptionalWords } from '../read-input.ts';
import type { Services } from '../services.ts';
import { copyMail, copyMessage } from './copy-mails.ts';
import { lastDayOf } from './no-answer.ts';

/** What became of a signer's wish. */
export interface CopyGiven {
  readonly id: AcceptanceCopyId;
  readonly channel: CopyChannel;
  readonly address: string;
  /** By which it can be read again; told only to whoever gave it. Null where no copy was wanted. */
  readonly link: {
    readonly address: string;
    /** What to send along with it, the address in it. */
    readonly message: string;
    /** “Dec 14, 2026” */
    readonly lastDayWords: string;
  } | null;
}

export interface CopyToWrite {
  readonly wish: CopyWish;
  /** The answers that it is a copy of: one, or one for each vehicle of a signature. */
  readonly rows: readonly AcceptanceRow[];
  /** Null where nobody of the business gave it. */
  readonly givenBy: PersonId | null;
}

/**
 * Gives a signer their copy, in this transaction: makes the link that it can be read by again, mails it where it was
 * wished for by mail, and keeps where it went and when. That none was wanted is kept too. The same wish again is the same
 * copy. Refuses with `invalid_input`, `id_reused` or `link_revoked`.
 */
export async function writeCopy(
  services: Pick<Services, 'links'>,
  scope: JobScope,
  { wish, rows, givenBy }: CopyToWrite,
): Promise<Result<CopyGiven>> {
  const address = readAddress(wish);
  if (!address.ok) return address;
  const read = await readSigned(scope, rows);
  if (!read.ok) return read;
  const wished: Wished = {
    id: wish.id,
    channel: wish.channel,
    address: address.value,
    givenBy,
    rows,
    ...read.value,
  };
  const earlier = await findAcceptanceCopy(scope.tx, wish.id);
  if (earlier.length > 0) return sameAgain(services, scope, earlier, wished);
  if (wish.channel === 'declined') {
    await keep(scope, wished, { linkId: null, mailId: null });
    return ok({ id: wish.id, channel: wish.channel, address: '', link: null });
  }
  if ((await findAccessLinks(scope.tx, [linkIdOf(wished)])).length > 0) return reusedId;
  const link = await makeCopyLink(scope, services, {
    id: linkIdOf(wished),
    accountId: wished.accountId,
    workOrderId: wished.first.workOrder.id,
    validDays: scope.business.acceptanceCopyDays,
  });
  const mailed = wish.channel === 'mail' ? await mail(scope, wished, link) : ok(null);
  if (!mailed.ok) return mailed;
  await keep(scope, wished, { linkId: link.id, mailId: mailed.value });
  return ok(given(services, scope, wished, link.lastDayWords));
}

interface Wished
  extends Pick<CopyGiven, 'id' | 'channel' | 'address'>,
    Pick<CopyToWrite, 'givenBy' | 'rows'> {
  readonly signed: readonly SignedText[];
  readonly first: SignedText;
  readonly accountId: Parameters<typeof makeCopyLink>[2]['accountId'];
}

function readAddress({ channel, address }: CopyWish): Result<string> {
  if (channel === 'declined') return ok('');
  if (channel === 'mail') return readMailAddress(address, 'copy_address');
  return readOptionalWords(address, 'copy_address', 'the telephone number', 40);
}

async function readSigned(scope: JobScope, rows: readonly AcceptanceRow[]) {
  const signed: SignedText[] = [];
  let accountId: Wished['accountId'] | null = null;
  for (const row of rows) {
    const read = await readSignedText(scope.tx, row);
    if (!read.ok) return read;
    accountId = read.value.accountId;
    signed.push(read.value);
  }
  const [first] = signed;
  if (first === undefined || accountId === null) return refuse('not_found', 'There is no such answer.');
  return ok({ signed, first, accountId });
}

/** One link and at most one mail for each copy, so all three may have the same id. */
const linkIdOf = ({ id }: Pick<Wished, 'id'>) => toId<AccessLinkId>(id);

async function mail(scope: JobScope, wished: Wished, link: MadeLink): Promise<Result<MailId>> {
  const { business } = scope;
  const { lastDayWords, mark } = link;
  return queueMail(scope, {
    id: toId<MailId>(wished.id),
    kind: 'answer_copy',
    accountId: wished.accountId,
    aboutId: wished.first.workOrder.id,
    to: [wished.address],
    ...copyMail({ business, signed: wished.signed, link: { address: mark, lastDayWords } }),
  });
}

async function keep(
  scope: JobScope,
  { id, channel, address, rows, givenBy }: Wished,
  by: { readonly linkId: AccessLinkId | null; readonly mailId: MailId | null },
): Promise<void> {
  await insertAcceptanceCopies(
    scope.tx,
    rows.map((row) => ({
      id,
      acceptanceId: row.id,
      workOrderId: row.workOrderId,
      channel,
      address,
      ...by,
      givenBy,
      givenAt: scope.now,
    })),
  );
  for (const row of rows)
    await record(scope, 'copy_given', { kind: 'acceptance', id: row.id }, { copy_id: id, channel, address });
}

function given(
  services: Pick<Services, 'links'>,
  { tx, business }: JobScope,
  wished: Wished,
  lastDayWords: string,
): CopyGiven {
  const { id, channel, signed } = wished;
  const address = linkAddress(services, tx.tenantId, linkIdOf(wished));
  const message = copyMessage(business, { signed, address, lastDayWords });
  return { id, channel, address: wished.address, link: { address, message, lastDayWords } };
}

function sameAgain(
  services: Pick<Services, 'links'>,
  scope: JobScope,
  earlier: readonly GivenCopy[],
  wished: Wished,
): Result<CopyGiven> {
  const [first] = earlier;
  const ids = new Set(earlier.map(({ acceptanceId }) => acceptanceId));
  const same =
    first !== undefined &&
    first.channel === wished.channel &&
    first.address === wished.address &&
    first.givenBy === wished.givenBy &&
    ids.size === wished.rows.length &&
    wished.rows.every((row) => ids.has(row.id));
  if (!same) return reusedId;
  const { id, channel, address } = wished;
  if (first.expiresAt === null) return ok({ id, channel, address, link: null });
  if (first.revokedAt !== null) return linkRevoked;
  const lastDay = lastDayOf({ expiresAt: first.expiresAt }, scope.business.timeZone);
  return ok(given(services, scope, wished, dayWords(lastDay)));
}

const reusedId = refuse(
  'id_reused',
  'This id was already used for something else. Open the page again.',
  'id',
);
