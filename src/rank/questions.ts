import type { Design } from '../design.ts';
import type { CohortInput } from '../ingest/cohort-file.ts';
import type { Route } from '../route/describe-route.ts';
import { classInDoubt } from '../route/steep-ground.ts';
import type { ZoneClock } from '../route/zone-for.ts';

/** What to ask before the trip, beside what criteria ask: a code and values. */
export type Question =
  // about a route
  | {
      readonly code: 'steepForClass';
      readonly stated: string | null;
      readonly classAsked: number;
      readonly steepestDeg: number;
      readonly atM: number;
    }
  | { readonly code: 'oneWay'; readonly pickUp: string | null }
  | { readonly code: 'beginsAtTop' | 'treelineDoubtful' }
  | { readonly code: 'zoneBorder'; readonly used: ZoneClock; readonly beside: ZoneClock }
  | { readonly code: 'permit'; readonly who: string; readonly partiesPerDay: number | null }
  | { readonly code: 'parking'; readonly spaces: number; readonly vehicles: number }
  // about a cohort
  | {
      readonly code: 'ageBandNotStated' | 'whoWasThereNotStated' | 'someWithoutClock' | 'timeImplausible';
    }
  | { readonly code: 'fewLabels'; readonly labelled: number; readonly participants: number }
  | { readonly code: 'outingsAfter'; readonly count: number };

/** What the steepness of the ground makes one ask about the class; `null`: nothing. */
export function steepQuestion(
  route: Pick<Route, 'attributes' | 'measures'>,
  design: Pick<Design, 'steepGround'>,
): Question | null {
  const classAsked = classInDoubt(route, design);
  if (classAsked === null) return null;
  const { line50Deg, line50AtM } = route.measures.steepGround ?? {};
  const stated = route.attributes.rockClass ?? null;
  return {
    code: 'steepForClass',
    stated,
    classAsked,
    steepestDeg: line50Deg ?? 0,
    atM: line50AtM ?? 0,
  };
}

/** What to ask about a route that no criterion asks. */
export function routeQuestions(
  route: Route,
  { vehicles }: Pick<CohortInput, 'vehicles'>,
  design: Pick<Design, 'steepGround'>,
): Question[] {
  const questions: Question[] = [];
  const { attributes, measures, notes } = route;
  const steep = steepQuestion(route, design);
  if (steep !== null) questions.push(steep);
  if (measures.shape === 'oneWay') questions.push({ code: 'oneWay', pickUp: attributes.pickUp ?? null });
  if (notes.some(({ code }) => code === 'begins-at-top')) questions.push({ code: 'beginsAtTop' });
  if (notes.some(({ code }) => code === 'treeline-doubtful')) questions.push({ code: 'treelineDoubtful' });
  const { permit, trailhead } = attributes;
  if (permit?.who != null) {
    questions.push({ code: 'permit', who: permit.who, partiesPerDay: permit.partiesPerDay ?? null });
  }
  const spaces = trailhead?.parkingSpaces;
  const count = vehicles?.length ?? 0;
  if (spaces != null && count > spaces) questions.push({ code: 'parking', spaces, vehicles: count });
  return questions;
}
