import type {
  PublicKeyView,
  SealDaysView,
  SealDayView,
  SealedThings,
  SealView,
  TrailView,
} from '@grainwright/operations';
import type { z } from 'zod';
import type { dayAnswer, daysAnswer, keysAnswer, sealedAnswer, sealsAnswer, trailAnswer } from './schemas.ts';

export function answerSeals(seals: readonly SealView[]): z.input<typeof sealsAnswer> {
  return {
    seals: seals.map((seal) => ({
      number: seal.number,
      kind: seal.kind,
      subject_id: seal.subjectId,
      happened_at: seal.happenedAt,
      sealed_at: seal.sealedAt,
      text: seal.text,
      sha256: seal.sha256,
      signature: seal.signature,
      key: seal.keyId,
      content: seal.content,
      day: seal.inDay && { ...seal.inDay, proof: [...seal.inDay.proof] },
    })),
  };
}

export function answerSealed({ seals, more }: SealedThings): z.input<typeof sealedAnswer> {
  return {
    more,
    seals: seals.map(({ number, kind, workOrder, creditNote, sealedAt, sealedOn, sha256 }) => ({
      number,
      kind,
      work_order: workOrder && { ...workOrder },
      credit_note: creditNote,
      sealed_at: sealedAt,
      sealed_on: sealedOn,
      sha256,
    })),
  };
}

export function answerKeys(keys: readonly PublicKeyView[]): z.input<typeof keysAnswer> {
  return {
    keys: keys.map((key) => ({
      id: key.id,
      key: key.keyId,
      public_key: key.publicKey,
      state: key.state,
      cause: key.cause,
      made_at: key.madeAt,
      retired_at: key.retiredAt,
      introduced_by: key.introducedBy,
    })),
  };
}

export function answerDays({ from, to, days }: SealDaysView): z.input<typeof daysAnswer> {
  return { from, to, days: days.map(dayHead) };
}

export function answerDay(day: SealDayView): z.input<typeof dayAnswer> {
  return { ...dayHead(day), text: day.text, signature: day.signature, leaves: [...day.leaves] };
}

function dayHead({ day, firstNumber, size, root, sha256, keyId }: SealDayView) {
  return { day, first_number: firstNumber, size, root, sha256, key: keyId };
}

export function answerTrail(trail: TrailView): z.input<typeof trailAnswer> {
  const { kind, name, accountName, entries, earlier, later } = trail;
  return {
    kind,
    name,
    account: accountName,
    earlier,
    later,
    entries: entries.map(({ internal, madeOnPhoneAt, ...entry }) => ({
      ...entry,
      made_on_phone_at: madeOnPhoneAt,
      internal:
        internal === null
          ? null
          : {
              detail: internal.detail,
              from_address: internal.fromAddress,
              chain_number: internal.chainNumber,
            },
    })),
  };
}
