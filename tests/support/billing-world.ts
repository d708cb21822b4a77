import { loadAccountPricing, loadPriceBook } from '@grainwright/db';
import {
  type Day,
  day,
  type EstimatePrice,
  type EstimateRules,
  formatDecimal,
  type LineId,
  ok,
  priceEstimate,
  priceLine,
  taxSetupOn,
  termsInForce,
  type VehicleId,
  type VersionId,
  type VisitId,
  vehicleRules,
  type WorkOrderId,
} from '@grainwright/domain';
import postgres, { type TransactionSql } from 'postgres';
import { must } from './must.ts';
import type { Account } from './world-account.ts';

/** Accepted work, as write-up, approval and acceptance leave it behind. */
export interface AcceptedWork {
  readonly id: WorkOrderId;
  readonly visitId: VisitId;
  readonly lineIds: readonly LineId[];
}

export interface AcceptedWorkOptions {
  /** Codes of the price book; all approved. */
  readonly codes: readonly string[];
  readonly day?: string;
  readonly miles?: string;
  readonly afterHours?: boolean;
  /** The visit of another one, to be billed with it. */
  readonly sameVisitAs?: AcceptedWork;
  readonly ownNumber?: string;
  readonly roNumber?: string;
  readonly replacementMinor?: bigint;
  readonly state?: 'done' | 'accepted';
}

let written = 0;

/** Writes accepted work straight into the tables, priced by the price book as the estimate would be. */
export async function acceptedWork(account: Account, options: AcceptedWorkOptions): Promise<AcceptedWork> {
  const { world, tenantId } = account.business;
  written += 1;
  const on = day(options.day ?? '2026-08-05');
  const work = {
    id: world.newId<WorkOrderId>(),
    visitId: options.sameVisitAs?.visitId ?? world.newId<VisitId>(),
    lineIds: options.codes.map(() => world.newId<LineId>()),
  };
  const { price, rules } = await estimateOf(account, options, work, on);
  const sql = postgres(world.adminUrl, { max: 1, onnotice: () => undefined });
  try {
    const facts = { account, options, work, on, tenantId, price, rules, number: written };
    await sql.begin((tx) => writeAll(tx, facts));
  } finally {
    await sql.end({ timeout: 5 });
  }
  return work;
}

async function estimateOf(
  account: Account,
  options: AcceptedWorkOptions,
  work: AcceptedWork,
  on: Day,
): Promise<{ price: EstimatePrice; rules: EstimateRules }> {
  const { world, tenantId } = account.business;
  return must(
    await world.database.withTenant({ role: 'staff', tenantId }, async (tx) => {
      const book = await loadPriceBook(tx);
      const pricing = await loadAccountPricing(tx, account.id);
      const taxSetup = pricing && taxSetupOn(pricing.taxSetups, pricing.taxSetups[0]?.areaCode ?? '', on);
      if (!pricing || !taxSetup) throw new Error('the account has no prices or taxes');
      const terms = termsInForce(book.terms, on);
      const miles = { digits: BigInt(options.miles ?? '12'), scale: 0 };
      const rules: EstimateRules = {
        vehicle: vehicleRules(pricing.tier, terms),
        visit: { miles, afterHours: options.afterHours ?? false, walkIn: false },
        tier: pricing.tier,
        terms,
        taxSetup,
        certificates: pricing.certificates,
        taxRounding: { components: 'each', basis: 'invoice' },
      };
      const buyer = { tier: pricing.tier, accountPrices: pricing.accountPrices };
      const lines = options.codes.map((code, index) => {
        const lineId = work.lineIds[index] ?? world.newId<LineId>();
        return must(priceLine({ kind: 'code', lineId, code, careFactors: [] }, book, buyer, on));
      });
      const subject = { workOrderId: work.id, visitId: work.visitId, dateOfWork: on, label: 'vehicle' };
      return ok({ price: must(priceEstimate(lines, rules, subject)), rules });
    }),
  );
}

interface Facts {
  readonly account: Account;
  readonly options: AcceptedWorkOptions;
  readonly work: AcceptedWork;
  readonly on: Day;
  readonly tenantId: string;
  readonly price: EstimatePrice;
  readonly rules: EstimateRules;
  readonly number: number;
}

async function writeAll(sql: TransactionSql, facts: Facts): Promise<void> {
  const { account, options, work, tenantId, number } = facts;
  const { world, technician } = account.business;
  const vehicleId = world.newId<VehicleId>();
  const own = { tenant_id: tenantId, account_id: account.id };
  await sql`insert into vehicles ${sql({ ...own, id: vehicleId, last_eight: `ABCD${1000 + number}`, model_year: 2025, make: 'Ostra', model: 'Vela', color: 'gray' })}`;
  if (options.sameVisitAs === undefined)
    await sql`insert into visits ${sql({ ...own, id: work.visitId, site_id: await ownSite(sql, facts), technician_id: technician.personId, day: facts.on, miles: options.miles ?? '12', after_hours: options.afterHours ?? false, walk_in: false })}`;
  await sql`insert into work_orders ${sql({
    ...own,
    id: work.id,
    number: 500_000 + number,
    visit_id: work.visitId,
    vehicle_id: vehicleId,
    state: 'written_up',
    own_number: options.ownNumber ?? '',
    ro_number: options.roNumber ?? '',
    replacement_minor: options.replacementMinor?.toString() ?? null,
    written_up_at: world.services.now(),
  })}`;
  await writeEstimate(sql, facts);
  await writeAcceptance(sql, facts);
}

