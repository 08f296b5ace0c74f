import { describe, expect, it } from 'vitest';
import type { Note, NoteCode, NoteValues } from '../../src/notes.ts';
import { noteClause, notesView, noteText } from '../../src/text/notes.ts';
import { unitsNotOf } from '../support/unit-words.ts';

const COUNT = { count: 1234 };
const RIDE = { lengthM: 12_345, minutes: 42.4 };

/** Every note, once for each of its forms. */
const EXAMPLES: { readonly [Code in NoteCode]: readonly NoteValues[Code][] } = {
  'name-missing': [{ calledAs: 'unnamed route' }],
  'encoding-declared-wrong': [{}],
  'undeclared-prefix': [{ prefix: '"gpxx"' }],
  'nonstandard-namespace': [{ found: 'newerElements' }, { found: 'otherNamespace' }],
  'waypoints-dropped': [{ ...COUNT, kept: 500 }],
  'track-dropped': [COUNT],
  'route-ignored': [COUNT],
  'property-not-known': [{ property: '"closure"', pointer: '/features/0/properties', near: 'closures' }],
  'feature-dropped': [COUNT],
  'not-a-line-ignored': [COUNT],
  'extra-numbers-ignored': [COUNT],
  'longitude-normalised': [COUNT],
  'crs-member': [{}],
  'implausible-jump': [COUNT],
  'long-leg': [{ ...COUNT, overM: 2000 }],
  'segment-dropped': [COUNT],
  'zero-points-dropped': [COUNT],
  'duplicates-removed': [COUNT],
  'segments-joined': [{ ...COUNT, mostM: 50 }],
  gap: [
    { kind: 'large', count: 2, longestM: 5012.3, overM: 2000 },
    { kind: 'small', count: 2, longestM: 640.4, overM: 50, mostM: 2000 },
    { kind: 'recording', count: 1, longestM: 640.4 },
    { kind: 'recording', count: 2, longestM: 640.4 },
  ],
  'short-route': [{ lengthM: 640.4 }],
  'coarse-geometry': [{ spacingM: 240.2 }],
  'time-zone-unknown': [COUNT],
  'time-ignored': [COUNT],
  'time-not-monotonic': [COUNT],
  'dem-unit-assumed': [{}],
  'dem-nodata-undeclared': [{ lowestM: -500, highestM: 9000 }],
  'dem-empty': [{}],
  'dem-truncated': [{ count: 3, blocks: 40 }],
  'dem-disagrees': [{ differsM: 41.7, otherTile: 'east.tif' }],
  'dem-block-unreadable': [{ reason: 'unexpected end of data' }],
  'ele-looks-like-feet': [{}],
  'ele-looks-ellipsoidal': [{ offsetM: 51.5 }, { offsetM: -27.5 }],
  'ele-suspect': [
    { found: 'allZero' },
    { found: 'mostOff', overM: 100 },
    { found: 'someOff', count: 3, points: 40, zeros: 1, overM: 100, firstAtM: 3210 },
  ],
  'way-back-assumed': [{}],
  'ends-at-top': [{}],
  'begins-at-top': [{}],
  'no-coverage': [{}],
  'partial-coverage': [
    { share: 0.9876, heightsMissing: true },
    { share: 0.9876, heightsMissing: false },
  ],
  'treeline-unknown': [{ lowM: 1130.4, highM: 2329.6 }],
  'treeline-impossible': [{ treelineM: 4900, mostM: 3251.2 }],
  'treeline-doubtful': [{ treelineM: 2345.2, ruleM: 1205.3 }],
  'gain-uncertain': [{}],
  'ends-cut': [{ radiusM: 500 }],
  'clock-jump': [COUNT],
  'other-day-cut': [{}],
  'stray-points': [{ ...COUNT, overM: 50 }],
  'drive-cut': [
    { start: RIDE, end: null },
    { start: RIDE, end: RIDE },
  ],
  'ride-cut': [{ rides: [RIDE, RIDE] }],
  'rides-unseen': [{}],
  'left-running': [{ minutes: 75.3 }],
  'date-differs': [{ recorded: '2026-06-20', stated: '2026-06-27' }],
  'jitter-left-out': [{ recordedM: 12_470, countedM: 12_010 }],
  'drop-out': [{ minutes: 17.6, lengthM: 842.2 }],
  'long-stand': [{ minutes: 95.2, overMin: 45 }],
  'no-clock': [{}],
  'clock-incomplete': [{}],
  'heights-missing': [{}],
  'second-recording': [{ by: 'hand' }, { by: 'recording' }, { by: 'segments', count: 2 }],
  'day-in-parts': [COUNT],
  'time-implausible': [{ movingMin: 10, distanceM: 9200, gainM: 610 }],
  'outing-implausible': [
    { found: 'short', distanceM: 9 },
    { found: 'long', distanceM: 90_000 },
    { found: 'bigClimb', gainM: 4000 },
    { found: 'steep', gainM: 1700, distanceM: 5000 },
    { found: 'belowGround', gainM: 1700, topM: 900 },
    { found: 'fast', movingMin: 4 },
    { found: 'slow', movingMin: 3000 },
  ],
  'date-ahead': [{ date: '2027-01-01' }],
};

/** Notes about a unit itself name it in whatever units they are read. */
const ABOUT_UNITS: readonly string[] = ['dem-unit-assumed', 'ele-looks-like-feet', 'outing-implausible'];

const notes = Object.entries(EXAMPLES).flatMap(([code, all]) =>
  all.map((values): Note => ({ code, values }) as Note),
);

describe('a note in words', () => {
  it.each(notes)('is in the units of its reader: %j', (note) => {
    for (const units of ['metric', 'us'] as const) {
      const text = noteText(note, units);
      expect(text).not.toMatch(/undefined|NaN|null|\[object/);
      expect(unitsNotOf(units, text, ABOUT_UNITS.includes(note.code))).toEqual([]);
    }
  });

  it('is as fine in feet and miles as in metres', () => {
    const gap: Note = {
      code: 'gap',
      values: { kind: 'small', count: 3, overM: 50, mostM: 2000, longestM: 640.4 },
    };
    expect(noteText(gap, 'metric')).toContain('gaps of 50 m to 2 km, the longest 640 m,');
    expect(noteText(gap, 'us')).toContain('gaps of 160 ft to 1.2 mi, the longest 2,100 ft,');
    const treeline: Note = { code: 'treeline-unknown', values: { lowM: 1130.4, highM: 2329.6 } };
    expect(noteText(treeline, 'metric')).toContain('between 1130 and 2330 m');
    expect(noteText(treeline, 'us')).toContain('between 3,710 ft and 7,640 ft');
  });

  it('keeps the words of a note that an older program stored', () => {
    const stored = { code: 'short-route', text: 'The line is only 640 m long.' };
    expect(noteText(stored, 'us')).toBe(stored.text);
    expect(noteClause(stored, 'us')).toBe('The line is only 640 m long');
    expect(notesView([stored, { code: 'dem-empty', values: {} }])).toEqual([
      stored,
      { code: 'dem-empty', text: 'No block of the file holds data: all of it is void.' },
    ]);
  });
});
