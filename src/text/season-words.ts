import type { Clearance } from '../approach/vehicles.ts';
import { at } from '../array.ts';
import type { BoardRule, LimitGroup } from '../season/board-program.ts';
import { type PlacedParty, partyOf, type SeasonBoard, type UnplacedCohort } from '../season/season.ts';
import type { UnitSystem } from '../units.ts';
import { questionText, reasonText } from './criteria/index.ts';
import { VERDICT_TEXT } from './verdict-words.ts';
import { clockOn, listed, plural } from './words.ts';

/** What keeps a cohort out, as the end of “It has no day because of …”. */
const GROUP_TEXT: Record<LimitGroup, string> = {
  vehicles: 'the vehicles: they are short on the days it could go',
  permits: 'permits: they are taken on the days it could go',
  parking: 'parking: it is full on the days it could go',
  leaders: 'its leaders: they are with other cohorts on the days it could go',
  dates: 'its own dates: something fits, but only on days it cannot go or with others moved to them',
};

const GROUP_NAME: Record<LimitGroup, string> = {
  vehicles: 'vehicles',
  permits: 'permits',
  parking: 'parking',
  leaders: 'leaders',
  dates: 'its own dates',
};

const CLEARANCE: Record<Clearance, string> = {
  any: '',
  high: ' with high clearance',
  fourWheel: ' with four-wheel drive',
};

const PERMITS = { permit: 'the permit at', trailhead: 'parties at', office: 'the permits of' } as const;

/** A limit of the season by name. */
export function ruleText(rule: BoardRule): string {
  switch (rule.group) {
    case 'vehicles': {
      const many = rule.vehicles === 1 ? 'the one vehicle' : `the ${rule.vehicles} vehicles`;
      return `${many} of ${rule.seats} seats${CLEARANCE[rule.clearance]}`;
    }
    case 'permits':
      return `${PERMITS[rule.by]} ${rule.name} (${plural(rule.partiesPerDay, 'party', 'parties')} a day)`;
    case 'parking':
      return `parking at ${rule.trailhead} (${plural(rule.spaces, 'space')})`;
    case 'leaders':
      return `leader ${rule.label}, with one cohort a day`;
    case 'dates':
      return `the days on which ${rule.cohort} cannot go`;
  }
}

/** How the two times of a party are read. */
export const PARTY_TIMES_READ =
  'Start by: the latest start that keeps the day’s limits. Back by: later one time in ten.';

/** When a party starts at the latest, and when it is back, in the zone of the place; `null`: not worked out. */
export function partyTimes({ fit: { timeline } }: PlacedParty) {
  if (timeline === null) return { startBy: null, backBy: null };
  const { zone, date, startMs, checkpoints } = timeline;
  const end = checkpoints.find(({ kind }) => kind === 'end')?.at;
  return {
    startBy: clockOn(startMs, zone, date),
    backBy: end === undefined ? null : clockOn(end.p90Ms, zone, date),
  };
}

/** What the party could have were it alone in the season; `null`: nothing better than what it has. */
export function aloneText(
  { best, pairing }: PlacedParty,
  { question }: Pick<SeasonBoard, 'question'>,
): string | null {
  if (best.score - pairing.score < 0.005 && best.verdict === pairing.verdict) return null;
  const { route } = at(question.routes, best.route);
  return `${route.name} on ${at(question.dates, best.date)}, ${VERDICT_TEXT[best.verdict]} ${best.score.toFixed(2)}`;
}

/** Why a cohort has no day, and what would give it one, in sentences. */
export function unplacedTexts(
  { cohort, fits, groups, rules, couldGo, nearest, ruling }: UnplacedCohort,
  { question }: Pick<SeasonBoard, 'question'>,
  units: UnitSystem,
): string[] {
  if (!fits) {
    const dates = plural(question.dates.length, 'date');
    if (nearest === null) return ['There is no route to go on.'];
    const { route, date, fit } = nearest;
    const why = fit.judgements
      .filter(({ verdict }) => verdict === fit.verdict)
      .map((judgement) => `${questionText(judgement.name)}: ${reasonText(judgement, units)}`);
    const most = ruling.slice(0, 4).map(({ name, routes }) => `${questionText(name)} (${routes})`);
    return [
      `Nothing fits on any of the ${dates}. Nearest is ${route.route.name} on ${date}: ${VERDICT_TEXT[fit.verdict]}. ${why.join('; ')}.`,
      `What keeps the ${plural(question.routes.length, 'route')} from fitting, each on its best day: ${most.join(', ')}.`,
    ];
  }
  const [only] = groups;
  if (only === undefined)
    return [
      'Something fits, but why it has no day was not found out in the time there was: ask for less at once.',
    ];
  const what =
    groups.length === 1
      ? `It has no day because of ${GROUP_TEXT[only]}.`
      : `It has no day because of ${listed(groups.map((group) => GROUP_NAME[group]))} together: lifting one of them alone gives it none.`;
  const alone = only === 'dates' ? null : enoughText(rules, groups.length);
  const then =
    couldGo === null
      ? null
      : `Without that limit ${cohort.record.cohort.name} could go on ${at(question.routes, couldGo.route).route.name} on ${at(question.dates, couldGo.date)}, and all who have a day still have one, though perhaps another.`;
  return [what, alone, then].filter((text) => text !== null);
}

