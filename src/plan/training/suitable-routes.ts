import type { Design } from '../../design.ts';
import { isHarderClass } from '../../ingest/rock-class.ts';
import type { CriterionName } from '../../rank/criteria/index.ts';
import { orderRoutes, type RankedFit } from '../../rank/fit.ts';
import type { CohortRecord } from '../../rank/readiness.ts';
import { type Verdict, verdictRank } from '../../rank/verdict.ts';
import type { Route } from '../../route/describe-route.ts';
import type { Rung, StepKind } from './ladder.ts';

/** A known route for a step, or a low one climbed several times. */
export interface SuitableRoute {
  readonly name: string;
  /** Of the whole day, all repeats together; the climb at its value. */
  readonly distanceM: number;
  readonly gainM: number;
  /** Times up and down; 1 for the route as it is. */
  readonly times: number;
  /** What is to be added so that the day is the step: level ways, and a stair or slope; 0 where it is enough. */
  readonly addDistanceM: number;
  readonly addGainM: number;
  readonly verdict: Verdict;
}

export interface StepPlace {
  /** Known routes that would do, best first. */
  readonly routes: readonly SuitableRoute[];
  /** A low hill to go up several times; `null`: none known. */
  readonly repeats: SuitableRoute | null;
}

export interface PlaceQuestion {
  readonly rung: Rung;
  readonly date: string;
  /** With the outings of the steps before, as if they had been walked. */
  readonly record: CohortRecord;
  readonly known: readonly Route[];
  /** Doubt of the target's climb: a route that shares it is credited with it, as in the ranking. */
  readonly gainDoubt: number;
  /** Highest point of the trip; `null`: not known. */
  readonly tripHighM: number | null;
  /** Class that the step is to be on; `null`: any that fits. */
  readonly rockClass: string | null;
  readonly design: Design;
}

/** On the first walk these are what it is to find out, and which verdicts on them are no bar to it. */
const FOUND_OUT: Partial<Record<CriterionName, readonly Verdict[]>> = {
  distance: ['notYet', 'incomplete'],
  gain: ['notYet', 'incomplete'],
  effort: ['incomplete'],
  rockClass: ['incomplete'],
};

/** A first walk, and one for the ground's sake, may be so much smaller than named (design). */
const SMALLER: ReadonlySet<StepKind> = new Set(['assessment', 'classDay']);
const LEAST_SHORT_SHARE = 0.5;

interface Size {
  readonly distanceM: number;
  readonly gainM: number;
  /** With the doubt that it shares with the target. */
  readonly creditedM: number;
}

function sizeOf({ measures, heightsMissing }: Route, gainDoubt: number): Size | null {
  const { distanceM, gainM } = measures;
  if (gainM === null || heightsMissing) return null;
  const doubt = gainM.value > 0 ? gainM.high / gainM.value - 1 : 0;
  return { distanceM, gainM: gainM.value, creditedM: gainM.value * (1 + Math.min(doubt, gainDoubt)) };
}

/** What a day of this size lacks of what the step is for: each kind of day has its own measure. */
function lackOf({ rung }: PlaceQuestion, size: Omit<Size, 'gainM'>): { distanceM: number; gainM: number } {
  const share = SMALLER.has(rung.kind) ? LEAST_SHORT_SHARE : 1;
  const lack = (wanted: number, is: number) => Math.max(0, share * wanted - is);
  return {
    distanceM: rung.kind === 'gainDay' ? 0 : lack(rung.distanceM, size.distanceM),
    gainM: rung.kind === 'distanceDay' ? 0 : lack(rung.gainM, size.creditedM),
  };
}

/** Whether a day is the step, or nearly: what is missing of a step can be added near the car. */
function isEnough(question: PlaceQuestion, size: Omit<Size, 'gainM'>): boolean {
  const { rung, design } = question;
  const { distanceM, gainM } = lackOf(question, size);
  const share = SMALLER.has(rung.kind) ? 0 : design.training.mostAddedShare;
  return distanceM <= share * rung.distanceM && gainM <= share * rung.gainM;
}

/** At the upper end of what is sane on the day: the climb too is taken as measured, like the steps. */
const isWithin = ({ most }: Rung, { distanceM, gainM }: Pick<Size, 'distanceM' | 'gainM'>): boolean =>
  distanceM <= most.distanceM && gainM <= most.gainM;

