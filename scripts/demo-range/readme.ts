import type { CohortPlan } from './cohort-table.ts';
import type { DrawnRoute } from './make-routes.ts';

const SHAPES = { outAndBack: 'out and back', loop: 'loop', oneWay: 'traverse, one way' } as const;

function routeRow(route: DrawnRoute): string {
  const { plan } = route;
  const ending = plan.format === 'geojson' ? 'geojson' : 'gpx';
  const trailhead = plan.attributes?.trailhead?.name ?? 'not stated';
  const cells = [
    plan.name,
    `\`${plan.file}.${ending}\``,
    plan.attributes?.rockClass ?? 'not stated',
    `${trailhead}, ${Math.round(route.startM)} m`,
    SHAPES[plan.line.shape],
    `${(route.distanceM / 1000).toFixed(1)} km`,
    `${Math.round(route.gainM / 10) * 10} m`,
    `${Math.round(route.highM)} m`,
  ];
  return `| ${cells.join(' | ')} |`;
}

function cohortRow(cohort: CohortPlan): string {
  const clocked = cohort.outings.filter((outing) => outing.kind === 'track').length;
  const cells = [
    cohort.name,
    `\`${cohort.file}.json\``,
    `${cohort.participants} + ${cohort.leaders}`,
    cohort.ageBand,
    cohort.comfortClass,
    cohort.home.name,
    `${cohort.driveLimitKm} km`,
    [...new Set(cohort.vehicles.map((vehicle) => vehicle.clearance))].join(', '),
    cohort.aim,
    `${cohort.outings.length}, ${clocked} with a clock`,
  ];
  return `| ${cells.join(' | ')} |`;
}

/** The README of the demo's folder, its tables from the finished routes and cohorts. */
export function readmeText(
  routes: readonly DrawnRoute[],
  cohorts: readonly CohortPlan[],
  seed: number,
): string {
  return `# The demo: Corvanney

Everything here is invented: the island of Corvanney and its range, in the open Atlantic near 46.1 N, 30.2 W
where there is no land; its summits, villages and roads; the Corvanney Outdoor School, its groups and their days.
No line here leads anywhere. Nobody walked these tracks: their clocks are computed.

Made by \`npm run make:demo\` (\`scripts/make-demo.ts\`) from seed ${seed}, the same bytes at each run; a test holds this
folder to the script. Licence: MIT, like the project.

- \`dem/\`: two GeoTIFF tiles, 1 second of arc, heights in whole metres, sharing a column of postings. The sea is 0 m.
  A planned island, cut by a model of rivers and scree, roughened and drained.
- \`routes/\`: lines found as the cheapest way over that ground, drawn with the error of a receiver (about 3 m).
- \`cohorts/\`: three groups, and in \`walks/\` the days they walked with a clock. The demo's day is 2026-07-11;
  the place keeps UTC-2.
- \`season.json\`: these groups and a fourth, two Saturdays and two vehicles, for the season board.

## Routes

Length and gain as designed: of the line without the receiver's error, ups of under 5 m left out, way back included.

| Route | File | Class | Trailhead | Shape | Length | Gain | Highest |
|---|---|---|---|---|---|---|---|
${routes.map(routeRow).join('\n')}

On purpose: Bellbuoy Head from the east is a bare file with no class; Windlass Top states no treeline; Petrel Knob's
season begins in August; Tern Lantern by the North Arm is closed in July; Shearwater Comb is a GPX route, not a track;
Pannikin Top is GeoJSON; three files carry no heights; some roads, limits and seasons are not stated.

## Cohorts

| Cohort | File | Participants + leaders | Age band | Comfort class | Meeting place | Drive limit | Clearance | Aim | Outings |
|---|---|---|---|---|---|---|---|---|---|
${cohorts.map(cohortRow).join('\n')}

Cranny Juniors: one member missed the first outing, all were on the second. Plover Adults give no member labels.
`;
}
