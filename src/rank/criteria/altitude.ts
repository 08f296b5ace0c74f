import { columnOfSleep, isHighSummit, WMS_COLUMNS, wmsColumn } from '../../capability/altitude.ts';
import type { Design } from '../../design.ts';
import { heightText } from '../../text/words.ts';
import type { Criterion, Judgement } from '../criterion.ts';
import { headroomOf } from '../criterion.ts';
import { missingText } from '../missing.ts';
import { FITS, newOutcome, type Outcome, RULED_OUT, STRETCH, settle } from '../outcome.ts';
import { LEAST_VALUE } from '../value.ts';
import { VERDICTS } from '../verdict.ts';

/** A rise above the highest recent point that is worth telling, metres (design). */
const RISE_TOLD_M = 50;

/** Value of a moderate risk (design). */
const MODERATE_VALUE = 0.5;

/**
 * Sleeping height and summit against the columns.
 *
 * @param group place in `WMS_COLUMNS` of what the group brings with it, whatever the route (`columnOfGroup`)
 */
export function altitudeOutcome(
  sleepM: number,
  summitM: number,
  group: number,
  limits: Design['altitude'],
  out: Outcome,
): void {
  // Nobody states the height of home: taken as low, the cautious end.
  const summit = isHighSummit(summitM, null, limits) ? 1 : 0;
  const column = Math.max(group, summit, WMS_COLUMNS.indexOf(columnOfSleep(sleepM, limits)));
  if (column === 0) settle(out, FITS, 1);
  else if (column === 1) settle(out, STRETCH, MODERATE_VALUE);
  else settle(out, RULED_OUT, LEAST_VALUE);
}

/** Risk of altitude illness by the night before (WMS 2024 columns); the rise above recent highs is told, never scored. */
export const altitude: Criterion = {
  name: 'altitude',
  judge: ({ route, cohort, shown, design, units }): Judgement => {
    const { highM } = route.measures;
    const lastNightM = cohort.sleepElevationM ?? cohort.nightsM?.at(-1) ?? null;
    const sleepM = lastNightM ?? route.trailhead.elevationM;
    const { lowSleepM } = design.altitude;
    if (sleepM === null || highM === null || route.heightsMissing) {
      return {
        name: 'altitude',
        demand: sleepM,
        capacity: lowSleepM,
        unit: 'm',
        headroom: null,
        value: null,
        verdict: 'incomplete',
        reason: missingText(route),
      };
    }
    const asked = [
      lastNightM === null ? 'sleeping height not stated (the trailhead’s was used)' : null,
      cohort.altitudeHistory == null ? 'altitude history not stated (none was assumed)' : null,
    ].filter((text) => text !== null);
    const { column, reason } = wmsColumn(
      {
        sleepElevationM: sleepM,
        history: cohort.altitudeHistory ?? 'none',
        summitM: highM,
        // Nobody states the height of home: taken as low, the cautious end.
        homeM: null,
        nightsM: cohort.nightsM ?? null,
      },
      design.altitude,
      (heightM) => heightText(heightM, units),
    );
    const rise =
      shown.highestM !== null && highM > shown.highestM + RISE_TOLD_M
        ? `; its top is ${heightText(highM - shown.highestM, units)} above the highest point that everyone who goes has on record`
        : '';
    const out = newOutcome();
    altitudeOutcome(sleepM, highM, WMS_COLUMNS.indexOf(column), design.altitude, out);
    const advice = column === 'high' ? ': sleep lower, or take more nights' : '';
    return {
      name: 'altitude',
      demand: sleepM,
      capacity: lowSleepM,
      unit: 'm',
      headroom: headroomOf(sleepM, lowSleepM),
      value: out.value,
      verdict: VERDICTS[out.rank] ?? 'ruledOut',
      reason: `${column} risk by sleeping height and history: ${reason}${advice}${rise}`,
      ...(asked.length > 0 ? { toCheck: asked.join('; ') } : {}),
    };
  },
};
