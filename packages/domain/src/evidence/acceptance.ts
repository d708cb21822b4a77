import type { LineId, PhotoId, VersionId, WorkOrderId } from '../ids.ts';
import { ok, type Result, refuse } from '../result.ts';
import type { OwnNumber } from '../vehicle/identification.ts';
import type { PhotoPurpose } from '../work/photos.ts';
import { checkSignatureMark, type SignatureMark } from './signature-mark.ts';

/** Whose acceptance the account's terms ask for. */
export type AcceptanceRule = 'none' | 'vehicle_owner' | 'account_representative';

export const signerRoles = {
  vehicle_owner: 'vehicle’s owner',
  account_representative: 'account’s representative',
} as const satisfies Record<string, string>;

export type SignerRole = keyof typeof signerRoles;

export const acceptanceOutcomes = {
  accepted: 'accepted',
  accepted_with_remark: 'accepted with a remark',
  not_accepted: 'not accepted',
} as const satisfies Record<string, string>;

export type AcceptanceOutcome = keyof typeof acceptanceOutcomes;

/** The sentence above the signature. Whoever changes the words gives them a new version. */
export interface AcceptanceWording {
  readonly version: string;
  readonly text: string;
}

export const standardAcceptanceWording: AcceptanceWording = {
  version: '1',
  text:
    'I was shown the repair listed here, on the vehicle or in the pictures. It restores the part that is there; ' +
    'it does not make it a new part, and in some light a trace may stay visible. My answer says how I found it.',
};

/**
 * What somebody agrees to who signs on a screen: that it is done there, that paper can be had, and that it can be left.
 * The words are the business's own, made after what 15 USC 7001(c) asks to be told; its adviser decides whether they do.
 */
export const standardConsentWording: AcceptanceWording = {
  version: '1',
  text:
    'I agree to be shown this and to sign it on a screen instead of on paper. What I draw, or my name typed and ' +
    'confirmed, counts as my signature. I can ask for a copy on paper at any time, and have one by e-mail or by a link. ' +
    'If I would rather not sign on a screen, I say so, and nothing is signed here.',
};

export interface ShownPrices {
  readonly currency: string;
  /** Net of each line in the order of `work`, and the total. Minor units. */
  readonly netMinor: readonly bigint[];
  readonly totalMinor: bigint;
}

export interface AcceptanceToShow {
  readonly workOrderId: WorkOrderId;
  /** The estimate's version whose approved lines were done. */
  readonly versionId: VersionId;
  readonly vehicle: {
    /** E.g. “2025 Ostra Vela”. */
    readonly description: string;
    readonly vin: string | null;
    readonly lastEight: string | null;
    readonly ownNumbers: readonly OwnNumber[];
  };
  /** What was done, a plain sentence for each line. */
  readonly work: readonly { readonly lineId: LineId; readonly text: string }[];
  /** In the order shown; `sha256` is the original's digest in lower-case hex. */
  readonly photos: readonly {
    readonly photoId: PhotoId;
    readonly purpose: PhotoPurpose;
    readonly sha256: string;
  }[];
  readonly wording: AcceptanceWording;
  readonly consent: AcceptanceWording;
  /** Null unless the business chose to show prices; then no trace of them is in what is signed. */
  readonly prices: ShownPrices | null;
}

/** Exactly what the signer sees and signs, as JSON. Its canonical text is what the digest is taken of. */
export type AcceptanceShown = {
  /** The first has no words of consent. */
  readonly format: 'acceptance-shown-1' | 'acceptance-shown-2';
  readonly workOrder: string;
  readonly version: string;
  readonly vehicle: {
    readonly description: string;
    readonly vin: string | null;
    readonly lastEight: string | null;
    readonly numbers: readonly { readonly kind: string; readonly number: string }[];
  };
  readonly work: readonly { readonly line: string; readonly text: string }[];
  readonly photos: readonly { readonly photo: string; readonly purpose: string; readonly sha256: string }[];
  /** What the answer says, above the signature. */
  readonly text: { readonly version: string; readonly text: string };
  /** What is agreed to by signing on a screen. */
  readonly consent?: { readonly version: string; readonly text: string };
  readonly prices: {
    readonly currency: string;
    readonly netMinor: readonly string[];
    readonly totalMinor: string;
  } | null;
};

/**
 * Builds what is shown and signed. Refuses with `line_missing` without work, `invalid_input` for words that
 * promise more than a repair is. Throws for a digest that is none, and for prices that don't match the work.
 */
