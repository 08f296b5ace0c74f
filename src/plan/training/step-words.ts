import {
  atLeastClimbText,
  atLeastLengthText,
  climbText,
  heightText,
  lengthText,
  percentText,
  plural,
} from '../../text/words.ts';
import type { UnitSystem } from '../../units.ts';
import type { Rung } from './ladder.ts';
import type { SuitableRoute } from './suitable-routes.ts';

/** What a step is, in one line without its date. The last is named at least, the others about. */
export function stepText(rung: Rung, isLast: boolean, rockClass: string | null, units: UnitSystem): string {
  const ground = rockClass === null ? '' : `, on class ${rockClass} ground`;
  const { distanceM, gainM } = rung;
  if (isLast) {
    return `at least ${atLeastLengthText(distanceM, units)} with ${atLeastClimbText(gainM, units)} of climb${ground}`;
  }
  return `about ${lengthText(distanceM, units)} with ${climbText(gainM, units)} of climb${ground}`;
}

/** Another share beyond what is shown, without a false zero. */
const beyond = (growth: number): string =>
  growth <= 1.005
    ? 'no more than everyone who goes has shown'
    : `${percentText(growth - 1)} beyond what everyone who goes will have shown by then`;

/** Why a step is in the plan, in a sentence or two. */
export function stepWhy(rung: Rung, recoveryDays: number | null, kept: number | null): string {
  if (rung.growth === null) {
    const first =
      'Too little is recorded lately for everyone who goes: a short walk with all of them shows where to start. It may well come sooner. Its size is an assumption; plan again once it is recorded.';
    return recoveryDays === null ? first : `${first} ${recovery(recoveryDays, kept)}`;
  }
  const size = beyond(rung.growth);
  if (rung.kind === 'classDay') {
    return `Everyone who goes walks such ground once before the trip; the day can be short. ${recoveryDays === null ? '' : recovery(recoveryDays, null)}`.trim();
  }
  if (rung.kind === 'distanceDay') return `The distance day: as far as the route, with less climb; ${size}.`;
  if (rung.kind === 'gainDay') return `The gain day: the route’s climb on a shorter way; ${size}.`;
  if (recoveryDays !== null) {
    const start = rung.kind === 'bothDay' ? 'The day with both, ' : '';
    return `${start}${size}. ${recovery(recoveryDays, kept)}`;
  }
  return rung.growth <= 1.005 ? `Keeps what has been shown: ${size}.` : `A step: ${size}.`;
}

function recovery(days: number, kept: number | null): string {
  const left =
    kept === null ? '' : `; less the ${percentText(1 - kept)} that is lost by then it is what the route asks`;
  return `${plural(days, 'day')} to recover before the trip${left}.`;
}

/** A known route, or a low hill so many times, as what would do for a step, with what is to be added. */
export function routeText(route: SuitableRoute, units: UnitSystem): string {
  const { name, times, distanceM, gainM, addDistanceM, addGainM } = route;
  const size = `${lengthText(distanceM, units)} with ${climbText(gainM, units)} of climb`;
  const added = [
    addDistanceM > 0 ? `${atLeastLengthText(addDistanceM, units)} on level ways` : null,
    addGainM > 0 ? `${atLeastClimbText(addGainM, units)} of climb on a stair or slope` : null,
  ].filter((text) => text !== null);
  const more = added.length === 0 ? '' : `, and add ${added.join(' and ')}`;
  return `${name}${times > 1 ? ` ${times} times` : ''}: ${size}${more}`;
}

/** A stair of a height climbed so many times. */
export function stairText(stair: { heightM: number; times: number }, units: UnitSystem): string {
  return `a stair of ${heightText(stair.heightM, units)} climbed ${plural(stair.times, 'time')}, and the distance on level ways`;
}
