import type { FastifyPluginAsync } from 'fastify';
import { contactsOnly, staffOnly } from '../plugins/session.ts';
import { accountInvoicePages } from './account/invoices/routes.ts';
import { accountStatementPages } from './account/statements/routes.ts';
import { toApprovePages } from './account/to-approve/routes.ts';
import { accountWorkOrderPages } from './account/work-order/routes.ts';
import { accountWorkOrdersPages } from './account/work-orders/routes.ts';
import { acceptancePages } from './field/acceptance/routes.ts';
import { finishPages } from './field/finish/routes.ts';
import { fieldLinePages } from './field/line/routes.ts';
import { fieldPhotoPages } from './field/photos/routes.ts';
import { startPages } from './field/start/routes.ts';
import { todayPages } from './field/today/routes.ts';
import { fieldWorkOrderPages } from './field/work-order/routes.ts';
import { writeUpPages } from './field/write-up/routes.ts';
import { officeAccountPages } from './office/account/routes.ts';
import { officeAccountFormPages } from './office/account-form/routes.ts';
import { officeAccountPartPages } from './office/account-parts/routes.ts';
import { officeAccountsPages } from './office/accounts/routes.ts';
import { officeInvoicePages } from './office/invoices/routes.ts';
import { officePaymentPages } from './office/payments/routes.ts';
import { officePriceBookPages } from './office/price-book/routes.ts';
import { officeStatementPages } from './office/statements/routes.ts';
import { recordedAnswerPages } from './office/work-order/recorded-answer-routes.ts';
import { officeWorkOrderPages } from './office/work-order/routes.ts';
import { officeWorkOrdersPages } from './office/work-orders/routes.ts';
import { passwordPages } from './password/routes.ts';
import type { PageOptions } from './person.ts';
import { photoPages } from './photos/routes.ts';
import { signInPages } from './sign-in/routes.ts';

export interface PagesOptions extends PageOptions {
  readonly secureCookies: boolean;
  readonly temporaryFolder: string;
  readonly photoBytesMax: number;
}

/** Every page. Field and office pages are the staff's, account pages the accounts' contacts'. */
export const pageRoutes: FastifyPluginAsync<PagesOptions> = async (app, options) => {
  await app.register(photoPages, options);
  await app.register(signInPages, options);
  await app.register(passwordPages, options);
  await app.register(async (staff) => {
    staff.addHook('preHandler', staffOnly);
    await staff.register(writeUpPages, options);
    await staff.register(fieldWorkOrderPages, options);
    await staff.register(todayPages, options);
    await staff.register(fieldLinePages, options);
    await staff.register(officeInvoicePages, options);
    await staff.register(officePaymentPages, options);
    await staff.register(officeStatementPages, options);
    await staff.register(acceptancePages, options);
    await staff.register(fieldPhotoPages, options);
    await staff.register(finishPages, options);
    await staff.register(startPages, options);
    await staff.register(recordedAnswerPages, options);
    await staff.register(officeWorkOrdersPages, options);
    await staff.register(officeWorkOrderPages, options);
    await staff.register(officePriceBookPages, options);
    await staff.register(officeAccountsPages, options);
    await staff.register(officeAccountPartPages, options);
    await staff.register(officeAccountPages, options);
    await staff.register(officeAccountFormPages, options);
  });
  await app.register(async (contacts) => {
    contacts.addHook('preHandler', contactsOnly);
    await contacts.register(accountInvoicePages, options);
    await contacts.register(accountStatementPages, options);
    await contacts.register(toApprovePages, options);
    await contacts.register(accountWorkOrdersPages, options);
    await contacts.register(accountWorkOrderPages, options);
  });
};
