import { type Id, isUuid, problemCodes, toId } from '@grainwright/domain';
import { z } from 'zod';

/** Schemas that every area of the API shares. Amounts are decimal strings, days `YYYY-MM-DD`, ids UUIDs made by the client. */

export function idOf<T extends Id<string>>(what: string) {
  return z
    .uuid()
    .refine((text) => isUuid(text.toLowerCase()), 'Invalid UUID')
    .transform((text) => toId<T>(text.toLowerCase()))
    .meta({ description: `The id of the ${what}, a UUID made by the client (version 7 preferred).` });
}
export const idText = z.uuid();
export const moneyText = z
  .string()
  .max(24)
  .meta({ description: 'An amount as a decimal string, like "165.75".' });
export const decimalText = z
  .string()
  .max(24)
  .meta({ description: 'A decimal number as a string, like "2.2".' });
export const dayText = z.string().max(10).meta({ description: 'A day, YYYY-MM-DD.' });
export const certificateWarningAnswer = z
  .object({
    kind: z.enum(['ending', 'ended']),
    number: z.string(),
    last_day: dayText.meta({ description: 'The last day of work that it exempts.' }),
    days_left: z.number().int().nullable().meta({ description: 'Null once it has ended.' }),
  })
  .nullable()
  .meta({ description: 'A certificate that ends soon or has ended; null while all is well.' });
export const monthText = z.string().max(7).meta({ description: 'A month, YYYY-MM.' });
export const momentText = z.iso.datetime();

export const problemDetails = z
  .object({
    type: z.string(),
    title: z.string(),
    status: z.int(),
    detail: z.string(),
    code: z.enum([...problemCodes, 'internal']),
    field: z.string().optional(),
    errors: z.array(z.object({ field: z.string(), detail: z.string() })).optional(),
  })
  .meta({ id: 'Problem', description: 'Problem details, RFC 9457.' });

/** What every route may answer besides its success. */
export const problemAnswer = { '4xx': problemDetails, '5xx': problemDetails } as const;

/** The words of a closed list, for a schema that takes one of them. */
export function wordsOf<Word extends string>(record: Readonly<Record<Word, unknown>>): [Word, ...Word[]] {
  const isWord = (key: string): key is Word => Object.hasOwn(record, key);
  const [first, ...rest] = Object.keys(record).filter(isWord);
  if (first === undefined) throw new Error('a list of words is empty');
  return [first, ...rest];
}
