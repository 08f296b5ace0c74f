import { last } from '../array.ts';
import { type PaceModel, quantileMin, type TimeEstimate } from '../capability/pace-model.ts';
import type { Design } from '../design.ts';
import type { Route } from '../route/describe-route.ts';
import { MS_PER_MIN } from '../units.ts';
import { mealMinOf, type Stretch, type Walking, walkingOf, withStops } from './walking.ts';

type Way = 'back' | 'onward';

/** Latest times at one place of a route, ms since 1970; `null` where the question does not arise there. */
export interface TurnBack {
  /** Latest arrival on the way up from which the top and the way down still leave treeline by the deadline. */
  readonly stormMs: number | null;
  /** The same for being back an hour (design) before dark, and before the heat of a hot country. */
  readonly daylightMs: number | null;
  /** Above treeline: the latest moment to start down from here and still meet the deadline, and which way. */
  readonly retreatMs: number | null;
  readonly retreatWay: Way | null;
}

/** A way out, stops included, no meal. */
export interface WayOut {
  readonly distanceM: number;
  readonly way: Way;
  readonly minutes: { readonly p50: number; readonly p90: number };
}

/** The quicker of two ways on a slow day; `null`: there is only the one back. */
export function quicker(toBack: TimeEstimate, toFront: TimeEstimate | null): Omit<WayOut, 'distanceM'> {
  const goesBack = toFront === null || quantileMin(toBack, 0.9) <= quantileMin(toFront, 0.9);
  const time = goesBack ? toBack : toFront;
  const minutes = { p50: quantileMin(time, 0.5), p90: quantileMin(time, 0.9) };
  return { way: goesBack ? 'back' : 'onward', minutes };
}

export interface TurnBackTimes {
  readonly at: readonly TurnBack[];
  /**
   * Where going back from the high point is quicker than the planned way on: the latest moment to leave it back the way
   * one came, later than its cut-off time, ms since 1970. `null`: the planned way is the quicker one, or as quick.
   */
  readonly backFromTopByMs: number | null;
  /** The place above treeline that has to be left first, on a loop or traverse; `null`: it is the top. */
  readonly firstToLeave: { readonly distanceM: number; readonly byMs: number } | null;
  /** The place from which the way to treeline is the longest. */
  readonly farthest: WayOut | null;
}

export interface TurnBackLimits {
  /** `null`: no ground above treeline, or treeline unknown. */
  readonly deadlineMs: number | null;
  /** When the group wants to be at a trailhead; `null`: no dusk on that day. */
  readonly backByMs: number | null;
}

/** Going back the way one came is said only where it gains so much, minutes (design: below that it is the line's doubt). */
const WORTH_TELLING_MIN = 10;

/** The farthest place is looked for at this spacing, metres (a few minutes' walk). */
const ASKED_EVERY_M = 200;

interface Bounds {
  /** Along the route: first step above treeline, last one. */
  readonly upM: number;
  readonly downM: number;
}

/** Stretches of the route that lie above treeline without a break. */
function exposures(route: Route): Bounds[] {
  const found: { upM: number; downM: number }[] = [];
  for (const piece of route.pieces) {
    if (piece.aboveTreeline !== true) continue;
    const before = found.at(-1);
    if (before !== undefined && piece.fromM - before.downM < 1e-6) before.downM = piece.toM;
    else found.push({ upM: piece.fromM, downM: piece.toM });
  }
  return found;
}

/**
 * Cut-off and retreat times: from each place the rest of the way is done by the deadline with the wanted probability.
 * Who arrives at the last moment is mostly slow today, so the rest counts for more, in proportion to the part of the
 * way that is behind the group (`lateShare`, design; `truth:day` shows what it is worth).
 *
 * A cut-off counts the rest of the climb, the meal at the top and the way down as planned (on an out and back the
 * quicker of two drawings of one path); at the top itself it is the moment to leave, and equals the retreat time. A
 * retreat goes back or, where that is quicker, onward. Long, as every time is reckoned by the same walking.
 *
 * @param placesM distances along the route, rising
 */
