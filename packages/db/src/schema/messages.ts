import type {
  AccessLinkId,
  AccountId,
  MessageId,
  PersonId,
  TenantId,
  WorkOrderId,
} from '@grainwright/domain';
import { pgTable, text } from 'drizzle-orm/pg-core';
import { id, moment } from './columns.ts';

export const messages = pgTable('messages', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<MessageId>('id').notNull(),
  accountId: id<AccountId>('account_id').notNull(),
  workOrderId: id<WorkOrderId>('work_order_id').notNull(),
  side: text('side').$type<'account' | 'business'>().notNull(),
  authorId: id<PersonId>('author_id').notNull(),
  text: text('text').notNull(),
  writtenAt: moment('written_at').notNull(),
  linkId: id<AccessLinkId>('link_id'),
});
