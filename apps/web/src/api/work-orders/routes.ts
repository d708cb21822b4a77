import {
  addLine,
  changeLine,
  changeWriteUp,
  giveNumbers,
  type LineInput,
  listRepairChoices,
  listWorkOrders,
  readWorkOrder,
  removeLine,
  reviseEstimate,
  type Services,
  submitEstimate,
  type WriteUpInput,
  writeUp,
} from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import type { z } from 'zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { problemAnswer } from '../schemas.ts';
import { answerChoices, answerList, answerWorkOrder } from './answers.ts';
import { repeatRoutes } from './repeat-routes.ts';
import {
  addLineBody,
  changeLineBody,
  changeWriteUpBody,
  choicesAnswer,
  dayQuery,
  givenNumbersBody,
  type lineBody,
  lineParams,
  listAnswer,
  listQuery,
  reviseBody,
  submitBody,
  workOrderAnswer,
  workOrderParams,
  writeUpBody,
  writtenUpAnswer,
} from './schemas.ts';

const tags = ['Work orders'];
const okAnswer = { 200: workOrderAnswer, ...problemAnswer };
const madeAnswer = { 201: workOrderAnswer, ...problemAnswer };

/** Work orders from the write-up to the estimate that is sent, and what everybody reads of them. */
export const workOrderRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, options) => {
  await app.register(readingRoutes, options);
  await app.register(writeUpRoutes, options);
  await app.register(numberRoutes, options);
  await app.register(lineRoutes, options);
  await app.register(repeatRoutes, options);
  await app.register(estimateRoutes, options);
};

const readingRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.get(
    '/work-orders',
    {
      schema: {
        summary: 'List work orders, newest first',
        description: 'Technicians find those of their own visits, contacts those of their account.',
        tags,
        querystring: listQuery,
        response: { 200: listAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const { state, waits_for, account_id, text, below } = request.query;
      const list = await listWorkOrders(services, actorOf(request), {
        state,
        waitsFor: waits_for,
        accountId: account_id,
        text,
        below: below === undefined ? undefined : BigInt(below),
      });
      return answerList(unwrap(list));
    },
  );
  app.get(
    '/work-orders/:id',
    { schema: { summary: 'Read a work order', tags, params: workOrderParams, response: okAnswer } },
    async (request) =>
      answerWorkOrder(unwrap(await readWorkOrder(services, actorOf(request), request.params.id))),
  );
  app.get(
    '/repair-choices',
    {
      schema: {
        summary: 'What a line can be billed as',
        tags,
        querystring: dayQuery,
        response: { 200: choicesAnswer, ...problemAnswer },
      },
    },
    async (request) =>
      answerChoices(unwrap(await listRepairChoices(services, actorOf(request), { day: request.query.day }))),
  );
};

const writeUpRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.post(
    '/work-orders',
    {
      schema: {
        summary: 'Write up a vehicle',
        tags,
        body: writeUpBody,
        response: { 201: writtenUpAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const written = await writeUp(services, actorOf(request), writeUpOf(request.body));
      const { workOrderId, number, warnings } = unwrap(written);
      return reply.code(201).send({ id: workOrderId, number: number.toString(), warnings: [...warnings] });
    },
  );
  app.patch(
    '/work-orders/:id',
    {
      schema: {
        summary: 'Complete or correct a write-up',
        description: 'What is left out stays; empty text takes it away.',
        tags,
        params: workOrderParams,
        body: changeWriteUpBody,
        response: okAnswer,
      },
    },
    async (request) => {
      const { body } = request;
      const changed = await changeWriteUp(services, actorOf(request), {
        workOrderId: request.params.id,
        ...(body.own_number === undefined ? {} : { ownNumber: body.own_number }),
        ...(body.ro_number === undefined ? {} : { roNumber: body.ro_number }),
        ...(body.po_number === undefined ? {} : { poNumber: body.po_number }),
        ...(body.owner_name === undefined ? {} : { ownerName: body.owner_name }),
        ...(body.owner_phone === undefined ? {} : { ownerPhone: body.owner_phone }),
        ...(body.odometer_miles === undefined ? {} : { odometerMiles: String(body.odometer_miles) }),
        ...(body.replacement === undefined ? {} : { replacement: body.replacement }),
        ...(body.replacement_note === undefined ? {} : { replacementNote: body.replacement_note }),
      });
      return answerWorkOrder(unwrap(changed));
    },
  );
};

function writeUpOf(body: z.output<typeof writeUpBody>): WriteUpInput {
  const { id, visit_id, account_id, site_id, day, after_hours, rush, ...words } = body;
  return {
    id,
    visitId: visit_id,
    accountId: account_id,
    siteId: site_id,
    day,
    afterHours: after_hours,
    rush,
    vin: words.vin,
    lastEight: words.last_eight,
    modelYear: String(words.model_year),
    make: words.make,
    model: words.model,
    color: words.color,
    ownNumber: words.own_number,
    roNumber: words.ro_number,
    poNumber: words.po_number,
    ownerName: words.owner_name,
    ownerPhone: words.owner_phone,
    odometerMiles: String(words.odometer_miles),
    replacement: words.replacement,
    replacementNote: words.replacement_note,
    vehicleId: words.vehicle_id,
    anotherDamage: words.another_damage,
  };
}

const numberRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.post(
    '/work-orders/:id/numbers',
    {
      schema: {
        summary: 'Give the numbers that your account still owes',
        description:
          'For approvers and payers of the account. Numbers that are there stay; empty text says nothing.',
        tags,
        params: workOrderParams,
        body: givenNumbersBody,
        response: okAnswer,
      },
    },
    async (request) => {
      const { own_number, ro_number, po_number } = request.body;
      const numbers = { ownNumber: own_number, roNumber: ro_number, poNumber: po_number };
      const input = { workOrderId: request.params.id, ...numbers };
      return answerWorkOrder(unwrap(await giveNumbers(services, actorOf(request), input)));
    },
  );
};

const lineRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.post(
    '/work-orders/:id/lines',
    {
      schema: {
        summary: 'Add a line',
        tags,
        params: workOrderParams,
        body: addLineBody,
        response: madeAnswer,
      },
    },
    async (request, reply) => {
      const { id: lineId, another_damage: anotherDamage, ...line } = request.body;
      const input = { lineId, workOrderId: request.params.id, line: lineOf(line), anotherDamage };
      return reply.code(201).send(answerWorkOrder(unwrap(await addLine(services, actorOf(request), input))));
    },
  );
  app.put(
    '/work-orders/:id/lines/:line_id',
    {
      schema: {
        summary: 'Change a line',
        tags,
        params: lineParams,
        body: changeLineBody,
        response: okAnswer,
      },
    },
    async (request) => {
      const { id, line_id } = request.params;
      const { another_damage: anotherDamage, ...line } = request.body;
      const input = { lineId: line_id, workOrderId: id, line: lineOf(line), anotherDamage };
      return answerWorkOrder(unwrap(await changeLine(services, actorOf(request), input)));
    },
  );
  app.delete(
    '/work-orders/:id/lines/:line_id',
    { schema: { summary: 'Take a line away', tags, params: lineParams, response: okAnswer } },
    async (request) => {
      const { id, line_id } = request.params;
      const input = { workOrderId: id, lineId: line_id };
      return answerWorkOrder(unwrap(await removeLine(services, actorOf(request), input)));
    },
  );
};

const estimateRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.post(
    '/work-orders/:id/estimate',
    {
      schema: {
        summary: 'Send the estimate for approval',
        tags,
        params: workOrderParams,
        body: submitBody,
        response: madeAnswer,
      },
    },
    async (request, reply) => {
      const input = { workOrderId: request.params.id, versionId: request.body.id };
      return reply
        .code(201)
        .send(answerWorkOrder(unwrap(await submitEstimate(services, actorOf(request), input))));
    },
  );
  app.post(
    '/work-orders/:id/estimate/revision',
    {
      schema: {
        summary: 'Put a new version in place of the estimate that was sent',
        description:
          'A line that is added needs a before picture of the vehicle as a whole, since the line itself could not be photographed yet.',
        tags,
        params: workOrderParams,
        body: reviseBody,
        response: madeAnswer,
      },
    },
    async (request, reply) => {
      const { id, added, changed, removed, floor_reason: floorReason } = request.body;
      const written = ({
        id: lineId,
        another_damage: anotherDamage,
        ...line
      }: z.infer<typeof addLineBody>) => ({
        lineId,
        line: lineOf(line),
        anotherDamage,
      });
      const revised = await reviseEstimate(services, actorOf(request), {
        workOrderId: request.params.id,
        versionId: id,
        added: added.map(written),
        changed: changed.map(written),
        removed,
        ...(floorReason === '' ? {} : { floorReason }),
      });
      return reply.code(201).send(answerWorkOrder(unwrap(revised)));
    },
  );
};

function lineOf(body: z.infer<typeof lineBody>): LineInput {
  return {
    part: body.part,
    side: body.side,
    damage: body.damage,
    visibleWhen: body.visible_when,
    observation: body.observation,
    looksLike: body.looks_like,
    overruledMaterial: body.overruled_material,
    overruleReason: body.overrule_reason,
    methods: body.methods,
    measuredInches: body.measured_inches,
    family: body.family,
    rateCode: body.rate_code,
    factorCode: body.factor_code,
    byHandPrice: body.by_hand_price,
    byHandReason: body.by_hand_reason,
    byHandMaterialsPercent: body.by_hand_materials_percent,
    note: body.note,
  };
}
