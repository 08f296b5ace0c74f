import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { tempFolder } from '../support/temp-folder.ts';
import { krummholz } from '../support/terminal.ts';
import { unitsNotOf } from '../support/unit-words.ts';

const folder = tempFolder();

/** The shortlist of one of the demo's cohorts, with its line ends as spaces. */
async function listOf(cohort: string, date: string): Promise<string> {
  const { out } = await krummholz(
    'rank',
    ...[
      '--cohort',
      `data/demo/cohorts/${cohort}.json`,
      '--routes',
      'data/demo/routes',
      '--dem',
      'data/demo/dem',
    ],
    ...['--date', date],
  );
  return out.replace(/\s+/g, ' ');
}

describe('a shortlist for people', () => {
  let seniors: string;
  beforeAll(async () => {
    seniors = await listOf('marram-seniors', '2026-06-20');
  });

  it('says what its verdicts, scores and times mean, and that a score is no measure of safety', () => {
    expect(seniors).toContain('Stretch: a little beyond it.');
    expect(seniors).toContain('is no measure of safety');
  });

  it('says when to leave the meeting place, and where that makes a short night', () => {
    expect(seniors).toMatch(
      /Shearwater Comb .{0,200}start by 04:\d\d, leaving by 0[34]:\d\d|Shearwater Comb .{0,200}start 04:00/,
    );
    expect(seniors).toMatch(/short night from the meeting place: about \d(\.5)? h in bed/);
  });

  it('tells what was noted with a route', () => {
    expect(seniors).toContain('noted with the route: The saddle holds snow into June.');
  });

  it('gives no score to what cannot be chosen', () => {
    expect(seniors).toMatch(/Petrel Knob ruled out – –/);
    expect(seniors).toMatch(/Bellbuoy Head from the east incomplete – –/);
  });

  it('never advises hurrying where no quicker day would do, and names the earliest start as such', () => {
    expect(seniors).toMatch(/Cistern Traverse not yet .*? start 04:00, the earliest/);
    expect(seniors).toContain('hurrying is no way to it');
    expect(seniors).not.toContain('would take a start');
  });

  it('tells many steps by the first and the last', () => {
    expect(seniors).toMatch(
      /5 outings, each a step beyond the one before, .*? from 6\.1 km with 560 m .*? up to 6\.1 km with 670 m/,
    );
  });

  it('asks once for the outing that distance, climb and work all lack', async () => {
    const juniors = await listOf('cranny-juniors', '2026-06-20');
    expect(juniors.match(/no outing of the 84 days before the trip on record/g)).toHaveLength(8);
    expect(juniors).not.toMatch(/\bm[1-9]\b/);
  });

  it('names a season by its months', () => {
    expect(seniors).toContain('out of season (1 August to 15 October)');
  });
});

describe('a shortlist in feet and miles', () => {
  it('prints no metre where feet and miles are wanted, of a line with gaps either', async () => {
    const drawn = readFileSync('data/demo/routes/two-knolls-round.gpx', 'utf8');
    const points = [...drawn.matchAll(/<trkpt[^>]*>.*?<\/trkpt>/gs)].map(([point]) => point);
    const segments = [points.slice(0, 100), points.slice(106)].map(
      (some) => `<trkseg>${some.join('')}</trkseg>`,
    );
    const broken = join(folder, 'broken.gpx');
    writeFileSync(broken, `${drawn.slice(0, drawn.indexOf('<trkseg>'))}${segments.join('')}</trk></gpx>`);
    const args = ['rank', '--cohort', 'data/demo/cohorts/cranny-juniors.json', '--dem', 'data/demo/dem'];
    const { out } = await krummholz(...args, '--routes', broken, '--date', '2026-07-11', '--units', 'us');
    expect(out).toMatch(/gaps of 160 ft to 1\.2 mi, the longest [\d,]+ ft/);
    expect(unitsNotOf('us', out)).toEqual([]);
  });
});
