import { handOuting } from '../../src/capability/hand-outing.ts';
import type { Outing } from '../../src/capability/outing.ts';
import { tradeRuleMin } from '../../src/capability/rules/trade-rule.ts';
import { DESIGN, type Design } from '../../src/design.ts';
import type { RouteAttributes } from '../../src/ingest/attributes.ts';
import type { CohortInput } from '../../src/ingest/cohort-file.ts';
import type { CriterionName } from '../../src/rank/criteria/index.ts';
import type { Subject } from '../../src/rank/criterion.ts';
import { subjectOf } from '../../src/rank/fit.ts';
import { gapsOf, judgementsOf } from '../../src/rank/judgement.ts';
import { describeRoute, type Route } from '../../src/route/describe-route.ts';
import { judgementWords } from '../../src/text/criteria/index.ts';
import type { UnitSystem } from '../../src/units.ts';
import { elevated, thereAndBack, upAndDown } from './elevated.ts';

export const TRIP = '2026-07-11';

/** A mountain of even slope: out and back, treeline and class stated. */
export function mountain(
  given: {
    lengthUpM?: number;
    baseM?: number;
    gainM?: number;
    name?: string;
    attributes?: RouteAttributes;
  } = {},
): Route {
  const { lengthUpM = 4000, baseM = 1200, gainM = 800, name = 'Even Hill' } = given;
  const attributes = given.attributes ?? { rockClass: '2', treelineM: 1800, surface: 'trail' };
  const heightsM = upAndDown(lengthUpM, baseM, gainM);
  return describeRoute(elevated({ heightsM, bearingsDeg: thereAndBack(heightsM), name }), DESIGN, {
    attributes,
  });
}

export const COHORT: CohortInput = {
  name: 'Lantern Group',
  participants: 8,
  leaders: 2,
  ageBand: '15-17',
  home: { lat: 46.1, lon: -30.2 },
  driveLimit: { km: 60 },
  vehicles: [{ seats: 12, clearance: 'high' }],
  comfortClass: '2',
  sleepElevationM: 100,
  altitudeHistory: 'none',
  earliestStart: '04:00',
  headlamps: true,
  aim: 'comfort',
};

/** An outing on the trip's own date, so that nothing is lost to time, at half of the trade rule's time. */
export function shownDay(distanceM: number, gainM: number, more: Partial<Outing> = {}): Outing {
  return {
    ...handOuting({
      date: TRIP,
      distanceM,
      gainM,
      movingMin: tradeRuleMin(distanceM, gainM) / 2,
      maxElevationM: 1500,
      rockClass: '2',
    }),
    ...more,
  };
}

export interface Given {
  readonly route?: Route;
  readonly cohort?: Partial<CohortInput>;
  readonly outings?: readonly Outing[];
  readonly date?: string;
  /** Chosen by a leader. */
  readonly start?: string;
  readonly design?: Design;
  readonly units?: UnitSystem;
}

/** A route and a group, with sane values for what a test does not name, and who reads about them. */
export function fitInput(given: Given = {}): Subject & { readonly units: UnitSystem } {
  const record = {
    cohort: { ...COHORT, ...given.cohort },
    outings: given.outings ?? [shownDay(12000, 1200)],
    start: given.start ?? null,
  };
  const request = { record, date: given.date ?? TRIP, design: given.design ?? DESIGN };
  return { ...subjectOf(given.route ?? mountain(), request), units: given.units ?? 'metric' };
}

/** The answer to one question, in words. */
export function judge(name: CriterionName, { units, ...subject }: ReturnType<typeof fitInput>) {
  const judgement = judgementsOf(subject).find((one) => one.name === name);
  if (judgement === undefined) throw new RangeError(name);
  const { reason, toCheck, gap } = judgementWords(judgement, units);
  const [found] = gapsOf([judgement]);
  return {
    ...judgement,
    code: judgement.reason.code,
    reason,
    toCheck: toCheck ?? undefined,
    gap: found === undefined ? undefined : { ...found, text: gap ?? '' },
  };
}
