import { effortKj } from '../capability/effort.ts';
import { totalQuantities } from '../capability/quantities.ts';
import { type DayPlace, type DayPlan, planDay } from '../day/day-plan.ts';
import { lightningBackground } from '../day/lightning-background.ts';
import type { Timeline } from '../day/walk-day.ts';
import type { Design } from '../design.ts';
import { type CohortRecord, type Fit, fitInputOf, type Readiness } from '../rank/rank-routes.ts';
import { placeText } from '../text/place-words.ts';
import { classInDoubt } from '../text/steep-ground-text.ts';
import { clockOn } from '../text/words.ts';
import { KJ_PER_KCAL, MS_PER_MIN, type UnitSystem } from '../units.ts';
import { type Kit, kit } from './kit.ts';
import { maySnowLie } from './kit-day.ts';
import { type LowerChoice, type PlanCheckpoint, type PlanFacts, partyOf } from './plan-facts.ts';
import { type RouteCard, routeCard, type TimedPlace } from './route-card.ts';
import { type Supplies, supplies } from './supplies.ts';
import { type ClockText, cutOffCell, retreatCell } from './turn-cells.ts';
import { type WayToRoad, wayInShort } from './way-to-road.ts';

/** What a day asks beyond its times: worked out where heights under the line are known. */
export interface DayDetails {
  readonly day: DayPlan;
  readonly supplies: Supplies;
  readonly kit: Kit;
  readonly routeCard: RouteCard;
  readonly facts: PlanFacts;
}

export interface DayDetailsInput {
  readonly fit: Fit & { readonly timeline: Timeline };
  readonly record: CohortRecord;
  readonly readiness: Readiness;
  /** Whether a warm day is forecast; `null`: not known. */
  readonly warm: boolean | null;
  readonly lowerChoice: LowerChoice | null;
  readonly spareDate: string | null;
  /** One line a training step, for the participants' page. */
  readonly trainingSteps: readonly string[];
  readonly design: Design;
  readonly units: UnitSystem;
}

/** Kit that each person packs, in short: what the participants' page lists. */
const ownKit = ({ items }: Kit): string[] =>
  items
    .filter(({ who, system }) => who === 'each' && system !== 'food' && system !== 'water')
    .map(({ what }) => what);

/** The way along the line that the minutes beside it are for. */
function alongAsTimed(out: WayToRoad, { roadOut, distanceM }: DayPlace, highM: number): WayToRoad {
  if (roadOut === null) return out;
  const direction = roadOut.way;
  const overHighPoint = direction === 'onward' ? distanceM < highM : distanceM > highM;
  return { ...out, line: { ...out.line, direction, overHighPoint } };
}

/** The day of a fit in full: places and times, water and food, kit, route card, and the facts that pages print. */
export function dayDetails(input: DayDetailsInput): DayDetails {
  const { fit, record, readiness, design, units } = input;
  const { route, timeline } = fit;
  const { cohort } = record;
  const { date, zone } = timeline;
  const { approach } = fitInputOf(route, record, readiness, date, design, units);
  const day = planDay(route, readiness.pace, timeline, approach, readiness.ageBand, design);
  const month = Number(date.slice(5, 7));
  const party = partyOf(cohort);
  const { highM, aboveTreelineMin } = route.measures;
  const dayMin = timeline.dayMin;
  const energyKj = effortKj(totalQuantities(route.pieces), readiness.ageBand, design);
  const needs = supplies(
    {
      ...party,
      dayMin,
      energyKcal: { value: energyKj / KJ_PER_KCAL },
      highM,
      warm: input.warm,
      waterPoints: day.water,
      snowOnGround: null,
    },
    design,
  );
  const steepGround = route.measures.steepGround ?? null;
  const hasSteep = steepGround !== null && steepGround.stretches.length > 0;
  const gear = kit(
    {
      party,
      ageBand: party.ageBand,
      rockClass: route.attributes.rockClass ?? null,
      surface: route.attributes.surface ?? null,
      dayMin,
      headlampMin: day.daylight.headlampMin,
      highM,
      trailheadM: route.trailhead.elevationM,
      aboveTreelineMin,
      // That the tiles show none proves nothing.
      steep30to50: hasSteep ? true : null,
      month,
      latDeg: route.trailhead.latDeg,
    },
    design,
    units,
  );
  const after = (ms: number) => (ms - timeline.startMs) / MS_PER_MIN;
  const card = routeCard(
    route,
    day.places.map(({ at, ...place }): TimedPlace => {
      return { ...place, afterMin: { p50: after(at.p50Ms), p90: after(at.p90Ms) } };
    }),
    date,
    design,
  );
  const cardPlaces = card.legs[0] === undefined ? [] : [card.legs[0].from, ...card.legs.map(({ to }) => to)];
  const clock: ClockText = (ms) => clockOn(ms, zone, date);
  const checkpoints = day.places.map((place): PlanCheckpoint => {
    const onCard = cardPlaces.find(({ distanceM }) => Math.abs(distanceM - place.distanceM) < 1);
    return {
      name: placeText(place, units),
      kind: place.kind,
      distanceM: place.distanceM,
      elevationM: place.elevationM,
      latDeg: place.latDeg,
      lonDeg: place.lonDeg,
      grid: onCard?.grid?.text ?? null,
      cutOffText: cutOffCell(place, clock),
      retreatText: retreatCell(place, clock),
      cutOffMs: place.cutOffMs,
      retreatMs: place.retreatMs,
      at: place.at,
      wayOut:
        place.roadOut === null || onCard === undefined
          ? null
          : {
              text: wayInShort(alongAsTimed(onCard.wayOut, place, route.high?.distanceM ?? 0), units),
              minutes: place.roadOut.minutes,
              distanceM: place.roadOut.distanceM,
            },
    };
  });
  const facts: PlanFacts = {
    routeName: route.name,
    date,
    zone,
    trailheadName: route.attributes.trailhead?.name ?? null,
    distanceM: route.measures.distanceM,
    gainM: route.measures.gainM?.value ?? null,
    highM,
    rockClass: route.attributes.rockClass ?? null,
    classInDoubt: classInDoubt(route),
    verdict: fit.verdict,
    meetMs: day.journey.meetMs,
    startMs: timeline.startMs,
    back: day.end,
    home: day.journey.home,
    usualDeadlineMs: timeline.storm.deadline.atMs,
    deadlineMs: timeline.storm.latestStartMs === null ? null : timeline.storm.deadline.atMs,
    checkpoints,
    party,
    sleepElevationM: cohort.sleepElevationM ?? null,
    altitudeHistory: cohort.altitudeHistory ?? null,
    aboveTreelineMin,
    steepSnow:
      hasSteep && maySnowLie(route.attributes.surface ?? null, month, route.trailhead.latDeg) ? true : null,
    steepGround,
    roadStatus: route.attributes.trailhead?.roadStatus ?? null,
    coverage: null,
    lightning: lightningBackground(route.trailhead, month),
    lowerChoice: input.lowerChoice,
    spareDate: input.spareDate,
    waterLitresEach: needs.water.each.packedL,
    foodKcalEach: needs.participant.food.carryKcal,
    kit: ownKit(gear),
    trainingSteps: input.trainingSteps,
  };
  return { day, supplies: needs, kit: gear, routeCard: card, facts };
}