/** A visit is told from another by its place, technician and day, so each has a place of its own. */
async function ownSite(sql: TransactionSql, { account, tenantId, options, number }: Facts): Promise<string> {
  const id = account.business.world.newId();
  await sql`insert into sites ${sql({ tenant_id: tenantId, id, account_id: account.id, name: `Bay ${number}`, miles: options.miles ?? '12' })}`;
  return id;
}

async function writeEstimate(sql: TransactionSql, facts: Facts): Promise<void> {
  const { account, work, tenantId, price, rules, on } = facts;
  const { world, technician } = account.business;
  const versionId = world.newId<VersionId>();
  const decisionId = world.newId();
  const { vehicle, visit, invoice } = price;
  const sums = {
    repairs_minor: vehicle.repairsMinor.toString(),
    minimum_minor: (vehicle.minimum?.netMinor ?? 0n).toString(),
    after_hours_minor: (visit.afterHours?.amountMinor ?? 0n).toString(),
    trip_minor: (visit.trip?.amountMinor ?? 0n).toString(),
    tax_minor: invoice.totals.taxMinor.toString(),
    total_minor: invoice.totals.withTaxMinor.toString(),
  };
  const own = { tenant_id: tenantId, work_order_id: work.id };
  await sql`insert into estimate_versions ${sql({ ...own, ...sums, id: versionId, version: 1, content: '{}', digest: '0'.repeat(64), rate_day: on, expires_on: on, currency: 'USD', rules: sql.json(stored(rules)), made_by: technician.personId, made_at: world.services.now() })}`;
  await sql`insert into decisions ${sql({ ...own, ...sums, id: decisionId, account_id: account.id, version_id: versionId, digest: '0'.repeat(64), decided_by: account.approver.personId, decided_at: world.services.now(), compared_minor: price.limitMinor.toString() })}`;
  for (const [index, line] of vehicle.lines.entries()) {
    const workLine = {
      ...own,
      id: line.lineId,
      position: index + 1,
      part: 'tailgate lining',
      damage: 'cut',
      observation: 'none',
      inference: 'none',
      material: 'vinyl',
      rate_code: line.code,
      repairs_damage: true,
    };
    await sql`insert into work_order_lines ${sql(workLine)}`;
    const figures = {
      tenant_id: tenantId,
      line_id: line.lineId,
      further_percent: formatDecimal(line.furtherPercent),
      net_minor: line.netMinor.toString(),
      labor_minor: line.laborMinor.toString(),
      materials_minor: line.materialsMinor.toString(),
      trail: line.trail,
    };
    await sql`insert into estimate_lines ${sql({ ...figures, version_id: versionId, position: index + 1, code: line.code, repair: line.repair, description: 'tailgate lining', list_minor: line.listMinor.toString(), after_factor_minor: line.afterFactorMinor.toString(), before_further_minor: line.beforeFurtherMinor.toString(), before_further_trail: line.beforeFurtherTrail, takes_further_repair: line.takesFurtherRepair, materials_percent: formatDecimal(line.materialsPercent) })}`;
    await sql`insert into decision_lines ${sql({ ...figures, decision_id: decisionId, answer: 'approved' })}`;
  }
  await sql`update work_orders set current_version_id = ${versionId}, decision_id = ${decisionId}
    where tenant_id = ${tenantId} and id = ${work.id}`;
}

async function writeAcceptance(
  sql: TransactionSql,
  { account, work, tenantId, options }: Facts,
): Promise<void> {
  const { world, technician } = account.business;
  const state = options.state ?? 'accepted';
  if (state === 'accepted')
    await sql`insert into acceptances ${sql({ tenant_id: tenantId, id: world.newId(), work_order_id: work.id, outcome: 'accepted', signer_name: 'Orrin Vasek', signer_role: 'vehicle_owner', identified_by: 'in person', method: 'typed', shown: '{}', shown_digest: '0'.repeat(64), taken_by: technician.personId, accepted_at: world.services.now() })}`;
  await sql`update work_orders set state = ${state} where tenant_id = ${tenantId} and id = ${work.id}`;
}

/** As operations store it: whole minor units as an object of one key. */
function stored(value: unknown) {
  return JSON.parse(
    JSON.stringify(value, (_key, each: unknown) =>
      typeof each === 'bigint' ? { bigint: String(each) } : each,
    ),
  );
}
