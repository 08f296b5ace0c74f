/**
 * Draws the pictures of the docs from the demo: `npm run make:pictures`.
 * Plain paper and ink; ground above treeline is hatched; every mark has its figure in text.
 */
import { writeFileSync } from 'node:fs';
import { scaleLinear } from 'd3-scale';
import { area, line } from 'd3-shape';
import { DESIGN } from '../src/design.ts';
import { clock } from '../src/earth/local-time.ts';
import { cohortRecordOf, fitFor, routesOf } from '../src/engine.ts';
import type { Fit } from '../src/fit/rank-routes.ts';
import { climbText, lengthText, percentText } from '../src/fit/words.ts';
import { readCohortFile, readRouteFiles } from '../src/terminal/files.ts';
import { openSurface } from '../src/terrain/tile-set.ts';

const ROUTE = 'data/demo/routes/two-knolls-round.gpx';
const COHORT = 'data/demo/cohorts/marram-seniors.json';
const DATE = '2026-07-11';
const FILE = 'data/pictures/day-profile.svg';

const WIDTH = 960;
const HEIGHT = 400;
const EDGE = { left: 70, right: 30, top: 70, bottom: 50 };

const LABEL: Record<string, string> = {
  trailhead: 'start',
  treelineUp: 'treeline',
  high: 'highest point',
  treelineDown: 'below treeline',
  end: 'back',
};

const escaped = (text: string): string =>
  text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');

function label(x: number, y: number, text: string, more = ''): string {
  return `<text x="${x.toFixed(1)}" y="${y.toFixed(1)}" ${more}>${escaped(text)}</text>`;
}

/** The profile of a day as an SVG document. */
function profilePicture(fit: Fit, cohortName: string): string {
  const { route, timeline } = fit;
  if (timeline === null) throw new RangeError('the demo route has no day');
  const known = route.profile.flatMap(([distanceM, heightM]) =>
    heightM === null ? [] : [{ distanceM, heightM }],
  );
  const heights = known.map((point) => point.heightM);
  const low = Math.floor(Math.min(...heights) / 100) * 100 - 100;
  const high = Math.ceil(Math.max(...heights) / 100) * 100;
  const x = scaleLinear([0, route.measures.distanceM], [EDGE.left, WIDTH - EDGE.right]);
  const y = scaleLinear([low, high], [HEIGHT - EDGE.bottom, EDGE.top]);
  const treelineM = route.measures.treelineM ?? high;
  const ground =
    line<(typeof known)[number]>(
      (point) => x(point.distanceM),
      (point) => y(point.heightM),
    )(known) ?? '';
  const above =
    area<(typeof known)[number]>()
      .x((point) => x(point.distanceM))
      .y0(y(treelineM))
      .y1((point) => y(Math.max(point.heightM, treelineM)))(known) ?? '';
  const heightAt = (distanceM: number) =>
    known.reduce((best, point) =>
      Math.abs(point.distanceM - distanceM) < Math.abs(best.distanceM - distanceM) ? point : best,
    ).heightM;
  const marks = timeline.checkpoints.map(({ kind, distanceM, at }, i) => {
    const markX = x(distanceM);
    const markY = y(heightAt(distanceM));
    const anchor = i === 0 || kind === 'treelineDown' ? 'start' : kind === 'high' ? 'middle' : 'end';
    const aside = kind === 'treelineUp' ? -12 : kind === 'treelineDown' ? 12 : 0;
    const time = (ms: number) => clock(ms, timeline.zone);
    const spread =
      kind === 'trailhead'
        ? time(timeline.startMs)
        : `${time(at.p50Ms)} (${time(at.p10Ms)}–${time(at.p90Ms)})`;
    const raised = kind === 'high' || aside !== 0 ? 12 : 30;
    return [
      `<circle cx="${markX.toFixed(1)}" cy="${markY.toFixed(1)}" r="4" fill="#fff" stroke="#111" stroke-width="2"/>`,
      label(
        markX + aside,
        markY - raised - 16,
        LABEL[kind] ?? kind,
        `text-anchor="${anchor}" font-weight="bold"`,
      ),
      label(markX + aside, markY - raised, spread, `text-anchor="${anchor}"`),
    ].join('');
  });
  const heightTicks = y
    .ticks(4)
    .map((tick) => label(EDGE.left - 8, y(tick) + 4, `${tick} m`, 'text-anchor="end" class="soft"'));
  const lengthTicks = x
    .ticks(6)
    .map((tick) =>
      label(
        x(tick),
        HEIGHT - EDGE.bottom + 20,
        lengthText(tick, 'metric'),
        'text-anchor="middle" class="soft"',
      ),
    );
  const storm = timeline.storm;
  const title = `${route.name}: the day of ${cohortName} on ${DATE}`;
  const gain = route.measures.gainM;
  const summary = `${lengthText(route.measures.distanceM, 'metric')}, climb ${climbText(gain?.value ?? 0, 'metric')} (${climbText(gain?.low ?? 0, 'metric')} to ${climbText(gain?.high ?? 0, 'metric')}); below treeline by ${clock(storm.deadline.atMs, timeline.zone)} with ${percentText(storm.probability ?? 0)} probability`;
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${WIDTH} ${HEIGHT}" role="img" aria-label="${escaped(`${title}. ${summary}`)}">
<style>text{font:13px Georgia,serif;fill:#111}.soft{fill:#555}</style>
<defs><pattern id="open" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><line x1="0" y1="0" x2="0" y2="7" stroke="#111" stroke-width="1.4"/></pattern></defs>
<rect width="${WIDTH}" height="${HEIGHT}" fill="#fffdf8"/>
${label(EDGE.left, 26, title, 'font-size="17" style="font-size:17px"')}
${label(EDGE.left, 46, summary, 'class="soft"')}
<path d="${above}" fill="url(#open)" stroke="none"/>
<line x1="${EDGE.left}" x2="${WIDTH - EDGE.right}" y1="${y(treelineM).toFixed(1)}" y2="${y(treelineM).toFixed(1)}" stroke="#111" stroke-dasharray="6 4"/>
${label(WIDTH - EDGE.right, y(treelineM) + 16, `treeline ${treelineM} m`, 'text-anchor="end" class="soft"')}
<path d="${ground}" fill="none" stroke="#111" stroke-width="2" stroke-linejoin="round"/>
${[...heightTicks, ...lengthTicks, ...marks].join('\n')}
</svg>
`;
}

const surface = await openSurface(['data/demo/dem']);
const ground = { surface, design: DESIGN };
const { cohort, readTrack } = await readCohortFile(COHORT);
const record = await cohortRecordOf(cohort, readTrack, ground);
const [file] = await readRouteFiles([ROUTE]);
if (file === undefined) throw new RangeError(`no ${ROUTE}`);
const [route] = await routesOf(file, ground);
if (route === undefined) throw new RangeError(`no route in ${ROUTE}`);
writeFileSync(FILE, profilePicture(fitFor(route, record, DATE, DESIGN, 'metric'), cohort.name));
await surface.close();
process.stdout.write(`${FILE}\n`);
