import { type PersonId, staffRoles } from '@grainwright/domain';
import { z } from 'zod';
import { loginBody } from '../accounts/schemas.ts';
import { dayText, idOf, idText } from '../schemas.ts';

export const addStaffBody = z.object({
  person_id: idOf<PersonId>('person'),
  name: z.string().max(400),
  email: z.string().max(400).default(''),
  phone: z.string().max(100).default(''),
  role: z.enum(staffRoles),
  short_name: z.string().max(40).meta({ description: 'At most 12 characters, for lists and documents.' }),
  prices_by_hand: z
    .boolean()
    .default(false)
    .meta({ description: 'Lets them price lines by hand; owner and office do by their role.' }),
  login: loginBody.nullable().default(null),
});

export const staffParams = z.object({ person_id: idOf<PersonId>('person') });

export const pricesByHandBody = z.object({ prices_by_hand: z.boolean() });

export const staffAnswer = z.object({
  staff: z.array(
    z.object({
      person_id: idText,
      name: z.string(),
      short_name: z.string(),
      role: z.enum(staffRoles),
      email: z.string(),
      phone: z.string(),
      prices_by_hand: z.boolean().meta({ description: 'Lets them price by hand beside their role.' }),
      ended_on: dayText.nullable(),
    }),
  ),
});