export function turnBackTimes(
  route: Route,
  pace: PaceModel,
  placesM: readonly number[],
  { deadlineMs, backByMs }: TurnBackLimits,
  design: Design,
): TurnBackTimes {
  const { onward, back, timeOf } = walkingOf(route, pace, design);
  const lengthM = route.measures.distanceM;
  const highM = route.high?.distanceM ?? 0;
  const stretches = exposures(route);
  const [first] = stretches;
  const bounds = first === undefined ? null : { upM: first.upM, downM: last(stretches).downM };
  const isOutAndBack = route.measures.shape === 'outAndBack';
  const wholeMin = timeOf(onward(0, lengthM)).meanMin;
  const mealMin = mealMinOf(wholeMin, design.day);
  const timed = (meal: number, ...stretches: readonly Stretch[]): TimeEstimate =>
    withStops(timeOf(...stretches), pace, meal);
  /** Minutes of the rest of the way, for a group that is at `atM`. */
  const surely = (atM: number, meal: number, ...stretches: readonly Stretch[]): number => {
    const walked = wholeMin > 0 ? timeOf(onward(0, atM)).meanMin / wholeMin : 0;
    const rest = quantileMin(timed(meal, ...stretches), design.stormWindow.probability);
    return rest * (1 + design.stormWindow.lateShare * walked ** 3);
  };

  /** Minutes from a place on the way up over the top and on, as planned, to `downM`; `upM` on an out and back. */
  const overTheTop = (atM: number, { upM, downM }: Bounds): number => {
    const meal = atM < highM ? mealMin : 0;
    const climb = onward(atM, highM);
    const planned = surely(atM, meal, climb, onward(highM, Math.max(downM, highM)));
    // There and back both are the same path; elsewhere a group that is in time goes on as planned.
    return isOutAndBack
      ? Math.min(planned, surely(atM, meal, climb, back(highM, Math.min(upM, highM))))
      : planned;
  };

  const found = placesM.map((atM): TurnBack => {
    const goingUp = atM <= highM;
    const stormMs =
      goingUp && bounds !== null && deadlineMs !== null
        ? deadlineMs - overTheTop(atM, bounds) * MS_PER_MIN
        : null;
    // A traverse cannot be walked back to where the vehicle stands at its end.
    const homeMin = () =>
      route.measures.shape === 'oneWay'
        ? surely(atM, atM < highM ? mealMin : 0, onward(atM, highM), onward(highM, lengthM))
        : overTheTop(atM, { upM: 0, downM: lengthM });
    const daylightMs = goingUp && backByMs !== null ? backByMs - homeMin() * MS_PER_MIN : null;
    const exposed = bounds !== null && atM >= bounds.upM && atM <= bounds.downM;
    if (!exposed || deadlineMs === null || bounds === null) {
      return { stormMs, daylightMs, retreatMs: null, retreatWay: null };
    }
    const backMin = surely(atM, 0, back(atM, bounds.upM));
    const onwardMin = surely(atM, 0, onward(atM, bounds.downM));
    // At the top the two times meet: whoever leaves it goes on as planned.
    if (stormMs !== null && Math.abs(atM - highM) < 1e-6) {
      const retreatWay = isOutAndBack || bounds.downM <= highM ? 'back' : 'onward';
      return { stormMs, daylightMs, retreatMs: stormMs, retreatWay };
    }
    return {
      stormMs,
      daylightMs,
      retreatMs: deadlineMs - Math.min(backMin, onwardMin) * MS_PER_MIN,
      // On an out and back, up to the top, both are the way one came.
      retreatWay: backMin <= onwardMin || (goingUp && isOutAndBack) ? 'back' : 'onward',
    };
  });

  const onwardMin = bounds === null ? 0 : surely(highM, 0, onward(highM, bounds.downM));
  const backMin = bounds === null ? 0 : surely(highM, 0, back(highM, Math.min(bounds.upM, highM)));
  const firstToLeave = (): TurnBackTimes['firstToLeave'] => {
    if (bounds === null || deadlineMs === null || isOutAndBack) return null;
    let soonest = { distanceM: highM, byMs: deadlineMs - onwardMin * MS_PER_MIN };
    for (let atM = bounds.upM; atM < bounds.downM; atM += ASKED_EVERY_M) {
      const rest = Math.min(surely(atM, 0, back(atM, bounds.upM)), surely(atM, 0, onward(atM, bounds.downM)));
      const byMs = deadlineMs - rest * MS_PER_MIN;
      if (byMs < soonest.byMs) soonest = { distanceM: atM, byMs };
    }
    return soonest.distanceM === highM ? null : soonest;
  };
  return {
    at: neverLater(found),
    backFromTopByMs:
      deadlineMs !== null && !isOutAndBack && onwardMin - backMin >= WORTH_TELLING_MIN
        ? deadlineMs - backMin * MS_PER_MIN
        : null,
    firstToLeave: firstToLeave(),
    farthest: farthestFromTreeline(route, stretches, timed, { onward, back }),
  };
}

/**
 * A cut-off is never later than the next one up: what the doubt of a mixed ground does to one of them alone is not to
 * be used against the group.
 */
function neverLater(found: readonly TurnBack[]): TurnBack[] {
  const capped = (own: number | null, later: number | null) =>
    own === null || later === null ? own : Math.min(own, later);
  let next: TurnBack | undefined;
  const fromLast = found.toReversed().map((here) => {
    const { stormMs, daylightMs } = next ?? here;
    next = {
      ...here,
      stormMs: capped(here.stormMs, stormMs),
      daylightMs: capped(here.daylightMs, daylightMs),
    };
    return next;
  });
  return fromLast.reverse();
}

function farthestFromTreeline(
  route: Route,
  stretches: readonly Bounds[],
  timed: (meal: number, ...stretches: readonly Stretch[]) => TimeEstimate,
  { onward, back }: Pick<Walking, 'onward' | 'back'>,
): WayOut | null {
  let farthest: WayOut | null = null;
  const ask = (distanceM: number, around: Bounds): void => {
    const out = quicker(timed(0, back(distanceM, around.upM)), timed(0, onward(distanceM, around.downM)));
    if (farthest === null || out.minutes.p90 > farthest.minutes.p90) farthest = { ...out, distanceM };
  };
  for (const piece of route.pieces) {
    const around = stretches.find(({ upM, downM }) => piece.fromM >= upM && piece.toM <= downM);
    if (around === undefined) continue;
    const steps = Math.max(1, Math.ceil((piece.toM - piece.fromM) / ASKED_EVERY_M));
    for (let i = 0; i <= steps; i += 1) ask(piece.fromM + ((piece.toM - piece.fromM) * i) / steps, around);
  }
  return farthest;
}
