import type { FastifyInstance, FastifyRequest } from 'fastify';
import { z } from 'zod';
import { type FormValues, formOf } from './forms.ts';
import { takeUpload } from './photo-upload.ts';

/**
 * What somebody had typed into a form that was not taken, because the session or the form’s token had ended. It goes
 * along through signing in, and nothing is done with it before the person sends it again.
 */
export interface KeptForm {
  /** The address of ours that it was sent to. */
  readonly to: string;
  readonly fields: readonly (readonly [string, string])[];
  /** Whom the form was drawn for, as drawn-for.ts tells it. */
  readonly drawnFor: string;
  /** The field of the file that could not be kept; null for a form without one. */
  readonly file: string | null;
  /** Whether a password was left out. */
  readonly lacksPassword: boolean;
}

/** More than any form of ours holds but for a very long signature. */
const lettersMax = 100_000;

/**
 * What was typed into the form of this request; null where it can’t be kept: it is too long, it is about signing in,
 * it is not known whose it was, or it came from another site, which must not put words into anybody’s mouth.
 */
export async function keepForm(request: FastifyRequest): Promise<KeptForm | null> {
  if (request.method !== 'POST' || !comesFromOurPage(request)) return null;
  if (!isFormOfOurs(request.server, request.url)) return null;
  const upload = request.isMultipart() ? await uploadedText(request) : null;
  const values = upload?.fields ?? formOf(request);
  const [, whose = ''] = values.text('_csrf').split('.');
  const all = values.entries().filter(([name]) => name !== '_csrf');
  const fields = all.filter(([name]) => !/password/i.test(name));
  const letters = fields.reduce((sum, [name, value]) => sum + name.length + value.length, 0);
  if (whose === '' || letters > lettersMax) return null;
  const lacksPassword = fields.length < all.length;
  return { to: request.url, fields, drawnFor: whose, file: upload?.fileField ?? null, lacksPassword };
}

/** Reads what a sign-in form carried along; null where there is nothing, or nothing that is a form of ours. */
export function readKept(app: FastifyInstance, text: string): KeptForm | null {
  const read = keptSchema.safeParse(parsed(text));
  return read.success && isFormOfOurs(app, read.data.to) ? read.data : null;
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}

const keptSchema = z.object({
  to: z.string(),
  fields: z.array(z.tuple([z.string(), z.string()])),
  drawnFor: z.string(),
  file: z.string().nullable(),
  lacksPassword: z.boolean(),
});

const aboutSigningIn: readonly string[] = [
  '/sign-in',
  '/sign-out',
  '/choose-business',
  '/join-business',
  '/password',
];

/** Forms that are about signing in: what is typed there is nobody’s to keep. */
export function isAboutSigningIn(address: string): boolean {
  return aboutSigningIn.includes(address.split('?', 1)[0] ?? '');
}

function isFormOfOurs(app: FastifyInstance, address: string): boolean {
  const [path = '', ...query] = address.split('?');
  if (!/^[\x21-\x7e]*$/.test(query.join('?')) || isAboutSigningIn(path)) return false;
  return app.formRoutes.some((route) => fits(route, path));
}

function fits(route: string, path: string): boolean {
  const parts = path.split('/');
  const wanted = route.split('/');
  return (
    parts.length === wanted.length &&
    wanted.every((each, index) =>
      each.startsWith(':') ? /^[A-Za-z0-9_-]+$/.test(parts[index] ?? '') : each === parts[index],
    )
  );
}

/** Browsers say where a form that is posted stood. */
function comesFromOurPage(request: FastifyRequest): boolean {
  const { origin, 'sec-fetch-site': site } = request.headers;
  if (site !== undefined) return site === 'same-origin';
  return origin !== undefined && URL.canParse(origin) && new URL(origin).host === request.host;
}

interface UploadedText {
  readonly fields: FormValues;
  readonly fileField: string | null;
}

async function uploadedText(request: FastifyRequest): Promise<UploadedText | null> {
  // Refused before it was read: read it now for its text, and let the file go by.
  if (request.uploaded === null) await takeUpload(request, 1, async () => null);
  return request.uploaded;
}
