import { at } from '../array.ts';
import type { Design } from '../design.ts';
import type { BoardLimit, BoardRule, Use } from './board-program.ts';
import type { SeasonQuestion } from './season.ts';
import { sameName, type Trailhead, trailheadsOf } from './trailheads.ts';
import { kindsOf } from './vehicle-packs.ts';

/** The limits of a season: the rules, and each as a limit of a day once something takes of it. */
export type SeasonRules = ReturnType<typeof seasonRules>;

const least = (values: readonly (number | null | undefined)[]): number | null => {
  const known = values.filter((value) => value != null);
  return known.length === 0 ? null : Math.min(...known);
};

/** Parties a day: what the routes of a trailhead state of one office’s permits, and what the season states. */
function partyRulesOf({ routes, limits }: SeasonQuestion, heads: readonly Trailhead[], add: AddRule) {
  const ofRoute: number[][] = routes.map(() => []);
  const permitOf = (route: number) => routes[route]?.route.attributes.permit ?? null;
  const addFor = (
    members: readonly number[],
    { by, name }: Pick<PermitRule, 'by' | 'name'>,
    capacity: number | null,
  ) => {
    if (capacity === null) return;
    const rule = add({ group: 'permits', by, name, partiesPerDay: capacity }, capacity);
    for (const route of members) ofRoute[route]?.push(rule);
  };
  for (const head of heads) {
    const offices = new Map<string, number[]>();
    for (const route of head.routes) {
      const permit = permitOf(route);
      if (permit?.partiesPerDay == null) continue;
      const office = permit.who?.trim().toLowerCase() ?? '';
      offices.set(office, [...(offices.get(office) ?? []), route]);
    }
    for (const members of offices.values()) {
      const capacity = least(members.map((route) => permitOf(route)?.partiesPerDay));
      addFor(members, { by: 'permit', name: head.name }, capacity);
    }
    const capacity = least(head.limits.map(({ partiesPerDay }) => partiesPerDay));
    addFor(head.routes, { by: 'trailhead', name: head.name }, capacity);
  }
  for (const { who, partiesPerDay } of limits) {
    if (who === null) continue;
    const members = routes.flatMap((_, route) => {
      const office = permitOf(route)?.who;
      return office != null && sameName(office, who) ? [route] : [];
    });
    addFor(members, { by: 'office', name: who }, partiesPerDay);
  }
  return ofRoute;
}

type AddRule = (rule: BoardRule, capacity: number) => number;
type PermitRule = Extract<BoardRule, { group: 'permits' }>;

export function seasonRules(question: SeasonQuestion, design: Design) {
  const rules: BoardRule[] = [];
  const capacities: number[] = [];
  const limits: BoardLimit[] = [];
  const add: AddRule = (rule, capacity) => {
    rules.push(rule);
    capacities.push(capacity);
    return rules.length - 1;
  };
  const { routes, cohorts } = question;
  const heads = trailheadsOf(question, design.season);

  /** The program’s vehicles; `null`: none are shared. */
  const kinds = question.vehicles === null ? null : kindsOf(question.vehicles);
  const kindRules = (kinds ?? []).map(({ seats, clearance, which }) =>
    add({ group: 'vehicles', vehicles: which.length, seats, clearance }, which.length),
  );
  const partyRules = partyRulesOf(question, heads, add);
  const parkingRules: (number | null)[] = routes.map(() => null);
  for (const { name, routes: members, parkingSpaces, limits: stated } of heads) {
    const capacity = least([parkingSpaces, ...stated.map((limit) => limit.parkingSpaces)]);
    if (capacity === null) continue;
    const rule = add({ group: 'parking', trailhead: name, spaces: capacity }, capacity);
    for (const route of members) parkingRules[route] = rule;
  }
  const labels = [...new Set(cohorts.flatMap(({ ledBy }) => ledBy))];
  const leaderRules = new Map(labels.map((label) => [label, add({ group: 'leaders', label }, 1)]));
  const awayRules = cohorts.map(({ record, notOn }) =>
    notOn.size === 0 ? -1 : add({ group: 'dates', cohort: record.cohort.name }, 0),
  );

  const known = new Map<string, number>();
  return {
    rules,
    limits,
    kinds,
    /** Rules that a party on this route counts for: of parties, and of vehicles parked. */
    partyRules: (route: number) => at(partyRules, route),
    parkingRule: (route: number) => at(parkingRules, route),
    kindRules,
    leaderRule: (label: string) => leaderRules.get(label) ?? -1,
    awayRule: (cohort: number) => at(awayRules, cohort),
    /** What is taken of a rule on a date. */
    use: (rule: number, date: number, amount: number): Use => {
      const key = `${rule} ${date}`;
      let limit = known.get(key);
      if (limit === undefined) {
        limit = limits.length;
        limits.push({ rule, capacity: at(capacities, rule) });
        known.set(key, limit);
      }
      return { limit, amount };
    },
  };
}
