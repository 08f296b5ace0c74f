/** What the addresses of the pages name; all of the demo. */
export interface SiteNames {
  readonly cohorts: ReadonlyMap<string, string>;
  readonly routes: ReadonlyMap<string, string>;
  readonly date: string;
}

export interface SitePage {
  /** Of its picture. */
  readonly name: string;
  readonly path: string;
}

function idOf(ids: ReadonlyMap<string, string>, name: string): string {
  const id = ids.get(name);
  if (id === undefined) throw new RangeError(`the demo has no ${name}`);
  return id;
}

/** Every page of the service with the demo in it: what is looked at by the tests of access, and what pictures show. */
export function sitePages({ cohorts, routes, date }: SiteNames): readonly SitePage[] {
  const cohort = idOf(cohorts, 'Marram Seniors');
  const route = idOf(routes, 'Two Knolls Round');
  const harder = idOf(routes, 'Oakum Dome');
  const ofCohort = `/cohorts/${cohort}`;
  const ofRoute = `${ofCohort}/routes/${route}`;
  // One bus, one day, two who want it: somebody stays behind, and is told why.
  const season = new URLSearchParams([
    ['name', 'A Saturday with one bus'],
    ['date1', date],
    ['vehicle1', 'school bus'],
    ['seats1', '12'],
    ['clearance1', 'any'],
    ['cohort', cohort],
    ['cohort', idOf(cohorts, 'Cranny Juniors')],
    [`notOn-${cohort}`, '2026-07-18'],
  ]);
  return [
    { name: 'cohorts', path: '/' },
    { name: 'shortlist', path: `${ofCohort}?date=${date}` },
    { name: 'new-cohort', path: '/cohorts/new' },
    { name: 'cohort-form', path: `${ofCohort}/edit` },
    { name: 'days', path: `${ofCohort}/outings` },
    { name: 'day-form', path: `${ofCohort}/outings/new` },
    { name: 'routes', path: '/routes' },
    { name: 'route-form', path: `/routes/${route}/edit` },
    { name: 'route-of-cohort', path: `${ofRoute}?date=${date}` },
    { name: 'route', path: `/routes/${route}` },
    { name: 'routes-map', path: '/routes/map' },
    { name: 'trip-plan', path: `${ofRoute}/plan?date=${date}` },
    { name: 'plan-sheets', path: `${ofRoute}/plan/sheets?date=${date}` },
    { name: 'training', path: `${ofCohort}/training?date=${date}&route=${harder}` },
    { name: 'season', path: `/season?${season}` },
    { name: 'season-board', path: `/season/board?${season}` },
    { name: 'kept', path: '/kept' },
    { name: 'not-found', path: '/nowhere' },
  ];
}
