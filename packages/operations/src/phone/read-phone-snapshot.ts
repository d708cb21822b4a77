import {
  listAcceptances,
  listKeyTests,
  listPlaces,
  listRulesOfAccounts,
  listSeamReleases,
  listStopPoints,
  listStops,
  listWarnedPhotos,
  listWorkOrderLines,
  loadPriceBook,
  type PlaceRow,
} from '@grainwright/db';
import {
  type AccountId,
  allows,
  formatDecimal,
  ok,
  type Rate,
  type Result,
  standingWords,
  type WorkOrderId,
  type WorkOrderState,
} from '@grainwright/domain';
import { type Actor, performAsStaff, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { choicesIn } from '../work-orders/list-repair-choices.ts';
import { loadStops, type StopView } from '../work-orders/load-stops.ts';
import { type OpenedWork, readWork } from '../work-orders/work-lines.ts';
import { billedBand } from '../work-orders/worked-lines.ts';
import type {
  PhoneLine,
  PhonePlace,
  PhoneRepair,
  PhoneRules,
  PhoneSnapshot,
  PhoneStop,
  PhoneWorkOrder,
} from './phone-snapshot.ts';

const stopsMax = 60;
const placesMax = 500;
const workOrdersMax = 60;

/** What the actor’s phone takes along today, for where there is no signal. */
export function readPhoneSnapshot(services: Services, actor: Actor): Promise<Result<PhoneSnapshot>> {
  return performAsStaff(services, actor, 'see_work_orders', async (scope) => {
    const { tx, today, business, member } = scope;
    const stops = await loadStops(
      scope,
      await listStops(tx, { technicianId: actor.personId, day: today }, stopsMax),
    );
    const places = allows(member.role, 'write_up') ? await listPlaces(tx, today, placesMax) : [];
    const rules = await rulesOf(scope, [
      ...places.map(({ accountId }) => accountId),
      ...stops.map(({ account }) => account.id),
    ]);
    const { repairs, factors } = await pricesOf(scope);
    return ok({
      takenAt: scope.now,
      today,
      person: { tenantId: actor.tenantId, id: member.personId, name: member.name, role: member.role },
      business: {
        name: business.name,
        phone: business.phone,
        currency: business.currency,
        timeZone: business.timeZone,
      },
      stops: stops.map(stopOf),
      places: places.map((place) => placeOf(place, rules)),
      repairs,
      factors,
      workOrders: await openWorkOrders(scope, stops, rules),
    });
  });
}

type Rules = ReadonlyMap<AccountId, PhoneRules>;

async function rulesOf({ tx, today, business }: Scope, ids: readonly AccountId[]): Promise<Rules> {
  const rows = await listRulesOfAccounts(tx, [...new Set(ids)], today);
  return new Map(
    rows.map(({ account, standing }) => [
      account.id,
      {
        photoRule: account.photoRule,
        acceptanceRule: account.acceptanceRule,
        showsPricesAtAcceptance: account.showsPricesAtAcceptance,
        standing: standing === null ? null : standingWords(standing, business.currency),
      },
    ]),
  );
}

function rulesIn(rules: Rules, id: AccountId): PhoneRules {
  const own = rules.get(id);
  if (own === undefined) throw new Error(`no rules of account ${id}`);
  return own;
}

function stopOf({ account, site, ...stop }: StopView): PhoneStop {
  const { visitId, day, position, afterHours, rush, phone } = stop;
  return {
    visitId,
    day,
    position,
    accountId: account.id,
    accountName: account.name,
    siteId: site.id,
    siteName: site.name,
    siteAddress: site.address,
    afterHours,
    rush,
    phone,
  };
}

function placeOf(place: PlaceRow, rules: Rules): PhonePlace {
  const { accountId, accountName, accountKind, siteId, siteName, siteAddress, openedOn, endedOn } = place;
  const { ownNumberKind, ownNumberRequired, requiresRo, requiresPo } = place;
  return {
    accountId,
    accountName,
    accountKind,
    siteId,
    siteName,
    siteAddress,
    ownNumberKind,
    ownNumberRequired,
    requiresRo,
    requiresPo,
    openedOn,
    endedOn,
    rules: rulesIn(rules, accountId),
  };
}

/** Whoever may not see the price book writes up without it, and the office prices. */
async function pricesOf({ tx, today, member, business }: Scope): Promise<{
  readonly repairs: readonly PhoneRepair[];
  readonly factors: PhoneSnapshot['factors'];
}> {
  if (!allows(member.role, 'see_price_book')) return { repairs: [], factors: [] };
  const book = await loadPriceBook(tx);
  const { families, factors } = choicesIn(book, today, business.currency);
  const mends = new Map(book.rates.map(({ family, repairsDamage }) => [family, repairsDamage]));
  return {
    repairs: families.map(({ family, measured, rates }) => ({
      family,
      measured,
      repairsDamage: mends.get(family) ?? true,
      rates: rates.map(({ code, repair, overInches, toInches, part, material, listMinor }) => ({
        code,
        repair,
        overInches: overInches === null ? null : formatDecimal(overInches),
        toInches: toInches === null ? null : formatDecimal(toInches),
        part,
        material,
        listMinor: listMinor.toString(),
      })),
    })),
    factors: factors.map(({ code, name, percent }) => ({ code, name, percent: formatDecimal(percent) })),
  };
}

const open: readonly WorkOrderState[] = ['written_up', 'awaiting_approval', 'approved', 'in_work', 'done'];

/** Those of today’s stops that something is left to do on, each read by itself: a day has few. */
async function openWorkOrders(
  scope: Scope,
  stops: readonly StopView[],
  rules: Rules,
): Promise<readonly PhoneWorkOrder[]> {
  const { rates } = await loadPriceBook(scope.tx);
  const ids = stops.flatMap(({ workOrders }) =>
    workOrders.filter(({ state }) => open.includes(state)).map(({ id }) => id),
  );
  const read: PhoneWorkOrder[] = [];
  for (const id of ids.slice(0, workOrdersMax)) {
    const work = await readWork(scope, id);
    const stop = stops.find(({ workOrders }) => workOrders.some((each) => each.id === id));
    if (work.ok && stop !== undefined)
      read.push(await workOrderOf(scope, work.value, { stop, rules, rates }));
  }
  return read;
}

/** What is read once for all work orders of a day. */
interface Surroundings {
  readonly rules: Rules;
  readonly rates: readonly Rate[];
}

async function workOrderOf(
  { tx }: Scope,
  work: OpenedWork,
  { stop, rules, rates }: Surroundings & { readonly stop: StopView },
): Promise<PhoneWorkOrder> {
  const { workOrder, vehicle, account } = work;
  const id: WorkOrderId = workOrder.id;
  const stopPoints = (await listStopPoints(tx, id)).filter(({ shown }) => shown);
  const releases = await listSeamReleases(tx, id);
  const keyTests = await listKeyTests(tx, id);
  const stored = await listWorkOrderLines(tx, id);
  const newest = (await listAcceptances(tx, id)).at(-1);
  const { vin, lastEight, modelYear, make, model, color } = workOrder.vehicleAsWritten ?? vehicle;
  const { holdReason, ownNumber, roNumber, poNumber, ownerName } = workOrder;
  return {
    id,
    number: workOrder.number.toString(),
    state: workOrder.state,
    holdReason,
    accountId: account.id,
    accountName: account.name,
    accountKind: account.kind,
    rules: rulesIn(rules, account.id),
    visitId: workOrder.visitId,
    day: stop.day,
    vehicle: { vin, lastEight, modelYear, make, model, color },
    ownNumberKind: account.ownNumberKind,
    ownNumber,
    roNumber,
    poNumber,
    ownerName,
    isRework: workOrder.reworkOfId !== null,
    versionId: work.approved?.versionId ?? workOrder.currentVersionId,
    lines: stored.map((row) => {
      const known = work.lines.find((line) => line.id === row.id);
      return {
        id: row.id,
        part: row.part,
        side: row.side,
        damage: row.damage,
        observation: row.observation,
        material: row.material,
        overruleReason: row.overruleReason,
        methods: row.methods,
        family: row.family,
        repairsDamage: row.repairsDamage,
        layers: row.layers,
        measuredInches: row.measuredInches === null ? null : formatDecimal(row.measuredInches),
        answer: known?.answer ?? null,
        keyTest: known?.keyTest ?? null,
        billedBand: bandOf(billedBand(rates, known?.code ?? null, work.approved?.rateDay ?? null)),
      };
    }),
    photos: work.photos.map(({ id: photoId, lineId, purpose, sha256 }) => ({
      id: photoId,
      lineId,
      purpose,
      sha256,
    })),
    warned: await listWarnedPhotos(tx, id),
    recorded: work.recordings.map(({ kind }) => kind),
    stopPoints: stopPoints.map(({ lineId, photoId, note }) => ({ lineId, photoId, note })),
    releasedLines: releases.map(({ lineId }) => lineId),
    testedKeys: keyTests.map(({ lineId }) => lineId),
    notAccepted: newest?.outcome === 'not_accepted',
    airbagLampBefore: workOrder.airbagLampBefore,
  };
}

function bandOf(band: Rate['band']): PhoneLine['billedBand'] {
  return band && { overInches: formatDecimal(band.overInches), toInches: formatDecimal(band.toInches) };
}
