/**
 * Reading a GPX of 50,000 timed points, validation and repair included: npm run bench:ingest (-- --json). The file is made
 * from a seed. The reference is gpxpy's parse of the same file, in one Python process, in turn with ours.
 */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { readTracks } from '../src/ingest/read-tracks.ts';
import { openPythonReference } from './bench/python-reference.ts';
import { median, report } from './bench/report.ts';
import { sized } from './bench/size.ts';
import { randomStream } from './demo-range/random.ts';

const SEED = 6;
const POINTS = sized(50_000, 2000);
const ROUNDS = sized(7, 1);
/** Invented ground, no real walk. */
const [LON, LAT] = [-30.2, 46.1];

function gpx(): string {
  const { uniform, normal } = randomStream(SEED, 'bench gpx');
  let heading = 0;
  let [lon, lat, elevation] = [LON, LAT, 900];
  const points: string[] = [];
  for (let i = 0; i < POINTS; i += 1) {
    heading += (uniform() - 0.5) * 0.4;
    lon += Math.cos(heading) * 4e-5;
    lat += Math.sin(heading) * 3e-5;
    elevation += normal() * 0.4;
    const time = new Date(Date.UTC(2024, 5, 1, 6) + i * 1000).toISOString();
    points.push(
      `   <trkpt lat="${lat.toFixed(7)}" lon="${lon.toFixed(7)}">\n    <ele>${elevation.toFixed(1)}</ele>\n    <time>${time}</time>\n   </trkpt>`,
    );
  }
  return `<?xml version="1.0" encoding="UTF-8"?>\n<gpx version="1.1" creator="bench" xmlns="http://www.topografix.com/GPX/1/1">\n <trk>\n  <name>Bench</name>\n  <trkseg>\n${points.join('\n')}\n  </trkseg>\n </trk>\n</gpx>\n`;
}

const folder = mkdtempSync(join(tmpdir(), 'krummholz-bench-'));
process.on('exit', () => rmSync(folder, { recursive: true, force: true }));
const path = join(folder, 'bench.gpx');
writeFileSync(path, gpx());
const reference = await openPythonReference('gpxpy_reference.py');
if (reference === null) process.stderr.write('gpxpy is not installed for Python: ours alone is measured\n');

const ours: number[] = [];
const theirs: number[] = [];
for (let round = 0; round <= ROUNDS; round += 1) {
  const bytes = readFileSync(path);
  const from = performance.now();
  const tracks = readTracks(bytes);
  const ms = performance.now() - from;
  const points = tracks.reduce(
    (sum, { segments }) => sum + segments.reduce((all, segment) => all + segment.length, 0),
    0,
  );
  const answer = await reference?.ask<{ ms: number; points: number }>({ ask: 'parse', path });
  if (points !== POINTS || (answer !== undefined && answer.points !== POINTS))
    throw new Error(`${points} points read, ${answer?.points} by the reference, of ${POINTS}`);
  // The first round warms both up and is not counted.
  if (round === 0) continue;
  ours.push(ms);
  if (answer !== undefined) theirs.push(answer.ms);
}
report('ingest', [
  {
    case: `GPX of ${POINTS} timed points, checked and repaired`,
    ours: median(ours),
    reference: theirs.length > 0 ? median(theirs) : null,
    unit: 'ms',
    referenceIs: reference?.name ?? 'gpxpy, not installed',
  },
]);
reference?.close();