export function acceptanceShown(input: AcceptanceToShow): Result<AcceptanceShown> {
  if (input.work.length === 0) return refuse('line_missing', 'There is no finished line to accept.', 'lines');
  const promise = [input.wording.text, input.consent.text, ...input.work.map((line) => line.text)]
    .map(overstatement)
    .find((found) => found !== null);
  if (promise !== undefined && promise !== null)
    return refuse('invalid_input', `Do not write “${promise}”. Say in plain words what was done.`, 'text');
  const malformed = input.photos.find((photo) => !/^[0-9a-f]{64}$/.test(photo.sha256));
  if (malformed !== undefined) throw new Error(`photo ${malformed.photoId} has no SHA-256 digest`);
  if (input.prices !== null && input.prices.netMinor.length !== input.work.length)
    throw new Error('each line shown with prices needs exactly one');
  return ok(shown(input));
}

function shown({ vehicle, ...input }: AcceptanceToShow): AcceptanceShown {
  return {
    format: 'acceptance-shown-2',
    workOrder: input.workOrderId,
    version: input.versionId,
    vehicle: {
      description: vehicle.description,
      vin: vehicle.vin,
      lastEight: vehicle.lastEight,
      numbers: vehicle.ownNumbers.map(({ kind, number }) => ({ kind, number })),
    },
    work: input.work.map(({ lineId, text }) => ({ line: lineId, text })),
    photos: input.photos.map(({ photoId, purpose, sha256 }) => ({ photo: photoId, purpose, sha256 })),
    text: { version: input.wording.version, text: input.wording.text },
    consent: { version: input.consent.version, text: input.consent.text },
    prices:
      input.prices === null
        ? null
        : {
            currency: input.prices.currency,
            netMinor: input.prices.netMinor.map(String),
            totalMinor: String(input.prices.totalMinor),
          },
  };
}

/** The words of a text that no repair can keep, or null. */
export function overstatement(text: string): string | null {
  return (
    /\b(?:perfect(?:ly|ion)?|(?:like|as good as|good as)[\s-]+new|certified|guaranteed)\b/i.exec(text)?.[0] ??
    null
  );
}

export interface AcceptanceAnswer {
  readonly outcome: AcceptanceOutcome;
  /** Needed unless plainly accepted: what remains, or why not. */
  readonly remark: string;
  readonly signerName: string;
  readonly signerRole: SignerRole;
  /** Null only where the work is not accepted. */
  readonly mark: SignatureMark | null;
}

/**
 * Checks an answer against the account's rule and returns it with its texts trimmed. Refuses with
 * `signature_missing`, `signer_not_fitting` or `invalid_input`.
 */
export function checkAcceptanceAnswer(
  answer: AcceptanceAnswer,
  rule: AcceptanceRule,
): Result<AcceptanceAnswer> {
  const signerName = answer.signerName.trim().replace(/\s+/g, ' ');
  const remark = answer.remark.trim();
  if (signerName === '' || signerName.length > 100)
    return refuse(
      'invalid_input',
      'Write the full name of the person who signs, in at most 100 letters.',
      'signer_name',
    );
  if (remark.length > 2000) return refuse('invalid_input', 'Keep the remark under 2,000 letters.', 'remark');
  if (remark === '' && answer.outcome === 'accepted_with_remark')
    return refuse('invalid_input', 'Write the remark, or choose “accepted”.', 'remark');
  if (remark === '' && answer.outcome === 'not_accepted')
    return refuse('invalid_input', 'Write what is not accepted, so that it can be put right.', 'remark');
  const fits = signerFits(rule, answer.signerRole);
  if (!fits.ok) return fits;
  if (answer.mark === null) {
    if (answer.outcome !== 'not_accepted')
      return refuse('signature_missing', 'Draw your signature in the field, or type your name.', 'signature');
    return ok({ ...answer, signerName, remark });
  }
  const mark = checkSignatureMark(answer.mark);
  if (!mark.ok) return mark;
  if (mark.value.kind === 'typed' && asOneName(mark.value.name) !== asOneName(signerName))
    return refuse(
      'invalid_input',
      'The typed signature is another name than the signer’s. Type the same name, or draw the signature.',
      'signature',
    );
  return ok({ ...answer, signerName, remark, mark: mark.value });
}

/** Capitals and spaces make no other person. */
function asOneName(name: string): string {
  return name.replace(/\s+/g, '').toLowerCase();
}

/** Whether a signer's role is the one that the account's rule asks for: `signer_not_fitting`. */
export function signerFits(rule: AcceptanceRule, role: SignerRole): Result<true> {
  if (rule === 'none' || rule === role) return ok(true);
  return refuse(
    'signer_not_fitting',
    `This account needs the signature of the ${signerRoles[rule]}, not of the ${signerRoles[role]}.`,
    'signer_role',
  );
}
