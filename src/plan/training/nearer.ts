import { addDays, daysBetween } from '../../earth/local-time.ts';
import { orderRoutes, type RankedFit } from '../../rank/fit.ts';
import type { FitRequest } from '../../rank/readiness.ts';
import type { Route } from '../../route/describe-route.ts';
import { narrowed } from './narrowed.ts';
import { type TrainingInput, withOutings } from './question.ts';
import { type ScheduleQuestion, schedule } from './schedule.ts';
import { asWalked } from './steps.ts';
import type { Amounts } from './target.ts';

/** What a group can aim at on the trip's date instead of a route that is too far for it. */
export interface NearerAim {
  readonly distanceM: number;
  readonly gainM: number;
  /** Dates of the training days that lead to it; empty: it is shown now. */
  readonly dates: readonly string[];
  /** Known routes that fit then, those with the most work first. */
  readonly routes: readonly string[];
}

const ALL = { distanceM: true, gainM: true, effortKj: true };

/** Halvings of the search: finer than a day is named. */
const HALVINGS = 7;

const workOf = ({ judgements }: RankedFit): number =>
  judgements.find(({ name }) => name === 'effort')?.demand ?? 0;

/** The routes that fit, by name, those with the most work first. */
export const fittingNames = (known: readonly Route[], request: FitRequest): readonly string[] =>
  orderRoutes(known, request)
    .filter(({ verdict }) => verdict === 'fits')
    .sort((a, b) => workOf(b) - workOf(a))
    .map(({ route }) => route.name);

/**
 * The day nearest to the target that a season's training days lead to by the trip's date, and the known routes that
 * fit then. `null`: somebody has shown nothing, and there is no time for a first walk.
 *
 * @param whole the schedule's question for the target itself
 */
export function nearerAim(
  { route, record, today, tripDate, routes, design }: TrainingInput,
  whole: ScheduleQuestion,
): NearerAim | null {
  const { rules, target, baseOn } = whole;
  const tripDay = daysBetween(today, tripDate);
  const base = baseOn(tripDay);
  const isShown = base.distanceM !== null && base.gainM !== null;
  const { assessment } = rules;
  // Where nothing is shown, the first walk is the least aim.
  const left = {
    distanceM: base.distanceM?.value ?? Math.min(assessment.distanceM, target.distanceM),
    gainM: base.gainM?.value ?? Math.min(assessment.gainM, target.gainM),
  };
  const at = (share: number): Amounts => {
    const part = (from: number, to: number) => Math.min(to, from + share * Math.max(0, to - from));
    const distanceM = part(left.distanceM, target.distanceM);
    const gainM = Math.max(1, part(left.gainM, target.gainM));
    return { distanceM, gainM, effortKj: rules.effortOf(distanceM, gainM) };
  };
  const rungsTo = (share: number) => {
    const rungs = schedule({ ...whole, target: at(share), needed: ALL, shape: ['bothDay'] }, tripDay);
    return rungs !== null && rungs.length <= rules.mostSteps ? rungs : null;
  };
  const share = rungsTo(0) === null ? null : narrowed(1, 0, HALVINGS, (tried) => rungsTo(tried) !== null);
  if (share === null && !isShown) return null;
  const steps =
    share === null ? [] : (rungsTo(share) ?? []).map((rung) => ({ ...rung, date: addDays(today, rung.day) }));
  const walked = steps.map((step) => asWalked({ ...step, rockClass: null }, record));
  const known = routes.filter((one) => one !== route && one.name !== route.name);
  const fits = fittingNames(known, { record: withOutings(record, walked), date: tripDate, design });
  return {
    distanceM: share === null ? left.distanceM : at(share).distanceM,
    gainM: share === null ? left.gainM : at(share).gainM,
    dates: steps.map(({ date }) => date),
    routes: fits.slice(0, design.training.routesEach),
  };
}
