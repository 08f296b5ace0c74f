import type { AltitudeHistory } from '../capability/altitude.ts';
import type { DayPlace } from '../day/day-plan.ts';
import type { LightningBackground } from '../day/lightning-background.ts';
import type { Moment } from '../day/walk-day.ts';
import type { Design } from '../design.ts';
import type { DayDetails } from '../plan/day-details.ts';
import type { LowerChoice } from '../plan/lower-choice.ts';
import type { PlanParty } from '../plan/party.ts';
import type { TrainingPlan } from '../plan/training-plan.ts';
import type { TripPlan } from '../plan/trip-plan.ts';
import type { WayToRoad } from '../plan/way-to-road.ts';
import type { Verdict } from '../rank/verdict.ts';
import type { CheckpointKind } from '../route/checkpoints.ts';
import type { SteepGround } from '../route/steep-ground.ts';
import { classInDoubt } from '../route/steep-ground.ts';
import { placeText } from '../text/place-words.ts';
import { stepText } from '../text/training-words.ts';
import { clockOn } from '../text/words.ts';
import type { UnitSystem } from '../units.ts';
import { type KitLine, kitLines } from './kit-text.ts';
import { wayInShort } from './route-card-text.ts';
import { type ClockText, cutOffCell, retreatCell } from './turn-cells.ts';

/** The way and time from a checkpoint out to a road. */
interface WayOut {
  readonly text: string;
  readonly minutes: { readonly p50: number; readonly p90: number };
  readonly distanceM: number;
}

export interface PlanCheckpoint {
  readonly name: string;
  readonly kind: CheckpointKind;
  /** Along the route from the start. */
  readonly distanceM: number;
  readonly elevationM: number | null;
  readonly latDeg: number;
  readonly lonDeg: number;
  /** Grid reference as text; `null`: none there. */
  readonly grid: string | null;
  /** The two times below as every page prints them: `10:35`, `17:36 (light)`, `cannot be met`, `–`. */
  readonly cutOffText: string;
  readonly retreatText: string;
  /** "Turn back if not here by"; `null`: none at this checkpoint. */
  readonly cutOffMs: number | null;
  /** The latest moment to start down from here; `null`: none at this checkpoint. */
  readonly retreatMs: number | null;
  readonly at: Moment;
  readonly wayOut: WayOut | null;
}

/**
 * What the cards and pages of one day are made from. Times in ms since 1970, shown in `zone`; `null` is "not known" and
 * becomes a blank line or the cautious reading, never a made-up figure. Texts are printed as they are: whoever fills
 * this in keeps names of people out of them.
 */
export interface PlanFacts {
  readonly routeName: string;
  /** YYYY-MM-DD. */
  readonly date: string;
  readonly zone: string;
  readonly trailheadName: string | null;
  readonly distanceM: number;
  readonly gainM: number | null;
  readonly highM: number | null;
  readonly rockClass: string | null;
  /** The class that steep ground under the line may be, where it is higher than the one stated; `null`: none. */
  readonly classInDoubt: 2 | 3 | 4 | null;
  readonly verdict: Verdict | null;
  readonly meetMs: number | null;
  readonly startMs: number;
  readonly back: Moment;
  /** At the meeting place again; `null`: the drive is not known. */
  readonly home: Moment | null;
  /** The deadline of the day, whether or not there is ground above treeline. */
  readonly usualDeadlineMs: number;
  /** When everyone must be below treeline. */
  readonly deadlineMs: number | null;
  /** In order along the route. */
  readonly checkpoints: readonly PlanCheckpoint[];
  readonly party: PlanParty;
  readonly sleepElevationM: number | null;
  /** The worst that anyone going has had; used for the leaders' card alone. */
  readonly altitudeHistory: AltitudeHistory | null;
  /** 0: all of it lies below treeline; `null`: treeline not known. */
  readonly aboveTreelineMin: number | null;
  /** Whether ground of 30 to 50 degrees may carry snow on this date; `null`: not known. */
  readonly steepSnow: boolean | null;
  /** What the tiles say of the steepness of the ground; `null`: nothing. */
  readonly steepGround: SteepGround | null;
  /** What is stated about the road; `null`: nothing. */
  readonly roadStatus: string | null;
  /** What is stated about phone coverage; `null`: nothing. */
  readonly coverage: string | null;
  readonly lightning: LightningBackground | null;
  readonly lowerChoice: LowerChoice | null;
  /** YYYY-MM-DD. */
  readonly spareDate: string | null;
  readonly waterLitresEach: number | null;
  readonly foodKcalEach: number | null;
  readonly kit: readonly string[];
  readonly trainingSteps: readonly string[];
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
  { fit, date }: TripPlan,
  details: DayDetails,
  units: UnitSystem,
): PlanCheckpoint[] {
  const { legs } = details.routeCard;
  const [first] = legs;
  const onCard = first === undefined ? [] : [first.from, ...legs.map(({ to }) => to)];
  const { zone } = details.day.timeline;
  const clock: ClockText = (ms) => clockOn(ms, zone, date);
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

/** The facts of a plan's day. */
export function planFacts(plan: TripPlan, details: DayDetails, units: UnitSystem, design: Design): PlanFacts {
  const { fit, record, date, party } = plan;
  const { route } = fit;
  const { measures, attributes } = route;
  const { day, supplies } = details;
  const { timeline } = day;
  const { storm } = timeline;
  return {
    routeName: route.name,
    date,
    zone: timeline.zone,
    trailheadName: attributes.trailhead?.name ?? null,
    distanceM: measures.distanceM,
    gainM: measures.gainM?.value ?? null,
    highM: measures.highM,
    rockClass: attributes.rockClass ?? null,
    classInDoubt: classInDoubt(route),
    verdict: fit.verdict,
    meetMs: day.journey.meetMs,
    startMs: timeline.startMs,
    back: day.end,
    home: day.journey.home,
    usualDeadlineMs: storm.deadline.atMs,
    deadlineMs: storm.latestStartMs === null ? null : storm.deadline.atMs,
    checkpoints: checkpointsOfDay(plan, details, units),
    party,
    sleepElevationM: record.cohort.sleepElevationM ?? null,
    altitudeHistory: record.cohort.altitudeHistory ?? null,
    aboveTreelineMin: measures.aboveTreelineMin,
    steepSnow: details.steepSnow,
    steepGround: measures.steepGround ?? null,
    roadStatus: attributes.trailhead?.roadStatus ?? null,
    coverage: null,
    lightning: plan.lightning,
    lowerChoice: plan.lowerChoice,
    spareDate: plan.spareDate?.date ?? null,
    waterLitresEach: supplies.water.each.packedL,
    foodKcalEach: supplies.participant.food.carryKcal,
    kit: ownKit(kitLines(details.kit, units, design)),
    trainingSteps: trainingLines(plan.training, units),
  };
}
