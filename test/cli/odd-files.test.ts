import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { run } from '../../src/cli/commands.ts';
import { gpxOf, trkpt, walk } from '../ingest/samples.ts';
import { ODD_FILES } from '../support/odd-files.ts';
import { tempFolder } from '../support/temp-folder.ts';

const folder = tempFolder();

async function measure(path: string): Promise<{ status: number; out: string; err: string }> {
  let out = '';
  let err = '';
  const terminal = {
    out: (text: string) => {
      out += text;
    },
    err: (text: string) => {
      err += text;
    },
    serve: async () => {},
  };
  const status = await run(['measure', path, '--dem', 'data/demo/dem', '--format', 'json'], terminal);
  return { status, out, err };
}

describe('an odd file from the terminal', () => {
  it.each(ODD_FILES.map((file, i) => [`${file.row}: ${file.what}`, i] as const))('%s', async (_, i) => {
    const file = ODD_FILES[i];
    if (file === undefined) throw new RangeError('no such row');
    const path = join(folder, `odd-${i}.${file.ending}`);
    writeFileSync(path, file.content);
    const { status, out, err } = await measure(path);
    if ('code' in file.answer) {
      expect({ status, out }).toEqual({ status: 1, out: '' });
      expect(err).toContain(`[${file.answer.code}]`);
      expect(err).toContain(`odd-${i}.${file.ending}`);
      expect(err.trimEnd().split('\n')).toHaveLength(1);
      expect(err.length).toBeLessThan(700);
    } else {
      expect({ status, err }).toEqual({ status: 0, err: '' });
      const codes = JSON.parse(out).flatMap((route: { notes: { code: string }[] }) =>
        route.notes.map((note) => note.code),
      );
      if (file.answer.note !== null) expect(codes).toContain(file.answer.note);
      expect(out).not.toContain('NaN');
    }
  });

  it('A38: heights in feet are noted, never converted, and the figures stay those of the terrain', async () => {
    const bare = join(folder, 'bare.gpx');
    writeFileSync(bare, gpxOf(walk(200)));
    const [plain] = JSON.parse((await measure(bare)).out);
    const heightAt = (i: number): number => {
      const alongM = (plain.measures.distanceM * i) / 199;
      const nearest = plain.profile.reduce((best: number[], point: number[]) =>
        Math.abs((point[0] ?? 0) - alongM) < Math.abs((best[0] ?? 0) - alongM) ? point : best,
      );
      return nearest[1] ?? 0;
    };
    const points = Array.from({ length: 200 }, (_, i) =>
      trkpt((46.1 + i * 0.0002).toFixed(4), -30.2, `<ele>${(heightAt(i) / 0.3048).toFixed(1)}</ele>`),
    );
    const feet = join(folder, 'feet.gpx');
    writeFileSync(feet, gpxOf(points.join('')));
    const { status, out } = await measure(feet);
    expect(status).toBe(0);
    const [noted] = JSON.parse(out);
    expect(noted.notes.map((note: { code: string }) => note.code)).toContain('ele-looks-like-feet');
    // What the file recorded stands beside, and drives nothing.
    expect({ ...noted.measures, recorded: null }).toEqual({ ...plain.measures, recorded: null });
  });
});
