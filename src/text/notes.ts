import type { Note, NoteCode, NoteValues, WordedNote } from '../notes.ts';
import type { UnitSystem } from '../units.ts';
import { kilometresAsFine, metresAsFine } from './fine-length.ts';
import { heightText, withoutStop } from './words.ts';

type Words<Code extends NoteCode> = (values: NoteValues[Code], units: UnitSystem) => string;

type Ride = { readonly lengthM: number; readonly minutes: number };

const minutesText = (minutes: number): string => `${Math.round(minutes)} min`;

const rideText = ({ lengthM, minutes }: Ride, units: UnitSystem): string =>
  `${kilometresAsFine(lengthM, 1, units)} (${minutesText(minutes)})`;

const gapText: Words<'gap'> = (gap, units) => {
  const { count, longestM } = gap;
  switch (gap.kind) {
    case 'large':
      return `WARNING: ${count} gaps of more than ${kilometresAsFine(gap.overM, 0, units)}, the longest ${kilometresAsFine(longestM, 1, units)}, are MISSING from this route. Its distance, climb and time are too low; do not plan with it before the line is complete.`;
    case 'small':
      return `${count} gaps of ${metresAsFine(gap.overM, units)} to ${kilometresAsFine(gap.mostM, 0, units)}, the longest ${metresAsFine(Math.round(longestM), units)}, are not counted in distance and climb: the route is longer than measured.`;
    case 'recording': {
      const longest = metresAsFine(Math.round(longestM), units);
      const what = count === 1 ? `a gap of ${longest}` : `${count} gaps, the longest ${longest},`;
      return `${what} in the recording counts in neither distance nor climb nor time: more was walked than is counted`;
    }
  }
};

const suspectText: Words<'ele-suspect'> = (suspect, units) => {
  switch (suspect.found) {
    case 'allZero':
      return 'Every recorded height is 0: the device had none. They are not used to judge anything.';
    case 'mostOff':
      return `The recorded heights are more than ${metresAsFine(suspect.overM, units)} off the ground on most of the line: the device or the tiles are wrong. Check one known place.`;
    case 'someOff': {
      const { count, points, zeros, overM, firstAtM } = suspect;
      const first =
        units === 'us' ? kilometresAsFine(firstAtM, 1, units) : `km ${(firstAtM / 1000).toFixed(1)}`;
      return `${count} of ${points} recorded heights are more than ${metresAsFine(overM, units)} off the ground while the others agree with it${zeros > 0 ? ` (${zeros} of them are 0)` : ''}; the first at ${first}.`;
    }
  }
};

const implausibleText: Words<'outing-implausible'> = (doubt, units) => {
  const length = (metres: number) => metresAsFine(metres, units);
  switch (doubt.found) {
    case 'short':
      return `${length(doubt.distanceM)} is a very short day: is the distance in kilometres or miles?`;
    case 'long':
      return `${length(doubt.distanceM)} is a very long day: is the distance right?`;
    case 'bigClimb':
      return `${length(doubt.gainM)} is a very big climb: is it in feet?`;
    case 'steep':
      return `${length(doubt.gainM)} of climb in ${length(doubt.distanceM)} there and back is steeper than a path: is the climb in feet?`;
    case 'belowGround':
      return `a climb of ${length(doubt.gainM)} to a top of ${length(doubt.topM)} would start below the lowest ground on Earth: check both`;
    case 'fast':
      return `${doubt.movingMin} min is far too fast for the distance and the climb: is the time in hours?`;
    case 'slow':
      return `${doubt.movingMin} min of moving is very slow for the distance and the climb: were stops counted, or days?`;
  }
};