/** Which limits would each do alone. */
function enoughText(rules: readonly BoardRule[], groups: number): string | null {
  const names = rules.map(ruleText).join('; ');
  if (rules.length === 1) return `More of this alone would do: ${names}.`;
  if (rules.length > 1) return `More of any one of these would do: ${names}.`;
  return groups === 1 ? 'No single one of them would do; it takes more than one.' : null;
}

/** What the board does not know, so that nobody takes it for more than it is. */
export function notKnownTexts({ question, placed, unplaced }: SeasonBoard): string[] {
  const { cohorts, vehicles } = question;
  const unled = cohorts.filter(({ ledBy }) => ledBy.length === 0).length;
  const own = cohorts.filter(({ hasOwnVehicles }) => hasOwnVehicles).length;
  const texts = [
    'Weather, snow and how each group is on the day. Keep a spare date, and decide again on the morning.',
    'Training still to come: a later date counts only what has been walked so far, less what fades.',
  ];
  if (unled > 0 && cohorts.length > 1) {
    texts.push(
      `Which leaders go with ${unled === cohorts.length ? 'the cohorts' : `${unled} of the cohorts`}: none is stated (their labels; “ledBy” in a season file), so one leader may be wanted twice on a day.`,
    );
  }
  texts.push(
    vehicles === null
      ? 'Shared vehicles: none are stated, so each cohort is taken to ride in its own.'
      : `Drivers, and how vehicles get back between days. ${own === 0 ? 'All cohorts ride' : `All cohorts but ${own} ride`} in the program’s vehicles; those in their own files are not counted.`,
  );
  if (unplaced.some(({ fits }) => fits)) {
    texts.push(
      'Whose turn it is: who stays without a day follows from the scores alone. To put a cohort first, take another out of the season.',
    );
  }
  const shared = sharedStarts(placed);
  if (shared.length > 0) {
    texts.push(
      `Whether two parties are welcome where no number of parties is stated: ${shared.join('; ')}. State it as a limit if not.`,
    );
  }
  return texts;
}

/** Starts that two parties or more use on one day. */
function sharedStarts(placed: SeasonBoard['placed']): string[] {
  const counts = new Map<string, number>();
  for (const { route, date } of placed) {
    const { attributes, name } = route.route;
    if (attributes.permit?.partiesPerDay != null) continue;
    const key = `${attributes.trailhead?.name ?? name} on ${date}`;
    counts.set(key, (counts.get(key) ?? 0) + 1);
  }
  return [...counts].filter(([, parties]) => parties > 1).map(([where]) => where);
}

/** How good the board is, in one sentence or two. */
export function boardText({ question, assignment }: SeasonBoard): string {
  const { placed, worst, sum, bounds, isProven } = assignment;
  const people = question.cohorts.reduce((total, cohort) => total + partyOf(cohort), 0);
  const cohorts = plural(question.cohorts.length, 'cohort');
  const have = `${placed} of ${cohorts} (${plural(people, 'person', 'people')} in all) ${placed === 1 ? 'has' : 'have'} a day.`;
  const score = worst === null ? '' : ` Worst score ${worst.toFixed(2)}, sum ${sum.toFixed(2)}.`;
  if (isProven)
    return `${have}${score} No other board within the limits is better: the number placed comes first, then the worst score, then the sum.`;
  const could = [
    bounds.placed > placed ? `up to ${bounds.placed} placed` : null,
    worst !== null && bounds.worst !== null && bounds.worst > worst
      ? `a worst score up to ${bounds.worst.toFixed(2)}`
      : null,
    Number.isFinite(bounds.sum) && bounds.sum > sum ? `a sum up to ${bounds.sum.toFixed(2)}` : null,
  ].filter((text) => text !== null);
  const better =
    could.length === 0 ? 'how much better one could be is not known' : `there may be ${could.join(', ')}`;
  return `${have}${score} The time for the search ran out: this is the best board found, and ${better}.`;
}
