import swagger from '@fastify/swagger';
import type { Services } from '@grainwright/operations';
import type { FastifyPluginAsync } from 'fastify';
import { jsonSchemaTransform, jsonSchemaTransformObject } from 'fastify-type-provider-zod';
import { acceptanceRoutes } from './acceptance/routes.ts';
import { certificateWarningRoutes } from './accounts/certificate-warning-routes.ts';
import { accountRoutes } from './accounts/routes.ts';
import { approvalRoutes } from './approvals/routes.ts';
import { boardRoutes } from './board/routes.ts';
import { bookRoutes } from './books/routes.ts';
import { businessRoutes } from './business/routes.ts';
import { commissionRoutes } from './commissions/routes.ts';
import { coveringRoutes } from './coverings/routes.ts';
import { creditNoteRoutes } from './credit-notes/routes.ts';
import { decisionRoutes } from './decisions/routes.ts';
import { delegationRoutes } from './delegations/routes.ts';
import { disputeRoutes } from './disputes/routes.ts';
import { evidencePackRoutes } from './evidence-packs/routes.ts';
import { readyToInvoiceRoutes } from './invoices/ready-routes.ts';
import { invoiceRoutes } from './invoices/routes.ts';
import { linkRoutes } from './links/routes.ts';
import { mailRoutes } from './mail/routes.ts';
import { messageRoutes } from './messages/routes.ts';
import { newsRoutes } from './news/routes.ts';
import { paperRoutes } from './papers/routes.ts';
import { paymentRoutes } from './payments/routes.ts';
import { phoneRoutes } from './phone/routes.ts';
import { photoFromUploadRoutes } from './photos/from-upload-routes.ts';
import { pictureRoutes } from './photos/picture-routes.ts';
import { photoRecordRoutes } from './photos/record-routes.ts';
import { photoRoutes } from './photos/routes.ts';
import { handedInRoutes } from './portal/handed-in-routes.ts';
import { portalRoutes } from './portal/routes.ts';
import { priceBookRoutes } from './price-book/routes.ts';
import { quoteRoutes } from './quotes/routes.ts';
import { receiptRoutes } from './receipts/routes.ts';
import { recordingRoutes } from './recordings/routes.ts';
import { reportRoutes } from './reports/routes.ts';
import { legalHoldRoutes } from './retention/hold-routes.ts';
import { retentionRoutes } from './retention/routes.ts';
import { sealRoutes } from './seals/routes.ts';
import { sealedRoutes } from './seals/sealed-routes.ts';
import { trailRoutes } from './seals/trail-routes.ts';
import { sessionRoutes } from './sessions/routes.ts';
import { staffRoutes } from './staff/routes.ts';
import { issuedStatementRoutes } from './statements/issued-routes.ts';
import { statementRoutes } from './statements/routes.ts';
import { statementRunRoutes } from './statements/run-routes.ts';
import { stopRoutes } from './stops/routes.ts';
import { uploadPartRoutes } from './uploads/part-routes.ts';
import { uploadRoutes } from './uploads/routes.ts';
import { vehicleLookUpRoutes } from './vehicles/look-up-routes.ts';
import { vehicleRoutes } from './vehicles/routes.ts';
import { workRoutes } from './work/routes.ts';
import { workOrderRoutes } from './work-orders/routes.ts';
import { writeOffRoutes } from './write-offs/routes.ts';

export interface ApiOptions {
  readonly services: Services;
  readonly temporaryFolder: string;
  readonly photoBytesMax: number;
  readonly recordingBytesMax: number;
}

/** Every area of the API, and its description in OpenAPI. */
export const apiRoutes: FastifyPluginAsync<ApiOptions> = async (
  app,
  { services, temporaryFolder, photoBytesMax, recordingBytesMax },
) => {
  // Not the options as they came: they carry this scope's prefix, which would count once more.
  const options: ApiOptions = { services, temporaryFolder, photoBytesMax, recordingBytesMax };
  await app.register(swagger, description);
  app.get('/openapi.json', { schema: { hide: true } }, async () => app.swagger());
  await app.register(acceptanceRoutes, options);
  await app.register(accountRoutes, options);
  await app.register(approvalRoutes, options);
  await app.register(boardRoutes, options);
  await app.register(bookRoutes, options);
  await app.register(creditNoteRoutes, options);
  await app.register(businessRoutes, options);
  await app.register(commissionRoutes, options);
  await app.register(coveringRoutes, options);
  await app.register(decisionRoutes, options);
  await app.register(delegationRoutes, options);
  await app.register(disputeRoutes, options);
  await app.register(invoiceRoutes, options);
  await app.register(readyToInvoiceRoutes, options);
  await app.register(certificateWarningRoutes, options);
  await app.register(paymentRoutes, options);
  await app.register(receiptRoutes, options);
  await app.register(sealRoutes, options);
  await app.register(sealedRoutes, options);
  await app.register(trailRoutes, options);
  await app.register(statementRoutes, options);
  await app.register(issuedStatementRoutes, options);
  await app.register(statementRunRoutes, options);
  await app.register(linkRoutes, options);
  await app.register(mailRoutes, options);
  await app.register(messageRoutes, options);
  await app.register(newsRoutes, options);
  await app.register(paperRoutes, options);
  await app.register(evidencePackRoutes, options);
  await app.register(phoneRoutes, options);
  await app.register(photoRecordRoutes, options);
  await app.register(photoRoutes, options);
  await app.register(photoFromUploadRoutes, options);
  await app.register(pictureRoutes, options);
  await app.register(handedInRoutes, options);
  await app.register(portalRoutes, options);
  await app.register(priceBookRoutes, options);
  await app.register(quoteRoutes, options);
  await app.register(recordingRoutes, options);
  await app.register(reportRoutes, options);
  await app.register(retentionRoutes, options);
  await app.register(legalHoldRoutes, options);
  await app.register(sessionRoutes, options);
  await app.register(staffRoutes, options);
  await app.register(stopRoutes, options);
  await app.register(uploadRoutes, options);
  await app.register(uploadPartRoutes, options);
  await app.register(vehicleRoutes, options);
  await app.register(vehicleLookUpRoutes, options);
  await app.register(workOrderRoutes, options);
  await app.register(writeOffRoutes, options);
  await app.register(workRoutes, options);
};

const description = {
  openapi: {
    openapi: '3.1.0',
    info: {
      title: 'Grainwright',
      version: '1',
      description: 'Work orders, evidence, approvals, invoices and statements.',
    },
    components: { securitySchemes: { session: { type: 'http' as const, scheme: 'bearer' } } },
    security: [{ session: [] }],
  },
  transform: jsonSchemaTransform,
  transformObject: jsonSchemaTransformObject,
};