/** Fits or stretch by the engine; on a first walk, class 1 ground (design), and whatever it is that the walk is to find out aside. */
function isSane({ judgements, verdict, route }: RankedFit, question: PlaceQuestion): boolean {
  if (question.rung.growth !== null) return verdictRank(verdict) <= verdictRank('stretch');
  const rockClass = route.attributes.rockClass ?? null;
  if (rockClass === null || isHarderClass(rockClass, '1')) return false;
  return judgements.every(
    (judgement) =>
      verdictRank(judgement.verdict) <= verdictRank('stretch') ||
      (FOUND_OUT[judgement.name]?.includes(judgement.verdict) ?? false),
  );
}

function isOfClass({ attributes }: Route, wanted: string | null): boolean {
  if (wanted === null) return true;
  const stated = attributes.rockClass ?? null;
  return stated !== null && !isHarderClass(wanted, stated) && !isHarderClass(stated, wanted);
}

/** The three days of training are on low ground (common practice, no source): below the trip's top and the treeline. */
const ON_LOW_GROUND: ReadonlySet<StepKind> = new Set(['distanceDay', 'gainDay', 'bothDay']);

function isLowEnough({ measures }: Route, { rung, rockClass, tripHighM }: PlaceQuestion): boolean {
  // Harder ground is where it is.
  if (!ON_LOW_GROUND.has(rung.kind) || rockClass !== null) return true;
  const { highM, aboveTreelineM } = measures;
  return aboveTreelineM === 0 && highM !== null && (tripHighM === null || highM < tripHighM);
}

/** Times up a hill, two at least, that reach the step's climb or nearly, within what is sane; 0: none. */
function timesFor(question: PlaceQuestion, { distanceM, gainM, creditedM }: Size): number {
  const { rung, design } = question;
  if (creditedM <= 0) return 0;
  const wanted = Math.ceil(rung.gainM / creditedM - 1e-9);
  for (const times of [wanted, wanted - 1]) {
    if (times < 2 || times > design.training.mostRepeats) continue;
    const day = { distanceM: times * distanceM, gainM: times * gainM, creditedM: times * creditedM };
    // Level ways to fill up the distance are found anywhere; a hill is for the climb.
    if (isWithin(rung, day) && isEnough(question, { ...day, distanceM: rung.distanceM })) return times;
  }
  return 0;
}

/** Whether a route can be gone up again and again: back where it began, and low. */
const isHill = ({ measures }: Route): boolean => measures.shape !== 'oneWay' && measures.aboveTreelineM === 0;

/**
 * Which known routes would do for a step, best first, and which low hill how many times; ranked by the same engine
 * with the steps before as walked. Only those whose size is right are ranked at all.
 */
export function suitableRoutes(question: PlaceQuestion): StepPlace {
  const { rung, date, record, known, gainDoubt, rockClass, design } = question;
  const candidates = new Map<
    Route,
    { readonly size: Size; readonly isWhole: boolean; readonly times: number }
  >();
  for (const route of known) {
    const size = sizeOf(route, gainDoubt);
    if (size === null || !isOfClass(route, rockClass) || !isLowEnough(route, question)) continue;
    const isWhole = isEnough(question, size) && isWithin(rung, size);
    const times = isHill(route) ? timesFor(question, size) : 0;
    if (isWhole || times > 0) candidates.set(route, { size, isWhole, times });
  }
  if (candidates.size === 0) return { routes: [], repeats: null };
  const ranked = orderRoutes([...candidates.keys()], { record, date, design })
    .filter((fit) => isSane(fit, question))
    .flatMap((fit) => {
      const candidate = candidates.get(fit.route);
      return candidate === undefined ? [] : [{ fit, ...candidate }];
    });
  const placeOf = ({ route, verdict }: RankedFit, size: Size, times: number): SuitableRoute => {
    const day = { distanceM: times * size.distanceM, gainM: times * size.gainM };
    const lack = lackOf(question, { ...day, creditedM: times * size.creditedM });
    return { name: route.name, ...day, times, addDistanceM: lack.distanceM, addGainM: lack.gainM, verdict };
  };
  // Whole steps before those to which something is added; the ranking decides between equals.
  const added = (route: SuitableRoute) => (route.addDistanceM + route.addGainM > 0 ? 1 : 0);
  // The hill that needs fewest rounds; the ranking decides between equal ones.
  const [hill] = ranked.filter(({ times }) => times > 0).sort((a, b) => a.times - b.times);
  return {
    routes: ranked
      .filter(({ isWhole }) => isWhole)
      .map(({ fit, size }) => placeOf(fit, size, 1))
      .sort((a, b) => added(a) - added(b))
      .slice(0, design.training.routesEach),
    repeats: hill === undefined ? null : placeOf(hill.fit, hill.size, hill.times),
  };
}
