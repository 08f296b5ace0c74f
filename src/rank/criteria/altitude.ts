import { numberAt } from '../../array.ts';
import {
  type AltitudeGround,
  type AltitudeHistory,
  columnOfGroup,
  columnOfSleep,
  countsHistory,
  isHighSummit,
  isLongRise,
  WMS_COLUMNS,
  type WmsColumn,
  wmsColumn,
} from '../../capability/altitude.ts';
import type { CohortInput } from '../../ingest/cohort-file.ts';
import type { AnyReason, Criterion } from '../criterion.ts';
import { type Missing, missingOf } from '../missing.ts';
import { answer, compare } from '../outcome.ts';
import { areMinors, partyOf } from '../party.ts';
import { LEAST_VALUE } from '../value.ts';
import { FITS, INCOMPLETE, RULED_OUT, STRETCH } from '../verdict.ts';

/** A rise above the highest recent point that is worth telling, metres (design). */
const RISE_TOLD_M = 50;

/** Value of a moderate risk (design). */
const MODERATE_VALUE = 0.5;

/** Nobody states the height of home: taken as low, the cautious end. */
const HOME_M = null;

export type AltitudeReason = AnyReason &
  (
    | { readonly code: 'unknown'; readonly missing: Missing }
    | {
        readonly code: WmsColumn;
        readonly grounds: readonly AltitudeGround[];
        /** How far the top lies above the highest point of everyone; `null`: hardly, or not known. */
        readonly riseM: number | null;
        /** Of these, what was assumed; the history is not asked for where the day stays low. */
        readonly isSleepStated: boolean;
        readonly isHistoryStated: boolean;
      }
  );

/** Where the group sleeps the night before; `null`: not stated. */
const lastNightM = ({ sleepElevationM, nightsM }: CohortInput): number | null =>
  sleepElevationM ?? nightsM?.at(-1) ?? null;

/** Risk of altitude illness by the night before (WMS 2024 columns); the rise above recent highs is told, never scored. */
export const altitude: Criterion<'altitude', AltitudeReason> = {
  name: 'altitude',
  unit: 'm',
  isShifted: false,
  over({ table: { columns }, request: { record, design } }) {
    const { cohort } = record;
    const { lowSleepM } = design.altitude;
    const night = lastNightM(cohort);
    const nights = cohort.nightsM ?? null;
    const isMinor = areMinors(partyOf(cohort));
    const rankOfGroup = (history: AltitudeHistory) => WMS_COLUMNS.indexOf(columnOfGroup(history, nights));
    const [group, groupHigh] = [rankOfGroup('none'), rankOfGroup(cohort.altitudeHistory ?? 'none')];
    return (i, _shift, out) => {
      const sleepM = night ?? numberAt(columns.trailheadM, i);
      const highM = numberAt(columns.highM, i);
      if (Number.isNaN(sleepM) || Number.isNaN(highM) || numberAt(columns.heightsMissing, i) === 1) {
        answer(out, 'unknown', INCOMPLETE, LEAST_VALUE);
        out.demand = sleepM;
        out.capacity = lowSleepM;
        return;
      }
      const summit = isHighSummit(highM, HOME_M, design.altitude) ? 1 : 0;
      const rise = isMinor && isLongRise(highM, sleepM, design.altitude) ? 1 : 0;
      const history = countsHistory(highM, design.altitude) ? groupHigh : group;
      const sleep = WMS_COLUMNS.indexOf(columnOfSleep(sleepM, design.altitude));
      const column = Math.max(history, summit, rise, sleep);
      if (column === 0) answer(out, 'low', FITS, 1);
      else if (column === 1) answer(out, 'moderate', STRETCH, MODERATE_VALUE);
      else answer(out, 'high', RULED_OUT, LEAST_VALUE);
      compare(out, sleepM, lowSleepM);
    };
  },
  reason({ facts, route }, { code, demand }) {
    const { highM } = route.measures;
    if (code === 'unknown' || highM === null) return { code: 'unknown', missing: missingOf(route) };
    const { record, design } = facts.request;
    const { cohort } = record;
    const { highestM } = facts.readiness.shown;
    const question = {
      sleepElevationM: demand,
      history: cohort.altitudeHistory ?? 'none',
      summitM: highM,
      homeM: HOME_M,
      nightsM: cohort.nightsM ?? null,
      isMinor: areMinors(partyOf(cohort)),
    };
    return {
      code: code as WmsColumn,
      grounds: wmsColumn(question, design.altitude).grounds,
      riseM: highestM !== null && highM > highestM + RISE_TOLD_M ? highM - highestM : null,
      isSleepStated: lastNightM(cohort) !== null,
      isHistoryStated: cohort.altitudeHistory != null || !countsHistory(highM, design.altitude),
    };
  },
};
