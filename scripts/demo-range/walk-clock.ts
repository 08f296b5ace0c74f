import type { Spot } from './frame.ts';
import { distancesM, spotsAt, wander } from './line.ts';
import type { Random } from './random.ts';
import { type Fix, receiver } from './receiver.ts';
import { heightAt, type Terrain } from './terrain.ts';

/** How a group of the demo walks. */
export interface Gait {
  readonly startMs: number;
  /** Share of the trade rule's time that the group takes. */
  readonly paceFactor: number;
  readonly restEveryMin: number;
  readonly restMin: number;
  /** The long rest, taken at the turn of the line. */
  readonly topRestMin: number;
}

// Trade rule: 30 min a mile and 1 h per 1,000 ft up (common practice, no source); down, 150 min for 4 km with
// 1,000 m of drop (DIN 33466, larger plus half the smaller) less the level part, a metre of drop. Invented people.
const MIN_PER_M = 30 / 1609.344;
const MIN_PER_CLIMB_M = 60 / 304.8;
const MIN_PER_DROP_M = (150 - 4000 * MIN_PER_M) / 1000;

const GRADE_OVER_M = 20;
const JITTER_M = 0.4;

/** A walk along a line with a running clock: a fix every 10 to 15 s, also while the group rests. */
export function simulateWalk(
  terrain: Terrain,
  line: readonly Spot[],
  turnM: number,
  gait: Gait,
  random: Random,
): { readonly fixes: readonly Fix[]; readonly times: readonly number[] } {
  const lengthM = distancesM(line).at(-1) ?? 0;
  const stations = spotsAt(
    line,
    Array.from({ length: Math.ceil(lengthM) + 1 }, (_, k) => Math.min(k, lengthM)),
  );
  const spotAtM = (atM: number): Spot =>
    stations[Math.min(stations.length - 1, Math.round(atM))] ?? { xM: 0, yM: 0 };
  const receive = receiver(terrain, random);
  const mood = wander(random, 0.08, 400);
  const fixes: Fix[] = [receive(spotAtM(0), 0)];
  const times = [gait.startMs];
  let atM = 0;
  let timeMs = gait.startMs;
  let movingMin = 0;
  let nextRestMin = gait.restEveryMin;
  let turned = false;
  const tick = (): number => {
    const seconds = 10 + Math.floor(6 * random.uniform());
    timeMs += seconds * 1000;
    times.push(timeMs);
    return seconds / 60;
  };
  const rest = (minutes: number): void => {
    const here = receive(spotAtM(atM), 0);
    for (let rested = 0; rested < minutes; rested += tick()) {
      const jitter = () => JITTER_M * (random.uniform() - 0.5);
      fixes.push({ xM: here.xM + jitter(), yM: here.yM + jitter(), heightM: here.heightM });
    }
  };
  while (atM < lengthM) {
    const minutes = tick();
    const aheadM = Math.min(lengthM, atM + GRADE_OVER_M);
    const backM = Math.max(0, atM - GRADE_OVER_M);
    const grade = (heightAt(terrain, spotAtM(aheadM)) - heightAt(terrain, spotAtM(backM))) / (aheadM - backM);
    const steep = grade > 0 ? grade * MIN_PER_CLIMB_M : -grade * MIN_PER_DROP_M;
    const stepM = Math.min(
      lengthM - atM,
      minutes / (gait.paceFactor * (MIN_PER_M + steep) * (1 + mood(minutes * 40))),
    );
    atM += stepM;
    movingMin += minutes;
    fixes.push(receive(spotAtM(atM), stepM));
    if (!turned && atM >= turnM) {
      turned = true;
      rest(gait.topRestMin);
      nextRestMin = movingMin + gait.restEveryMin;
    } else if (movingMin >= nextRestMin && lengthM - atM > 500) {
      rest(gait.restMin);
      nextRestMin = movingMin + gait.restEveryMin;
    }
  }
  return { fixes, times };
}
