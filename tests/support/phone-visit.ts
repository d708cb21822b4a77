import { createHash } from 'node:crypto';
import {
  instant,
  type LineId,
  type PhotoId,
  type PhotoPurpose,
  type StandingApprovalId,
  toId,
  type WorkOrderId,
} from '@grainwright/domain';
import { addPhoto, listCautions, setStandingApproval } from '@grainwright/operations';
import { buildAcceptance, factsOfLines, type PhoneSnapshot } from '@grainwright/operations/phone';
import type { Body, KeptAction, PhoneAction } from '../../apps/web/src/browser/phone/action.ts';
import { applyActions, type PhoneWork } from '../../apps/web/src/browser/phone/projection.ts';
import { requestOf } from '../../apps/web/src/browser/phone/request.ts';
import type { Web } from './web.ts';
import { aJpeg, photoInput } from './work-in-hand.ts';
import { type Account, must } from './world.ts';

type Kind = 'write_up' | 'line' | 'estimate' | 'start' | 'finish' | 'acceptance' | 'missing_signature';

/** A vehicle that is worked on where there is no signal: each thing is done at a moment, and sent later. */
export interface PhoneVisit {
  readonly id: WorkOrderId;
  readonly lineId: string;
  /** Done on the phone at a moment, with its offset to UTC; answers with the id. */
  do(kind: Kind, madeAt: string, body?: Body): string;
  photograph(purpose: PhotoPurpose, madeAt: string): Promise<PhotoId>;
  /** The work order as the phone shows it. */
  shown(): PhoneWork;
  /** The digest of what the phone puts before the signer. */
  shownDigest(): string;
  /** Sends what was not sent yet, in its order, and answers with the bodies of the answers. */
  send(): Promise<readonly Readonly<Record<string, unknown>>[]>;
}

/** The account agrees beforehand to work without being asked. */
export async function agreesBeforehand(account: Account, validFrom: string): Promise<void> {
  const { world, office } = account.business;
  must(
    await setStandingApproval(world.services, office, {
      id: world.newId<StandingApprovalId>(),
      accountId: account.id,
      perVehicle: '350.00',
      perVisit: null,
      perMonth: null,
      validFrom,
      validTo: null,
      text: 'agreed by phone',
    }),
  );
}

interface Kept extends KeptAction {
  readonly bytes?: Buffer;
}

/** The technician’s phone, as the service knows it. */
interface Phone {
  readonly web: Web;
  readonly account: Account;
  readonly cookies: Readonly<Record<string, string>>;
  readonly headers: Readonly<Record<string, string>>;
}

export async function phoneVisit(web: Web, account: Account): Promise<PhoneVisit> {
  const { world } = account.business;
  const phone = await signedIn(web, account);
  const snapshot = await snapshotOf(phone);
  const id = world.newId<WorkOrderId>();
  const lineId = world.newId();
  const usual = usualBodies(account, world.newId());
  const kept: Kept[] = [];
  let sentUpTo = 0;
  const keep = (action: PhoneAction, bytes?: Buffer) => {
    const order = kept.length + 1;
    kept.push(
      bytes === undefined
        ? { ...waiting, order, action, file: null }
        : { ...waiting, order, action, file: fileOf(bytes), bytes },
    );
  };
  const shown = () => {
    const day = applyActions({ snapshot, askedAt: snapshot.takenAt }, kept);
    const work = day.workOrders.find((each) => each.id === id);
    if (work === undefined) throw new Error('the phone does not know the vehicle');
    return work;
  };
  return {
    id,
    lineId,
    do: (kind, madeAt, body = {}) => {
      const actionId = kind === 'write_up' ? id : kind === 'line' ? lineId : world.newId();
      keep({ id: actionId, workOrderId: id, madeAt, kind, body: { id: actionId, ...usual[kind], ...body } });
      return actionId;
    },
    photograph: async (purpose, madeAt) => {
      const photoId = world.newId<PhotoId>();
      const body = { purpose, line_id: lineId, captured_at: madeAt };
      keep({ id: photoId, workOrderId: id, madeAt, kind: 'photo', body }, await aJpeg());
      return photoId;
    },
    shown,
    shownDigest: () => digestOf(shown()),
    send: async () => {
      const answers = [];
      for (const each of kept.slice(sentUpTo)) answers.push(await sent(phone, each));
      sentUpTo = kept.length;
      return answers;
    },
  };
}

