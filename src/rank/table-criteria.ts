import { CLEARANCES, managing, seatsFor, VEHICLES_ONE_WAY } from '../approach/vehicles.ts';
import { columnOfGroup, WMS_COLUMNS } from '../capability/altitude.ts';
import { shownGainOf } from '../capability/demonstrated.ts';
import { quantileOf } from '../capability/pace-model.ts';
import type { Design } from '../design.ts';
import { rockClassOrder } from '../ingest/rock-class.ts';
import { MS_PER_MIN } from '../units.ts';
import { chanceOf } from './chance.ts';
import { aimOutcome } from './criteria/aim.ts';
import { altitudeOutcome } from './criteria/altitude.ts';
import { daylightOutcome } from './criteria/daylight.ts';
import { driveOutcome } from './criteria/drive.ts';
import { partySizeOutcome } from './criteria/party-size.ts';
import { roadAccessOutcome } from './criteria/road-access.ts';
import { rockClassOutcome } from './criteria/rock-class.ts';
import { dayNumber, seasonOutcome, withinSpan } from './criteria/season.ts';
import { stormOutcome } from './criteria/storm-window.ts';
import type { CriterionName } from './criterion.ts';
import { FITS, INCOMPLETE, type Outcome, RULED_OUT, settle } from './outcome.ts';
import type { RankTable } from './rank-table.ts';
import type { FitRequest, Readiness } from './readiness.ts';
import type { TableDay } from './table-day.ts';
import { stretchLimit, trainedOutcome } from './trainable.ts';
import { LEAST_VALUE, ratioCurve } from './value.ts';

/** Answers one criterion for the route at `i`, into `out`. */
export type TableCriterion = (i: number, out: Outcome) => void;

/** Demand over capacity of what training changes, for the route at `i`; `NaN`: not known. */
export interface TableRatios {
  readonly distance: (i: number) => number;
  readonly gain: (i: number) => number;
  readonly effort: (i: number) => number;
}

const orderOf = (text: string | null | undefined): number =>
  text == null ? Number.NaN : rockClassOrder(text);

export function tableRatios(table: RankTable, readiness: Readiness, design: Design): TableRatios {
  const { distanceM, hasGap, gainM, gainHighM } = table.columns;
  const { shown, ageBand } = readiness;
  const workKj = table.effortKjOf(ageBand, design);
  const shownGainM = shownGainOf(shown.climbs);
  const unknown = () => Number.NaN;
  return {
    distance:
      shown.distanceM === null
        ? unknown
        : (
            (capacity) => (i) =>
              hasGap[i] === 1 ? Number.NaN : (distanceM[i] ?? 0) / capacity
          )(shown.distanceM.value),
    gain: (i) => {
      const value = gainM[i] ?? Number.NaN;
      const high = gainHighM[i] ?? Number.NaN;
      if (Number.isNaN(value)) return Number.NaN;
      return high / shownGainM(value > 0 ? high / value - 1 : 0);
    },
    effort:
      shown.effortKj === null
        ? unknown
        : (
            (capacity) => (i) =>
              Number.isNaN(gainM[i] ?? Number.NaN) ? Number.NaN : (workKj[i] ?? 0) / capacity
          )(shown.effortKj.value),
  };
}

