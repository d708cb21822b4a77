import { formatDecimal, formatMinor } from '@grainwright/domain';
import {
  type BusinessView,
  changeBusinessSettings,
  logoBytesMax,
  openLogo,
  readBusinessSettings,
  removeLogo,
  type Services,
  setLogo,
} from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { takeUpload } from '../../plugins/photo-upload.ts';
import { ProblemError, unwrap } from '../../plugins/problem-error.ts';
import { heldDigest, sendPhoto } from '../../plugins/send-photo.ts';
import { actorOf } from '../../plugins/session.ts';
import { problemAnswer } from '../schemas.ts';
import { businessAnswer, businessBody } from './schemas.ts';

interface BusinessRouteOptions {
  readonly services: Services;
  readonly temporaryFolder: string;
}

const tags = ['Business'];
const response = { 200: businessAnswer, ...problemAnswer };

export const businessRoutes: FastifyPluginAsyncZod<BusinessRouteOptions> = async (app, options) => {
  const { services } = options;
  app.get(
    '/business',
    { schema: { summary: 'Read the business’s settings (owner only)', tags, response } },
    async (request) => answerBusiness(unwrap(await readBusinessSettings(services, actorOf(request)))),
  );
  app.put(
    '/business',
    {
      schema: {
        summary: 'Change the business’s settings, all at once',
        description: 'On tax and late charges your licensed adviser decides. What was issued stays as it is.',
        tags,
        body: businessBody,
        response,
      },
    },
    async (request) => {
      const { body } = request;
      const changed = await changeBusinessSettings(services, actorOf(request), {
        revision: body.revision,
        name: body.name,
        address: body.address,
        phone: body.phone,
        email: body.email,
        documentNote: body.document_note,
        estimateValidDays: body.estimate_valid_days,
        smallDifference: body.small_difference,
        returnFee: body.return_fee,
        lateChargePercent: body.late_charge_percent,
        lateChargeGraceDays: body.late_charge_grace_days,
        writeOffReclaimsTax: body.write_off_reclaims_tax,
        duplicateDays: body.duplicate_days,
        comebackDays: body.comeback_days,
        warrantyDays: body.warranty_days,
        acceptanceLinkDays: body.acceptance_link_days,
        acceptanceCopyDays: body.acceptance_copy_days,
        certificateWarningDays: body.certificate_warning_days,
        pageSize: body.page_size,
      });
      return answerBusiness(unwrap(changed));
    },
  );
  await app.register(logoRoutes, options);
};

const logoRoutes: FastifyPluginAsyncZod<BusinessRouteOptions> = async (app, options) => {
  const { services, temporaryFolder } = options;
  app.get(
    '/business/logo',
    {
      schema: {
        summary: 'The business’s logo',
        tags,
        response: { 200: z.any().meta({ description: 'The image.' }), ...problemAnswer },
      },
    },
    async (request, reply) =>
      sendPhoto(reply, unwrap(await openLogo(services, actorOf(request), heldDigest(request)))),
  );
  app.put(
    '/business/logo',
    {
      schema: {
        summary: 'Set the business’s logo',
        description: 'multipart/form-data with one file: PNG or JPEG of at most 1 MB.',
        tags,
        consumes: ['multipart/form-data'],
        response,
      },
    },
    async (request) => {
      const actor = actorOf(request);
      const changed = await takeUpload(request, logoBytesMax, async ({ file }) => {
        if (file === null)
          throw new ProblemError({ code: 'invalid_input', detail: 'Send one file.', field: 'logo' });
        return unwrap(await setLogo(services, actor, { ...file, directory: temporaryFolder }));
      });
      return answerBusiness(changed);
    },
  );
  app.delete(
    '/business/logo',
    { schema: { summary: 'Take the business’s logo off', tags, response } },
    async (request) => answerBusiness(unwrap(await removeLogo(services, actorOf(request)))),
  );
};

function answerBusiness(business: BusinessView): z.input<typeof businessAnswer> {
  const { currency } = business;
  return {
    id: business.tenantId,
    revision: business.settingsRevision,
    name: business.name,
    address: business.address,
    phone: business.phone,
    email: business.email,
    document_note: business.documentNote,
    estimate_valid_days: String(business.estimateValidDays),
    small_difference: formatMinor(business.smallDifferenceMinor, currency),
    return_fee: formatMinor(business.returnFeeMinor, currency),
    late_charge_percent: formatDecimal(business.lateChargePercent),
    late_charge_grace_days: String(business.lateChargeGraceDays),
    write_off_reclaims_tax: business.writeOffReclaimsTax,
    duplicate_days: String(business.duplicateDays),
    comeback_days: String(business.comebackDays),
    warranty_days: String(business.warrantyDays),
    acceptance_link_days: String(business.acceptanceLinkDays),
    acceptance_copy_days: String(business.acceptanceCopyDays),
    certificate_warning_days: String(business.certificateWarningDays),
    page_size: business.pageSize,
    currency,
    time_zone: business.timeZone,
    invoice_prefix: business.invoicePrefix,
    credit_note_prefix: business.creditNotePrefix,
    fee_prefix: business.feePrefix,
    tax_components: business.taxComponents,
    tax_basis: business.taxBasis,
    aging_basis: business.agingBasis,
    logo_sha256: business.logoKey === null ? null : business.logoKey.slice(-64),
  };
}