async function signedIn(web: Web, account: Account): Promise<Phone> {
  const { tenantId, technician, emailOf, password } = account.business;
  const { cookies } = await web.signInByPage(emailOf('technician'), password);
  return { web, account, cookies, headers: { 'x-grainwright-person': `${tenantId}.${technician.personId}` } };
}

async function snapshotOf({ web, cookies, headers }: Phone): Promise<PhoneSnapshot> {
  return (await web.app.inject({ url: '/api/v1/phone/snapshot', cookies, headers })).json<PhoneSnapshot>();
}

/** What is said where a test says nothing else: the cut of scenario (a). */
function usualBodies(account: Account, visitId: string): Readonly<Record<Kind, Body>> {
  return {
    write_up: { visit_id: visitId, account_id: account.id, site_id: account.siteId },
    line: {
      part: 'tailgate_lining',
      damage: 'cut_or_tear',
      observation: 'relaxes_and_lies_down',
      methods: ['cold_grain'],
      measured_inches: '2.2',
      family: 'Vinyl cut or tear',
    },
    estimate: {},
    start: { circumstances: [] },
    finish: {},
    acceptance: {},
    missing_signature: {},
  };
}

function fileOf(bytes: Buffer) {
  const sha256 = createHash('sha256').update(bytes).digest('hex');
  return { bytes: bytes.length, sha256, mediaType: 'image/jpeg' };
}

/** As the phone sends it, but for the parts of a photo's file. */
async function sent(phone: Phone, { action, bytes }: Kept) {
  if (action.kind === 'photo' && bytes !== undefined) return photoSent(phone.account, action, bytes);
  const { path, body, headers } = requestOf(action);
  const read = action.kind === 'start' ? await cautionsOf(phone.account, action.workOrderId) : {};
  const reply = await phone.web.app.inject({
    method: 'POST',
    url: path,
    cookies: phone.cookies,
    headers: { ...phone.headers, ...headers },
    payload: { ...(body as Body), ...read },
  });
  return { status: reply.statusCode, ...reply.json<Record<string, unknown>>() };
}

async function photoSent(
  account: Account,
  { id, workOrderId, body }: Extract<PhoneAction, { kind: 'photo' }>,
  bytes: Buffer,
) {
  const { world, technician } = account.business;
  const lineId = body.line_id === null ? null : toId<LineId>(body.line_id);
  const place = { workOrderId: toId<WorkOrderId>(workOrderId), lineId, purpose: body.purpose };
  const added = await addPhoto(world.services, technician, {
    ...photoInput(account, bytes, place),
    photoId: toId<PhotoId>(id),
    capturedAt: instant(body.captured_at),
  });
  return { status: 201, ...must(added) };
}

/** All of them, as whoever stands beside the vehicle ticks them. */
async function cautionsOf(account: Account, id: string) {
  const { world, technician } = account.business;
  const asked = { workOrderId: toId<WorkOrderId>(id), circumstances: [] };
  const { cautions } = must(await listCautions(world.services, technician, asked));
  return { acknowledge: cautions.map(({ code }) => code) };
}

const waiting = {
  state: 'waiting',
  sentBytes: 0,
  refusal: null,
  serverHas: null,
  lastTry: null,
  sentAt: null,
} as const;

function digestOf(work: PhoneWork): string {
  if (work.versionId === null) throw new Error('nothing was sent for approval');
  const lines = factsOfLines(work.lines).map(({ lineId, row, side, ...line }) => ({
    ...line,
    id: lineId,
    side: side ?? ('' as const),
    family: row.family,
  }));
  const { workOrderId, versionId } = { workOrderId: work.id, versionId: work.versionId };
  const photos = work.photos.map((photo) => ({ ...photo, ready: true, coveredOn: null, deletion: null }));
  const built = buildAcceptance(
    { vehicle: work.vehicle, lines, photos, stopPoints: work.stopPoints },
    { workOrderId, versionId, ownNumbers: [], prices: null },
  );
  return must(built).digest;
}