/** The twelve questions as functions of a table's columns: the same answers as the criteria give in words. */
export function tableCriteria(
  table: RankTable,
  { record: { cohort }, date, design }: FitRequest,
  readiness: Readiness,
  day: TableDay,
  ratios: TableRatios,
): Readonly<Record<CriterionName, TableCriterion>> {
  const { columns } = table;
  const { shown, ageBand, pace } = readiness;
  const isKnown = (i: number): boolean => !Number.isNaN(columns.gainM[i] ?? Number.NaN);

  const limit = stretchLimit({ ageBand, design });
  const curve = ratioCurve(limit);
  const trained =
    (ratioAt: (i: number) => number): TableCriterion =>
    (i, out) => {
      const ratio = ratioAt(i);
      if (Number.isNaN(ratio)) settle(out, INCOMPLETE, LEAST_VALUE);
      else trainedOutcome(ratio, limit, curve, out);
    };

  const comfort = orderOf(cohort.comfortClass);
  const walked = orderOf(shown.rockClass?.text);
  const target = design.aim[cohort.aim ?? 'comfort'];

  const lastNightM = cohort.sleepElevationM ?? cohort.nightsM?.at(-1) ?? Number.NaN;
  const group = WMS_COLUMNS.indexOf(columnOfGroup(cohort.altitudeHistory ?? 'none', cohort.nightsM ?? null));

  const { degreesOfFreedom } = pace.posterior;
  const late = quantileOf(0.9, degreesOfFreedom);
  const chance = chanceOf(degreesOfFreedom);

  const home = cohort.home == null ? null : { lonDeg: cohort.home.lon, latDeg: cohort.home.lat };
  const straightKm = home === null ? null : table.straightKmFrom(home);
  const driveCurve = ratioCurve(design.limits.driveStretch);
  const drive = {
    roadKm: 0,
    roadMin: 0,
    isKmEstimated: true,
    isMinEstimated: true,
    limitKm: cohort.driveLimit?.km ?? Number.NaN,
    limitMin: cohort.driveLimit?.minutes ?? Number.NaN,
  };

  const party = cohort.participants + (cohort.leaders ?? 1);
  const vehicles = cohort.vehicles ?? [];
  const seats = CLEARANCES.map((clearance) =>
    vehicles.length === 0 ? Number.NaN : seatsFor(clearance, vehicles),
  );
  const count = CLEARANCES.map((clearance) => managing(clearance, vehicles));
  const today = dayNumber(date);

  return {
    distance: trained(ratios.distance),
    gain: trained(ratios.gain),
    effort: trained(ratios.effort),

    rockClass: (i, out) => rockClassOutcome(columns.rockClassOrder[i] ?? Number.NaN, comfort, walked, out),

    altitude: (i, out) => {
      const sleepM = Number.isNaN(lastNightM) ? (columns.trailheadM[i] ?? Number.NaN) : lastNightM;
      const highM = columns.highM[i] ?? Number.NaN;
      if (Number.isNaN(sleepM) || Number.isNaN(highM) || columns.heightsMissing[i] === 1)
        settle(out, INCOMPLETE, LEAST_VALUE);
      else altitudeOutcome(sleepM, highM, group, design.altitude, out);
    },

    stormWindow: (i, out) => {
      const isOpenEnd = columns.endsAbove[i] === 1 && columns.isOneWay[i] === 1;
      if (!isKnown(i) || columns.isTreelineKnown[i] !== 1) settle(out, INCOMPLETE, LEAST_VALUE);
      else if (columns.hasExit[i] !== 1) settle(out, FITS, 1);
      else if (isOpenEnd) settle(out, INCOMPLETE, LEAST_VALUE);
      else {
        const earliestMs = day.earliestStartMs[i] ?? 0;
        const spareMin = ((day.latestStartMs[i] ?? 0) - earliestMs) / MS_PER_MIN;
        const untilMin = ((day.deadlineMs[i] ?? 0) - earliestMs) / MS_PER_MIN;
        const deviate = (untilMin - (day.exitMeanMin[i] ?? 0)) / (day.exitScaleMin[i] ?? 1);
        stormOutcome(spareMin, spareMin >= 0 ? Number.NaN : chance(deviate), design.stormWindow, out);
      }
    },

    daylight: (i, out) => {
      const duskMs = day.civilDuskMs[i] ?? Number.NaN;
      if (!isKnown(i)) settle(out, INCOMPLETE, LEAST_VALUE);
      else if (day.polar[i] === -1) settle(out, RULED_OUT, LEAST_VALUE);
      else if (day.polar[i] === 1 || Number.isNaN(duskMs)) settle(out, FITS, 1);
      else {
        const { beforeDuskMin } = design.daylight;
        const untilDuskMin = (duskMs - (day.startMs[i] ?? 0)) / MS_PER_MIN;
        const takesMin = late(day.endMeanMin[i] ?? 0, day.endScaleMin[i] ?? 0);
        daylightOutcome(untilDuskMin - beforeDuskMin - takesMin, beforeDuskMin, out);
      }
    },

    drive: (i, out) => {
      const statedKm = columns.roadKm[i] ?? Number.NaN;
      const statedMin = columns.roadMin[i] ?? Number.NaN;
      drive.isKmEstimated = Number.isNaN(statedKm);
      drive.isMinEstimated = Number.isNaN(statedMin);
      const estimateKm = (straightKm?.[i] ?? Number.NaN) * design.drive.circuityMountain;
      drive.roadKm = drive.isKmEstimated ? estimateKm : statedKm;
      drive.roadMin = drive.isMinEstimated ? (drive.roadKm / design.drive.kmPerH) * 60 : statedMin;
      driveOutcome(drive, design.limits, driveCurve, out);
    },

    roadAccess: (i, out) => {
      const clearance = columns.clearance[i] ?? Number.NaN;
      const isStated = !Number.isNaN(clearance);
      const isAsked = !isStated || columns.isRoadAsked[i] === 1;
      roadAccessOutcome(
        columns.isRoadClosed[i] === 1,
        isAsked,
        seats[isStated ? clearance : 0] ?? Number.NaN,
        party,
        columns.needsSecondVehicle[i] === 1 && (count[isStated ? clearance : 0] ?? 0) < VEHICLES_ONE_WAY,
        out,
      );
    },

    partySize: (i, out) => partySizeOutcome(party, columns.partyLimit[i] ?? Number.NaN, out),

    season: (i, out) => {
      let isClosed = false;
      for (let c = table.closuresFrom[i] ?? 0; c < (table.closuresFrom[i + 1] ?? 0); c += 1) {
        if (withinSpan(today, table.closures[2 * c] ?? 0, table.closures[2 * c + 1] ?? 0)) isClosed = true;
      }
      const from = table.seasonFrom[i] ?? Number.NaN;
      const isIn = Number.isNaN(from) ? null : withinSpan(today, from, table.seasonTo[i] ?? 0);
      seasonOutcome(isClosed, isIn, out);
    },

    aim: (i, out) => aimOutcome(ratios.effort(i), target, out),
  };
}
