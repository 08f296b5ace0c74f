/**
 * Hours of mountain places against the full boundaries of time zones: `npm run truth:zones [-- --json]`. The boundaries
 * are timezone-boundary-builder's, made of OpenStreetMap (ODbL), all zones apart; the program reads those that are
 * alike since 1970, of the same release: this finds faults of reading, none of the boundaries. Beside it the rounded table that it read before.
 */
import tzLookup from '@photostructure/tz-lookup';
import { find } from 'geo-tz/all';
import { table } from '../src/cli/table.ts';
import { localTimeMs, rfc3339 } from '../src/earth/local-time.ts';
import { zoneOf } from '../src/earth/zone.ts';
import { sized } from './bench/size.ts';
import { randomStream } from './demo-range/random.ts';

const SEED = 20270711;

/** Mountain regions, degrees: west, south, east, north. */
const REGIONS: Readonly<Record<string, readonly [number, number, number, number]>> = {
  'US West': [-120, 35, -109, 48],
  Appalachians: [-88, 34, -67, 46],
  Alps: [6, 44, 16, 48],
  Scandinavia: [6, 60, 30, 70],
  Andes: [-73, -50, -66, -15],
  Himalaya: [75, 27, 97, 36],
  'East Australia': [147, -38, 153, -26],
  'Canadian Rockies': [-121, 49, -113, 56],
};
const DAYS = ['2026-01-15', '2026-07-11'];

const hoursOf = (zone: string): string =>
  DAYS.map((day) => rfc3339(localTimeMs(day, '12:00', zone), zone).slice(-6)).join(' ');

const each = sized(250, 10);
let wrong = 0;
const rows = Object.entries(REGIONS).map(([name, [west, south, east, north]]) => {
  const random = randomStream(SEED, name);
  let [places, ours, before] = [0, 0, 0];
  while (places < each) {
    const lonDeg = west + (east - west) * random.uniform();
    const latDeg = south + (north - south) * random.uniform();
    const zones = find(latDeg, lonDeg);
    const rounded = tzLookup(latDeg, lonDeg);
    // No mountain stands in the sea, as either tells it.
    if ([...zones, rounded].some((zone) => zone.startsWith('Etc/'))) continue;
    places += 1;
    const truths = zones.map(hoursOf);
    if (!truths.includes(hoursOf(zoneOf({ lonDeg, latDeg })))) ours += 1;
    if (!truths.includes(hoursOf(rounded))) before += 1;
  }
  wrong += ours;
  return { case: name, places, wrong: ours, roundedTableWrong: before };
});

if (process.argv.includes('--json')) {
  process.stdout.write(`${JSON.stringify({ name: 'truth:zones', seed: SEED, days: DAYS, rows }, null, 2)}\n`);
} else {
  const body = rows.map((row) => Object.values(row).map(String));
  process.stdout.write(
    `${table([['region', 'places', 'wrong hour', 'rounded table'], ...body], ['left', 'right', 'right', 'right'])}\n`,
  );
}
if (wrong > 0) process.exitCode = 1;
