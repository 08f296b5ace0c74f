import type { DayPlace } from '../day/day-plan.ts';
import type { Design } from '../design.ts';
import type { DayDetails } from '../plan/day-details.ts';
import type { TrainingPlan } from '../plan/training-plan.ts';
import type { TripPlan } from '../plan/trip-plan.ts';
import type { WayToRoad } from '../plan/way-to-road.ts';
import { classInDoubt } from '../route/steep-ground.ts';
import { placeText } from '../text/place-words.ts';
import { stepText } from '../text/training-words.ts';
import type { UnitSystem } from '../units.ts';
import { type KitLine, kitLines } from './kit-text.ts';
import { wayInShort } from './route-card-text.ts';
import { clockOf, cutOffCell, retreatCell } from './turn-cells.ts';

/** The way and time from a checkpoint out to a road. */
interface WayOut {
  readonly text: string;
  readonly minutes: { readonly p50: number; readonly p90: number };
  readonly distanceM: number;
}

export interface PlanCheckpoint
  extends Pick<
    DayPlace,
    'kind' | 'distanceM' | 'elevationM' | 'latDeg' | 'lonDeg' | 'cutOffMs' | 'retreatMs' | 'at'
  > {
  readonly name: string;
  /** Grid reference as text; `null`: none there. */
  readonly grid: string | null;
  /** The two times as every page prints them: `10:35`, `17:36 (light)`, `cannot be met`, `–`. */
  readonly cutOffText: string;
  readonly retreatText: string;
  readonly wayOut: WayOut | null;
}

/** The way along the line that the minutes of the day are for. */
function alongAsTimed(out: WayToRoad, { roadOut, distanceM }: DayPlace, highM: number): WayToRoad {
  if (roadOut === null) return out;
  const direction = roadOut.way;
  const overHighPoint = direction === 'onward' ? distanceM < highM : distanceM > highM;
  return { ...out, line: { ...out.line, direction, overHighPoint } };
}

/** The checkpoints of a day as pages print them. */
export function checkpointsOfDay(
  { fit }: TripPlan,
  details: DayDetails,
  units: UnitSystem,
): PlanCheckpoint[] {
  const { legs } = details.routeCard;
  const [first] = legs;
  const onCard = first === undefined ? [] : [first.from, ...legs.map(({ to }) => to)];
  const clock = clockOf(details.day);
  return details.day.places.map((place) => {
    const card = onCard.find(({ distanceM }) => Math.abs(distanceM - place.distanceM) < 1);
    const { kind, distanceM, elevationM, latDeg, lonDeg, cutOffMs, retreatMs, at, roadOut } = place;
    return {
      ...{ kind, distanceM, elevationM, latDeg, lonDeg, cutOffMs, retreatMs, at },
      name: placeText(place, units),
      grid: card?.grid?.text ?? null,
      cutOffText: cutOffCell(place, clock),
      retreatText: retreatCell(place, clock),
      wayOut:
        roadOut === null || card === undefined
          ? null
          : {
              text: wayInShort(alongAsTimed(card.wayOut, place, fit.route.high?.distanceM ?? 0), units),
              minutes: roadOut.minutes,
              distanceM: roadOut.distanceM,
            },
    };
  });
}

/** Kit that each person packs, in short: what the participants' page lists. */
const ownKit = (lines: readonly KitLine[]): string[] =>
  lines
    .filter(({ who, system }) => who === 'each' && system !== 'food' && system !== 'water')
    .map(({ what }) => what);

/** What the participants read of their training: dates and sizes of what is left of it. */
const trainingLines = (training: TrainingPlan, units: UnitSystem): string[] =>
  training.state === 'ready'
    ? ['What you have all walked is enough for this day. Keep walking until then.']
    : training.state === 'train' || training.state === 'tooShort'
      ? training.steps
          .filter(({ date }) => date < training.tripDate)
          .map((step) => `${step.date}: ${stepText(step, units)}`)
      : [];

/**
 * What the cards and pages of one day are made from. Times in ms since 1970, shown in `zone`; `null` is "not known" and
 * becomes a blank line or the cautious reading, never a made-up figure.
 */
export type PlanFacts = Readonly<ReturnType<typeof planFacts>>;

export function planFacts(plan: TripPlan, details: DayDetails, units: UnitSystem, design: Design) {
  const { date, party, lightning, lowerChoice } = plan;
  const { route, verdict } = plan.fit;
  const { distanceM, gainM, highM, aboveTreelineMin, steepGround } = route.measures;
  const { trailhead, rockClass } = route.attributes;
  const { sleepElevationM, altitudeHistory } = plan.record.cohort;
  const { end, journey, timeline } = details.day;
  const { zone, startMs, storm } = timeline;
  return {
    ...{ date, zone, startMs, party, verdict, distanceM, highM, aboveTreelineMin, lightning, lowerChoice },
    routeName: route.name,
    trailheadName: trailhead?.name ?? null,
    gainM: gainM?.value ?? null,
    rockClass: rockClass ?? null,
    classInDoubt: classInDoubt(route, design),
    meetMs: journey.meetMs,
    back: end,
    home: journey.home,
    /** The deadline of the day, whether or not there is ground above treeline. */
    usualDeadlineMs: storm.deadline.atMs,
    deadlineMs: storm.latestStartMs === null ? null : storm.deadline.atMs,
    checkpoints: checkpointsOfDay(plan, details, units),
    sleepElevationM: sleepElevationM ?? null,
    /** The worst that anyone going has had; used for the leaders' card alone. */
    altitudeHistory: altitudeHistory ?? null,
    steepSnow: details.steepSnow,
    steepGround: steepGround ?? null,
    roadStatus: trailhead?.roadStatus ?? null,
    spareDate: plan.spareDate?.date ?? null,
    waterLitresEach: details.supplies.load.startL,
    waterFills: details.supplies.load.fills,
    waterMostPerHL: details.supplies.water.mostPerHL,
    foodKcalEach: details.supplies.participant.food.carryKcal,
    kit: ownKit(kitLines(details.kit, units, design)),
    trainingSteps: trainingLines(plan.training, units),
  };
}
