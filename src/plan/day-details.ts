import { effortKj } from '../capability/effort.ts';
import { totalQuantities } from '../capability/quantities.ts';
import { type DayPlan, planDay } from '../day/day-plan.ts';
import type { Timeline } from '../day/walk-day.ts';
import type { Design } from '../design.ts';
import type { Fit } from '../rank/fit.ts';
import { partyOf } from '../rank/party.ts';
import type { CohortRecord, Readiness } from '../rank/readiness.ts';
import { KJ_PER_KCAL, MS_PER_MIN } from '../units.ts';
import { type Kit, kit } from './kit.ts';
import { type RouteCard, routeCard, type TimedPlace } from './route-card.ts';
import { type Supplies, supplies } from './supplies.ts';

/** What a day asks beyond its times: worked out where heights under the line are known. */
export interface DayDetails {
  readonly day: DayPlan;
  readonly supplies: Supplies;
  readonly kit: Kit;
  readonly routeCard: RouteCard;
  /** Whether ground of 30 to 50 degrees may carry snow on this date; `null`: not known. */
  readonly steepSnow: true | null;
}

export function dayDetails(
  { route, timeline, approach }: Fit & { readonly timeline: Timeline },
  record: CohortRecord,
  readiness: Readiness,
  warm: boolean | null,
  design: Design,
): DayDetails {
  const { date } = timeline;
  const day = planDay(route, readiness, timeline, approach, design);
  const party = partyOf(record.cohort);
  const { highM, lowM, aboveTreelineMin, steepGround } = route.measures;
  const dayMin = timeline.dayMin;
  const energyKj = effortKj(totalQuantities(route.pieces), readiness.ageBand, design);
  const surface = route.attributes.surface ?? null;
  const { latDeg } = route.trailhead;
  // That the tiles show none proves nothing.
  const steep30to50 = (steepGround?.stretches.length ?? 0) > 0 ? true : null;
  const after = (ms: number) => (ms - timeline.startMs) / MS_PER_MIN;
  const packed = kit(
    {
      party,
      rockClass: route.attributes.rockClass ?? null,
      surface,
      dayMin,
      headlampMin: day.daylight.headlampMin,
      highM,
      trailheadM: route.trailhead.elevationM,
      aboveTreelineMin,
      steep30to50,
      date,
      lowM,
      latDeg,
    },
    design,
  );
  return {
    day,
    supplies: supplies(
      {
        ...party,
        dayMin,
        energyKcal: { value: energyKj / KJ_PER_KCAL },
        highM,
        warm,
        hot: packed.hotDayC !== null,
        waterPoints: day.water,
        snowOnGround: null,
      },
      design,
    ),
    kit: packed,
    routeCard: routeCard(
      route,
      day.places.map(({ at, ...place }): TimedPlace => {
        return { ...place, afterMin: { p50: after(at.p50Ms), p90: after(at.p90Ms) } };
      }),
      date,
      design,
    ),
    steepSnow: steep30to50 === true && packed.maySnow ? true : null,
  };
}
