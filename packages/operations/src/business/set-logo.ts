import { rm } from 'node:fs/promises';
import type { Readable } from 'node:stream';
import { type Business, lockBusiness, updateBusiness } from '@grainwright/db';
import { ok, type Problem, type Result, refuse } from '@grainwright/domain';
import { inspectPhoto, objectKey, receivePhoto } from '@grainwright/evidence';
import { type Actor, performAsStaff, record, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';

export interface SetLogoInput {
  readonly stream: Readable;
  readonly truncated: () => boolean;
  /** Where the file lands while it comes in. */
  readonly directory: string;
}

/** A logo stands on every document, so it is kept small. */
export const logoBytesMax = 1_000_000;
const logoPixelsMax = 4000;

type Logo = Required<Pick<Business, 'logoKey' | 'logoMediaType'>>;

/**
 * Takes a PNG or JPEG as the business's logo. Its real bytes are decoded first; no transaction is open meanwhile.
 * Refuses with `photo_too_large`, `photo_not_an_image`, `photo_unreadable`, and one that says where it was taken.
 */
export async function setLogo(
  services: Services,
  actor: Actor,
  input: SetLogoInput,
): Promise<Result<Business>> {
  const allowed = await performAsStaff(services, actor, 'change_settings', async () => ok(true));
  if (!allowed.ok) {
    input.stream.resume();
    return allowed;
  }
  const kept = await keepLogo(services, actor, input);
  if (!kept.ok) return asLogoProblem(kept.problem);
  return performAsStaff(services, actor, 'change_settings', (scope) => writeLogo(scope, kept.value));
}

/** Documents made from now on have no logo. */
export function removeLogo(services: Services, actor: Actor): Promise<Result<Business>> {
  return performAsStaff(services, actor, 'change_settings', (scope) =>
    writeLogo(scope, { logoKey: null, logoMediaType: null }),
  );
}

async function writeLogo(scope: Scope, logo: Logo): Promise<Result<Business>> {
  const { tx } = scope;
  const now = await lockBusiness(tx);
  if (now.logoKey === logo.logoKey) return ok(now);
  const next = { ...now, ...logo, settingsRevision: now.settingsRevision + 1 };
  await updateBusiness(tx, next);
  const detail = { before: now.logoKey, after: logo.logoKey };
  await record(scope, 'logo_changed', { kind: 'business', id: tx.tenantId }, detail);
  return ok(next);
}

async function keepLogo(services: Services, actor: Actor, input: SetLogoInput): Promise<Result<Logo>> {
  const received = await receivePhoto(input.stream, { ...input, maxBytes: logoBytesMax });
  if (!received.ok) return received;
  const { path, sha256 } = received.value;
  try {
    const inspected = await inspectPhoto(path);
    if (!inspected.ok) return inspected;
    const { mediaType, width, height, position } = inspected.value;
    if (mediaType !== 'image/png' && mediaType !== 'image/jpeg')
      return refuse('photo_not_an_image', 'Send the logo as PNG or JPEG.');
    if (width > logoPixelsMax || height > logoPixelsMax)
      return refuse('photo_too_many_pixels', `Send a logo of at most ${logoPixelsMax} pixels each way.`);
    if (position !== undefined)
      return refuse(
        'invalid_input',
        'This picture says where it was taken. Save it without that, and send it again.',
      );
    const logoKey = objectKey(actor.tenantId, 'logo', sha256);
    await services.objects.put(path, logoKey);
    return ok({ logoKey, logoMediaType: mediaType });
  } finally {
    await rm(path, { force: true });
  }
}

/** The words of a photo are for somebody with a camera. */
function asLogoProblem(problem: Problem): Result<never> {
  const words: Readonly<Partial<Record<Problem['code'], string>>> = {
    photo_too_large: 'The logo is larger than 1 MB. Save it smaller and send it again.',
    photo_not_an_image: 'This is not a PNG or JPEG. Save the logo as one of these and send it again.',
    photo_unreadable: 'This picture ends early or is damaged. Save the logo again and send it.',
  };
  return refuse(problem.code, words[problem.code] ?? problem.detail, 'logo');
}
