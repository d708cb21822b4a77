import {
  applyCreditNote,
  type ChargeToCredit,
  issueCreditNote,
  type LineToCredit,
  listCreditNotes,
  previewCreditNote,
  readCreditNote,
  type Services,
} from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import type { z } from 'zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { problemAnswer } from '../schemas.ts';
import { answerCreditNote, answerCreditNotes, answerPreview } from './answers.ts';
import {
  applyBody,
  creditNoteAnswer,
  creditNoteBody,
  creditNoteParams,
  creditNotesAnswer,
  creditNotesQuery,
  previewAnswer,
  previewBody,
} from './schemas.ts';

const tags = ['Credit notes'];

export const creditNoteRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.post(
    '/credit-notes/preview',
    {
      schema: {
        summary: 'See what a credit note would come to, line by line',
        tags,
        body: previewBody,
        response: { 200: previewAnswer, ...problemAnswer },
      },
    },
    async (request) =>
      answerPreview(unwrap(await previewCreditNote(services, actorOf(request), askedOf(request.body)))),
  );
  app.post(
    '/credit-notes',
    {
      schema: {
        summary: 'Issue a credit note on an invoice',
        description:
          'The credit is what stands of the invoice less what it comes to with the corrections, everything else frozen: no trip or minimum comes back. Sent again with the same id and content, it answers as the first time.',
        tags,
        body: creditNoteBody,
        response: { 201: creditNoteAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const asked = { creditNoteId: request.body.id, ...askedOf(request.body) };
      const issued = await issueCreditNote(services, actorOf(request), asked);
      return reply.code(201).send(answerCreditNote(unwrap(issued)));
    },
  );
  await app.register(readRoutes, { services });
  app.post(
    '/credit-notes/:id/applications',
    {
      schema: {
        summary: 'Settle an invoice of the account with what a credit note has left',
        tags,
        params: creditNoteParams,
        body: applyBody,
        response: { 201: creditNoteAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { id: applicationId, invoice_id: invoiceId, amount } = request.body;
      const input = { applicationId, creditNoteId: request.params.id, invoiceId, amount };
      return reply
        .code(201)
        .send(answerCreditNote(unwrap(await applyCreditNote(services, actorOf(request), input))));
    },
  );
};

const readRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.get(
    '/credit-notes',
    {
      schema: {
        summary: 'List credit notes, newest first',
        tags,
        querystring: creditNotesQuery,
        response: { 200: creditNotesAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const { account_id: accountId = null, before } = request.query;
      const input = { accountId, past: before === undefined ? null : BigInt(before) };
      return answerCreditNotes(unwrap(await listCreditNotes(services, actorOf(request), input)));
    },
  );
  app.get(
    '/credit-notes/:id',
    {
      schema: {
        summary: 'Read a credit note',
        tags,
        params: creditNoteParams,
        response: { 200: creditNoteAnswer, ...problemAnswer },
      },
    },
    async (request) =>
      answerCreditNote(unwrap(await readCreditNote(services, actorOf(request), request.params.id))),
  );
};

type Asked = z.output<typeof previewBody>;

function askedOf(body: Asked) {
  return {
    invoiceId: body.invoice_id,
    reason: body.reason,
    lines: body.lines.map(lineOf),
    charges: body.charges.map(chargeOf),
    certificateIds: body.certificate_ids,
    issuedOn: body.issued_on ?? null,
    apply: body.apply,
  };
}

function lineOf(line: Asked['lines'][number]): LineToCredit {
  const lineId = line.line_id;
  switch (line.kind) {
    case 'dropped':
      return { kind: 'dropped', lineId };
    case 'reduced':
      return { kind: 'reduced', lineId, net: line.net };
    case 'repriced':
      return { kind: 'repriced', lineId, measuredInches: line.measured_inches, rateCode: line.rate_code };
  }
}

function chargeOf(charge: Asked['charges'][number]): ChargeToCredit {
  switch (charge.kind) {
    case 'after_hours':
    case 'rush':
    case 'visit_minimum':
    case 'trip':
      return { kind: charge.kind, visitId: charge.visit_id };
    case 'minimum':
      return { kind: 'minimum', workOrderId: charge.work_order_id };
    case 'fee':
      return {
        kind: 'fee',
        label: charge.label,
        workOrderId: charge.work_order_id,
        visitId: charge.visit_id,
      };
  }
}
