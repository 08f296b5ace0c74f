/** A note without figures. */
type Nothing = Readonly<Record<string, never>>;
type Count = { readonly count: number };
type Stretch = { readonly lengthM: number; readonly minutes: number };

/**
 * What each note says, as values: SI, the unit in the name. The words are in `text/notes.ts`. Notes are stored with
 * what they are about, so a value is added, never renamed.
 */
export interface NoteValues {
  // reading a file
  'name-missing': { readonly calledAs: string };
  'encoding-declared-wrong': Nothing;
  'undeclared-prefix': { readonly prefix: string };
  'nonstandard-namespace': { readonly found: 'newerElements' | 'otherNamespace' };
  'waypoints-dropped': Count & { readonly kept: number };
  'track-dropped': Count;
  'route-ignored': Count;
  'property-not-known': { readonly property: string; readonly pointer: string; readonly near: string };
  'feature-dropped': Count;
  'not-a-line-ignored': Count;
  'extra-numbers-ignored': Count;
  'longitude-normalised': Count;
  'crs-member': Nothing;
  // repairing its line
  'implausible-jump': Count;
  'long-leg': Count & { readonly overM: number };
  'segment-dropped': Count;
  'zero-points-dropped': Count;
  'duplicates-removed': Count;
  'segments-joined': Count & { readonly mostM: number };
  gap: Count & { readonly longestM: number } & (
      | { readonly kind: 'large'; readonly overM: number }
      | { readonly kind: 'small'; readonly overM: number; readonly mostM: number }
      | { readonly kind: 'recording' }
    );
  'short-route': { readonly lengthM: number };
  'coarse-geometry': { readonly spacingM: number };
  'time-zone-unknown': Count;
  'time-ignored': Count;
  'time-not-monotonic': Count;
  // tiles, and recorded heights beside them
  'dem-unit-assumed': Nothing;
  'dem-nodata-undeclared': { readonly lowestM: number; readonly highestM: number };
  'dem-empty': Nothing;
  'dem-truncated': Count & { readonly blocks: number };
  'dem-disagrees': { readonly differsM: number; readonly otherTile: string };
  'dem-block-unreadable': { readonly reason: string };
  'ele-looks-like-feet': Nothing;
  'ele-looks-ellipsoidal': { readonly offsetM: number };
  'ele-suspect':
    | { readonly found: 'allZero' }
    | { readonly found: 'mostOff'; readonly overM: number }
    | (Count & {
        readonly found: 'someOff';
        readonly points: number;
        readonly zeros: number;
        readonly overM: number;
        readonly firstAtM: number;
      });
  // measuring a route
  'way-back-assumed': Nothing;
  'ends-at-top': Nothing;
  'begins-at-top': Nothing;
  'no-coverage': Nothing;
  'partial-coverage': { readonly share: number; readonly heightsMissing: boolean };
  'treeline-unknown': { readonly lowM: number; readonly highM: number };
  'treeline-impossible': { readonly treelineM: number; readonly mostM: number };
  'treeline-doubtful': { readonly treelineM: number; readonly ruleM: number };
  'gain-uncertain': Nothing;
  // days that were walked
  'ends-cut': { readonly radiusM: number };
  'clock-jump': Count;
  'other-day-cut': Nothing;
  'stray-points': Count & { readonly overM: number };
  'drive-cut': { readonly start: Stretch | null; readonly end: Stretch | null };
  'ride-cut': { readonly rides: readonly Stretch[] };
  'rides-unseen': Nothing;
  'left-running': { readonly minutes: number };
  'date-differs': { readonly recorded: string; readonly stated: string };
  'jitter-left-out': { readonly recordedM: number; readonly countedM: number };
  'drop-out': Stretch;
  'long-stand': { readonly minutes: number; readonly overMin: number };
  'no-clock': Nothing;
  'clock-incomplete': Nothing;
  'heights-missing': Nothing;
  'second-recording': { readonly by: 'hand' | 'recording' } | (Count & { readonly by: 'segments' });
  'day-in-parts': Count;
  'time-implausible': { readonly movingMin: number; readonly distanceM: number; readonly gainM: number };
  'outing-implausible':
    | { readonly found: 'short' | 'long'; readonly distanceM: number }
    | { readonly found: 'bigClimb'; readonly gainM: number }
    | { readonly found: 'steep'; readonly gainM: number; readonly distanceM: number }
    | { readonly found: 'belowGround'; readonly gainM: number; readonly topM: number }
    | { readonly found: 'fast' | 'slow'; readonly movingMin: number };
  'date-ahead': { readonly date: string };
}

export type NoteCode = keyof NoteValues;

/** A note as an older program stored it: in words, with metres. */
export interface WordedNote {
  readonly code: string;
  readonly text: string;
}

export type NoteOf<Code extends NoteCode> = {
  readonly [C in Code]: { readonly code: C; readonly values: NoteValues[C] };
}[Code];

/** Something the reader repaired, left out or wants looked at; travels with the result. */
export type Note = NoteOf<NoteCode> | WordedNote;

/** The note where it is to be given, else nothing. */
export const noteIf = (isGiven: boolean, note: Note): Note[] => (isGiven ? [note] : []);

/** Codes of the notes that say a number alone. */
type CountCode = {
  [Code in NoteCode]: Count extends NoteValues[Code]
    ? NoteValues[Code] extends Count
      ? Code
      : never
    : never;
}[NoteCode];

/** The note of something that was counted, where there was any. */
export const countNote = (code: CountCode, count: number): Note[] =>
  noteIf(count > 0, { code, values: { count } } as Note);
