import type { MembershipId } from '@grainwright/domain';
import { z } from 'zod';
import { idOf, idText } from '../schemas.ts';

export const signInBody = z.object({
  email: z.string().min(3).max(254),
  password: z.string().min(1).max(200),
  membership_id: idOf<MembershipId>('membership').optional(),
});

export const joinBody = z.object({
  code: z.string().min(1).max(100).meta({ description: 'From the business that added you.' }),
  new_password: z.string().max(400),
});

export const passwordBody = z.object({
  old_password: z.string().min(1).max(200),
  new_password: z.string().max(400),
});

const membership = z.object({ id: idText, tenant_name: z.string(), kind: z.enum(['staff', 'contact']) });

export const sessionAnswer = z.object({
  token: z.string().meta({ description: 'Send it as “Authorization: Bearer …”.' }),
  membership_id: idText.nullable(),
  memberships: z.array(membership),
});

export const meAnswer = z.object({
  name: z.string(),
  role: z.enum(['owner', 'office', 'technician', 'bookkeeper', 'approver', 'payer', 'viewer']),
  business: z.object({ name: z.string(), currency: z.string(), time_zone: z.string(), today: z.string() }),
  account_id: idText.nullable(),
});