/** What each note says to people. A new note is a line in `NoteValues` and one here. */
const NOTE_WORDS: { readonly [Code in NoteCode]: Words<Code> } = {
  'name-missing': ({ calledAs }) => `The route has no name in the file and is called "${calledAs}".`,
  'encoding-declared-wrong': () => 'The file says it is UTF-16 but is not; it was read as UTF-8.',
  'undeclared-prefix': ({ prefix }) =>
    `The file uses the undeclared prefix ${prefix}; those elements were skipped.`,
  'nonstandard-namespace': ({ found }) =>
    found === 'newerElements'
      ? 'The file calls itself GPX 1.0 but holds elements of GPX 1.1; both were read.'
      : 'The root element does not name the GPX 1.0 or 1.1 namespace; the file was read by element names.',
  'waypoints-dropped': ({ count, kept }) => `The file holds ${count} waypoints; the first ${kept} were kept.`,
  'track-dropped': ({ count }) => `${count} tracks or routes of the file hold no line and were left out.`,
  'route-ignored': ({ count }) =>
    `${count} planned routes (rte) of the file were ignored in favour of its recorded tracks (trk). Give them other names to keep both.`,
  'property-not-known': ({ property, pointer, near }) =>
    `The property ${property} at ${pointer} was ignored. If "${near}" was meant, write it so.`,
  'feature-dropped': ({ count }) => `${count} features have no geometry and were left out.`,
  'not-a-line-ignored': ({ count }) => `${count} points or areas beside the lines were ignored.`,
  'extra-numbers-ignored': ({ count }) =>
    `${count} positions have more than three numbers; the rest was ignored.`,
  'longitude-normalised': ({ count }) =>
    `${count} longitudes beyond 180 degrees were turned into the usual range.`,
  'crs-member': () =>
    'The file has an outdated "crs" member; it names longitude and latitude on WGS 84, which GeoJSON means anyway.',

  'implausible-jump': ({ count }) => `${count} points far off the line were dropped as bad fixes.`,
  'long-leg': ({ count, overM }, units) =>
    `${count} straight legs of the line are longer than ${metresAsFine(overM, units)}; climb and time there are too low.`,
  'segment-dropped': ({ count }) => `${count} segments with fewer than two different points were left out.`,
  'zero-points-dropped': ({ count }) => `${count} points at 0,0 were dropped: the receiver had no fix.`,
  'duplicates-removed': ({ count }) => `${count} points at the place of the point before were removed.`,
  'segments-joined': ({ count, mostM }, units) =>
    `${count} breaks of at most ${metresAsFine(mostM, units)} in the line were closed with a straight step.`,
  gap: gapText,
  'short-route': ({ lengthM }, units) =>
    `The line is only ${metresAsFine(Math.round(lengthM), units)} long. Check that the file holds the whole route.`,
  'coarse-geometry': ({ spacingM }, units) =>
    `The points are ${metresAsFine(Math.round(spacingM), units)} apart on average: climb, distance and time above treeline come out too low. Use a recorded or denser line.`,
  'time-zone-unknown': ({ count }) =>
    `${count} point times have no time zone and were not used. Export with UTC times (ending in Z).`,
  'time-ignored': ({ count }) => `${count} point times are no times, or lie before 1970, and were not used.`,
  'time-not-monotonic': ({ count }) =>
    `Time runs backwards at ${count} points. The order of the file was kept; durations cannot be trusted.`,

  'dem-unit-assumed': () =>
    'The header states no unit of height: metres are assumed. If the heights are feet, every figure is wrong by 3.28: check one known summit.',
  'dem-nodata-undeclared': ({ lowestM, highestM }, units) =>
    `The header names no void number: the usual ones (−32768, −32767, −9999, −99999, −999999, 32767, 65535) count as void, and so do heights below −${heightText(-lowestM, units)} or above ${heightText(highestM, units)}.`,
  'dem-empty': () => 'No block of the file holds data: all of it is void.',
  'dem-truncated': ({ count, blocks }) =>
    `${count} of ${blocks} blocks lie beyond the end of the file, which was cut short: their heights are void. Fetch it again.`,
  'dem-disagrees': ({ differsM, otherTile }, units) =>
    `Its heights differ by ${metresAsFine(Math.round(differsM), units)} in the middle from those of ${otherTile}, which it overlaps: check unit and vertical reference of both.`,
  'dem-block-unreadable': ({ reason }) =>
    `Part of the file cannot be read (${reason}): its heights count as void. Fetch it again.`,
  'ele-looks-like-feet': () =>
    'The recorded heights are about 3.28 times the ground: they look like feet, where GPX and GeoJSON ask for metres. They are left as they are.',
  'ele-looks-ellipsoidal': ({ offsetM }, units) =>
    `The recorded heights are ${metresAsFine(Math.round(Math.abs(offsetM)), units)} ${offsetM > 0 ? 'above' : 'below'} the ground all along: they look like heights above the ellipsoid, or the device was not set at the start. They are left as they are.`,
  'ele-suspect': suspectText,

  'way-back-assumed': () =>
    'the file ends at the top; the way back is taken to be the same way, and all figures are there and back',
  'ends-at-top': () =>
    'the line ends at its top: these figures are for the way up only; ranking adds the same way back',
  'begins-at-top': () =>
    'the line begins at its top and only goes down: draw the way up too if the group walks it',
  'no-coverage': () => 'no elevation tile covers this line: add tiles for its area',
  'partial-coverage': ({ share, heightsMissing }) =>
    `heights are known for ${Math.round(share * 1000) / 10} % of the line; ${heightsMissing ? 'gain and highest point may be larger than shown' : 'short gaps were bridged along the line'}`,
  'treeline-unknown': ({ lowM, highM }, units) => {
    const [low, high] = [Math.round(lowM), Math.round(highM)];
    const between =
      units === 'us'
        ? `${metresAsFine(low, units)} and ${metresAsFine(high, units)}`
        : `${low} and ${high} m`;
    return `treeline is not stated: give its height for the route; by latitude it may lie between ${between}`;
  },
  'treeline-impossible': ({ treelineM, mostM }, units) =>
    `a treeline of ${metresAsFine(Math.round(treelineM), units)} is not used: no trees grow above ${metresAsFine(Math.round(mostM), units)} at this latitude: check its unit`,
  'treeline-doubtful': ({ treelineM, ruleM }, units) =>
    `a treeline of ${metresAsFine(Math.round(treelineM), units)} is far from what this latitude has (about ${metresAsFine(Math.round(ruleM), units)} or lower): check it and its unit`,
  'gain-uncertain': () => 'the gain is doubtful: look at its band, not at its value',

  'ends-cut': ({ radiusM }, units) =>
    `what lay within ${homeCircleText(radiusM, units)} at an end of the track was cut before anything was measured`,
  'clock-jump': ({ count }) =>
    `the clock jumps at ${count} points (another hour, day or year): their times are not used`,
  'other-day-cut': () =>
    'the recording goes on over a night: only one day of it counts here; give the other as an outing of its own',
  'stray-points': ({ count, overM }, units) =>
    `${count} points to which the line jumps off and back, over ${metresAsFine(overM, units)}, were left out as bad fixes`,
  'drive-cut': ({ start, end }, units) => {
    const ends = [
      ...(start === null ? [] : [`${rideText(start, units)} at the start`]),
      ...(end === null ? [] : [`${rideText(end, units)} at the end`]),
    ];
    return `a drive was cut off, faster than a group walks: ${ends.join(', ')}`;
  },
  'ride-cut': ({ rides }, units) =>
    `faster than a group walks (a lift, a shuttle, or a hole in the recording), and left out of distance, climb and time: ${rides.map((ride) => rideText(ride, units)).join(', ')}`,
  'rides-unseen': () =>
    'without times that can be used, a drive or a lift cannot be told from walking: check that the recording holds only what was walked',
  'left-running': ({ minutes }) =>
    `the device stayed at one place for ${minutesText(minutes)} at an end of the recording: cut off, and no stop of the walk`,
  'date-differs': ({ recorded, stated }) =>
    `the recording is of ${recorded}, the outing of ${stated}: the stated date counts; correct it if it is wrong`,
  'jitter-left-out': ({ recordedM, countedM }, units) =>
    `the line as recorded is ${kilometresAsFine(recordedM, 1, units)} long; ${kilometresAsFine(countedM, 1, units)} count, without what the receiver wandered at rests and beside the way`,
  'drop-out': ({ lengthM, minutes }, units) =>
    `nothing was recorded for ${minutesText(minutes)} in all while ${metresAsFine(Math.round(lengthM), units)} were covered: neither moving nor standing, and no pace is learned from there`,
  'long-stand': ({ minutes, overMin }) =>
    `${minutesText(minutes)} at one place, at a stretch of over ${overMin} min: not counted among the stops of the walk`,
  'no-clock': () => 'no usable times: counts for distance and gain, not for pace',
  'clock-incomplete': () =>
    'times are missing for part of the way: what is not wholly timed does not count for the pace',
  'heights-missing': () =>
    'heights are missing under the line: counts for distance only; add elevation tiles for its area',
  'second-recording': (second) =>
    second.by === 'segments'
      ? `${second.count} segments were recorded at the same time as a longer one, by a second device: the way counts once`
      : `the same walk was also ${second.by === 'hand' ? 'entered by hand' : 'recorded a second time'}: it counts once`,
  'day-in-parts': ({ count }) => `${count} recordings of this day, one after the other, count as one outing`,
  'time-implausible': ({ movingMin, distanceM, gainM }, units) =>
    `${movingMin} min for ${metresAsFine(distanceM, units)} with ${metresAsFine(gainM, units)} of climb is faster than people walk: it does not count for the pace; correct movingMin`,
  'outing-implausible': implausibleText,
  'date-ahead': ({ date }) => `${date} lies ahead: it counts as walked for trips from that day on`,
};

/** Where tracks are cut, for people: the stored place may lie half of 0.01° off, in both directions. */
const homeCircleText = (radiusM: number, units: UnitSystem): string =>
  `${metresAsFine(radiusM, units)} of the meeting place (which is kept to 0.01° only, so up to ${kilometresAsFine(800, 1, units)} more)`;

/** What a note says, in the units of its reader. One that an older program stored stays in metres. */
export function noteText(note: Note, units: UnitSystem): string {
  if ('text' in note) return note.text;
  const words = NOTE_WORDS[note.code] as (values: unknown, units: UnitSystem) => string;
  return words(note.values, units);
}

/** The same without its full stop, to stand in a row of others. */
export const noteClause = (note: Note, units: UnitSystem): string => withoutStop(noteText(note, units));

/** Notes as they are sent: code and words, in metres. */
export const notesView = (notes: readonly Note[]): WordedNote[] =>
  notes.map((note) => ({ code: note.code, text: noteText(note, 'metric') }));
