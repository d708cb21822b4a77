import {
  addAccountGroup,
  addPurchaseOrder,
  changePurchaseOrder,
  endStandingApproval,
  listAccountGroups,
  listPurchaseOrders,
  listStandingApprovals,
  type Services,
  setStandingApproval,
} from '@grainwright/operations';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { unwrap } from '../../plugins/problem-error.ts';
import { actorOf } from '../../plugins/session.ts';
import { problemAnswer } from '../schemas.ts';
import { answerPurchaseOrder } from '../work-orders/consent-answers.ts';
import { answerStandingApproval } from './agreement-answers.ts';
import {
  accountGroupBody,
  accountGroupsAnswer,
  changePurchaseOrderBody,
  endBody,
  purchaseOrderBody,
  purchaseOrderParams,
  purchaseOrdersAnswer,
  standingApprovalBody,
  standingApprovalParams,
  standingApprovalsAnswer,
} from './agreement-schemas.ts';
import { accountParams, addedAnswer } from './schemas.ts';

const tags = ['Accounts'];

/** What is agreed with an account beforehand. Its contacts read their own account’s. */
export const agreementRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, options) => {
  await app.register(standingApprovalRoutes, options);
  await app.register(purchaseOrderRoutes, options);
  await app.register(groupRoutes, options);
};

const standingApprovalRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.get(
    '/accounts/:id/standing-approvals',
    {
      schema: {
        summary: 'What the account agreed to beforehand',
        tags,
        params: accountParams,
        response: { 200: standingApprovalsAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const list = unwrap(await listStandingApprovals(services, actorOf(request), request.params.id));
      return {
        standing_approvals: list.approvals.map((each) => answerStandingApproval(each, list.currency)),
      };
    },
  );
  app.post(
    '/accounts/:id/standing-approvals',
    {
      schema: {
        summary: 'Set a standing approval',
        description:
          'From then on an estimate within every limit is approved when it is sent. Compared are repairs with their minimum and after-hours, before trip and tax.',
        tags,
        params: accountParams,
        body: standingApprovalBody,
        response: { 201: addedAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { id, per_vehicle, per_visit, per_month, valid_from, valid_to, text } = request.body;
      const limits = { perVehicle: per_vehicle, perVisit: per_visit, perMonth: per_month };
      const dates = { validFrom: valid_from, validTo: valid_to };
      const input = { id, accountId: request.params.id, ...limits, ...dates, text };
      return reply.code(201).send(unwrap(await setStandingApproval(services, actorOf(request), input)));
    },
  );
  app.post(
    '/accounts/:id/standing-approvals/:approval_id/end',
    {
      schema: {
        summary: 'End a standing approval',
        description: 'What it approved stays approved.',
        tags,
        params: standingApprovalParams,
        body: endBody,
        response: { 200: addedAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const { id: accountId, approval_id: id } = request.params;
      const input = { id, accountId, validTo: request.body.valid_to };
      return unwrap(await endStandingApproval(services, actorOf(request), input));
    },
  );
};

const purchaseOrderRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.get(
    '/accounts/:id/purchase-orders',
    {
      schema: {
        summary: 'Purchase orders of an account, with what is left on each',
        tags,
        params: accountParams,
        response: { 200: purchaseOrdersAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const list = unwrap(await listPurchaseOrders(services, actorOf(request), request.params.id));
      return { purchase_orders: list.orders.map((each) => answerPurchaseOrder(each, list.currency)) };
    },
  );
  app.post(
    '/accounts/:id/purchase-orders',
    {
      schema: {
        summary: 'File a purchase order',
        tags,
        params: accountParams,
        body: purchaseOrderBody,
        response: { 201: addedAnswer, ...problemAnswer },
      },
    },
    async (request, reply) => {
      const { valid_from: validFrom, valid_to: validTo, ...order } = request.body;
      const input = { accountId: request.params.id, ...order, validFrom, validTo };
      return reply.code(201).send(unwrap(await addPurchaseOrder(services, actorOf(request), input)));
    },
  );
  app.put(
    '/accounts/:id/purchase-orders/:order_id',
    {
      schema: {
        summary: 'Change the cap or the last day of a purchase order',
        tags,
        params: purchaseOrderParams,
        body: changePurchaseOrderBody,
        response: { 200: addedAnswer, ...problemAnswer },
      },
    },
    async (request) => {
      const { id: accountId, order_id: id } = request.params;
      const { cap, valid_to: validTo, note } = request.body;
      const input = { id, accountId, cap, validTo, note };
      return unwrap(await changePurchaseOrder(services, actorOf(request), input));
    },
  );
};

const groupRoutes: FastifyPluginAsyncZod<{ services: Services }> = async (app, { services }) => {
  app.get(
    '/account-groups',
    {
      schema: {
        summary: 'Groups of accounts that one payer pays for together',
        tags,
        response: { 200: accountGroupsAnswer, ...problemAnswer },
      },
    },
    async (request) => ({ groups: [...unwrap(await listAccountGroups(services, actorOf(request)))] }),
  );
  app.post(
    '/account-groups',
    {
      schema: {
        summary: 'Add a group of accounts',
        tags,
        body: accountGroupBody,
        response: { 201: addedAnswer, ...problemAnswer },
      },
    },
    async (request, reply) =>
      reply.code(201).send(unwrap(await addAccountGroup(services, actorOf(request), request.body))),
  );
};
