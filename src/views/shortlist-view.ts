import Type from 'typebox';
import { at } from '../array.ts';
import type { Design } from '../design.ts';
import { CRITERION_NAMES } from '../rank/criteria/index.ts';
import type { Fit } from '../rank/fit.ts';
import type { Gap } from '../rank/judgement.ts';
import type { DayWalk, LeastOuting } from '../rank/least-outing.ts';
import type { FitRequest } from '../rank/readiness.ts';
import { scoreParts } from '../rank/score.ts';
import { VERDICTS } from '../rank/verdict.ts';
import { attributionOf } from '../route/attribution.ts';
import * as t from '../schema.ts';
import { CAUTIONS, MEANING_OF_FITS } from '../text/cautions.ts';
import { reasonText } from '../text/criteria/index.ts';
import { gapsInWords, leastOutingText, questionsOf } from '../text/fit-words.ts';
import { notesView } from '../text/notes.ts';
import type { UnitSystem } from '../units.ts';
import { daySchema, dayView } from './day-view.ts';
import { measuresSchema, roundedMeasures } from './measures-view.ts';
import { places, placesOrNull } from './rounded.ts';

/** Version of the methods whose results are shown: changes when a figure would. */
export const METHOD_VERSION = '3';

export const verdict = t.oneOf(VERDICTS);
export const criterionName = t.oneOf(CRITERION_NAMES);
export const method = t.closed({ version: t.text, settings: t.text });
const place = Type.Integer({ minimum: 1 });
const placeOrNull = t.orNull(place);

export const noteSchema = t.closed({ code: t.text, text: t.text });
export const noteRef = t.named('Note', noteSchema);

/** A judgement as it is sent: its gap and what to check stand with the route. */
const criterion = t.closed({
  name: criterionName,
  demand: t.numberOrNull,
  capacity: t.numberOrNull,
  unit: t.text,
  headroom: t.numberOrNull,
  value: t.numberOrNull,
  verdict,
  /** Its weight, and what the score is multiplied by for it: the factors' product is the score. */
  weight: t.number,
  factor: t.number,
  reason: t.text,
});

const leastOuting = t.closed(
  {
    distanceM: t.number,
    gainM: t.number,
    rockClass: t.textOrNull,
    /** Days that lead there; where they are too many for a season, only the aim that is nearer. */
    count: Type.Integer(),
    steps: t.list(t.closed({ distanceM: t.number, gainM: t.number })),
    nearer: t.orNull(t.closed({ distanceM: t.number, gainM: t.number })),
    leaves: t.list(criterionName),
    text: t.text,
  },
  'the least outing on the date that makes what training changes fit, and what it leaves',
);

/** A route of a shortlist; `id` is where it is kept, in answers of the service. */
const entry = {
  name: t.text,
  verdict,
  score: t.number,
  /** Share of the samples in which it comes first; `null` where it has none: a route judged alone, incomplete, ruled out or far down. */
  firstShare: t.numberOrNull,
  /** The places that it takes nine times in ten, its own among them; `null` as above. */
  rankLow: placeOrNull,
  rankHigh: placeOrNull,
  measures: t.named('Measures', measuresSchema),
  criteria: t.list(criterion),
  day: t.orNull(t.named('Day', daySchema)),
  gap: t.list(
    t.closed({
      criterion: criterionName,
      need: Type.Record(Type.String(), Type.Union([t.number, t.text])),
      text: t.text,
    }),
  ),
  /** `null` where no outing changes the verdict. */
  leastOuting: t.orNull(leastOuting),
  milestones: t.list(
    t.closed({ name: t.oneOf(['distanceDay', 'gainDay', 'bothDay']), done: t.boolean, date: t.textOrNull }),
  ),
  toCheck: t.list(t.text),
  notes: t.list(noteRef),
  attribution: t.attribution,
};

const ranking = {
  date: t.text,
  method,
  meaning: t.text,
  cautions: t.list(t.text),
  /** How sure the order of the whole list is; `null` for a route judged alone. */
  order: t.orNull(
    t.closed({
      draws: place,
      clearWinner: t.orNull(t.boolean),
      level: t.list(t.closed({ from: place, to: place })),
    }),
  ),
  attribution: t.attribution,
};

const cohort = t.closed({ id: t.text, name: t.text });
const rank = place;
const id = t.text;

export const shortlistSchema = t.closed({
  cohort,
  ...ranking,
  routes: t.list(t.closed({ rank, id, ...entry })),
});

const stand = t.closed({ rank, verdict, score: t.number });

export const whatIfShortlistSchema = t.closed({
  ...shortlistSchema.properties,
  moved: t.list(
    t.closed({
      id,
      name: t.text,
      from: stand,
      to: stand,
      criteria: t.list(t.closed({ name: criterionName, from: verdict, to: verdict })),
    }),
    {
      description:
        'routes of the whole ranking whose own verdict or score is another, and which criteria did it',
    },
  ),
});

export const fitEntrySchema = t.closed({
  rank: Type.Null({ description: 'known among all routes only: see the shortlist' }),
  id,
  ...entry,
});

export const fitSchema = t.closed({ cohort, ...ranking, route: t.named('FitEntry', fitEntrySchema) });

/** Where no store keeps the routes and the cohort they have no ids; a route judged alone has no rank. */
export const entrySchema = t.closed({ rank: placeOrNull, ...entry });
const rankingSchema = t.closed({
  cohort: t.closed({ name: t.text }),
  ...ranking,
  routes: t.list(entrySchema),
});

export type ShortlistEntry = t.Shaped<typeof entrySchema>;
export type Shortlist = t.Shaped<typeof rankingSchema>;

/** A need is rounded up to a tenth (a share of time down): what is sent is never too little. */
function roundedGap<G extends Gap>(gap: G): G {
  const need = Object.entries(gap.need).map(([name, value]) => {
    if (typeof value === 'string') return [name, value];
    return [name, name === 'timeFactor' ? Math.floor(value * 1000) / 1000 : Math.ceil(value * 10) / 10];
  });
  return { ...gap, need: Object.fromEntries(need) };
}

/** Rounded up to a tenth, as a need is. */
function outingView(outing: LeastOuting, units: UnitSystem): t.Shaped<typeof leastOuting> {
  const up = ({ distanceM, gainM }: DayWalk) => ({
    distanceM: Math.ceil(distanceM * 10) / 10,
    gainM: Math.ceil(gainM * 10) / 10,
  });
  const down = ({ distanceM, gainM }: DayWalk) => ({
    distanceM: Math.floor(distanceM),
    gainM: Math.floor(gainM),
  });
  return {
    ...up(outing),
    rockClass: outing.rockClass,
    count: outing.count,
    steps: outing.steps.map(up),
    nearer: outing.nearer && down(outing.nearer),
    leaves: outing.leaves.map(({ name }) => name),
    text: leastOutingText(outing, units),
  };
}

export function entryView(fit: Fit, weights: Design['weights'], units: UnitSystem): ShortlistEntry {
  const { certainty } = fit;
  const parts = scoreParts(fit.judgements, weights);
  return {
    rank: fit.rank,
    name: fit.route.name,
    verdict: fit.verdict,
    score: places(fit.score, 4),
    firstShare: placesOrNull(certainty?.firstShare ?? null, 4),
    rankLow: certainty?.rankLow ?? null,
    rankHigh: certainty?.rankHigh ?? null,
    measures: roundedMeasures(fit.route.measures),
    criteria: fit.judgements.map((judgement, i) => ({
      name: judgement.name,
      demand: placesOrNull(judgement.demand, 3),
      capacity: placesOrNull(judgement.capacity, 3),
      unit: judgement.unit,
      headroom: placesOrNull(judgement.headroom, 4),
      value: placesOrNull(judgement.value, 4),
      verdict: judgement.verdict,
      weight: at(parts, i).weight,
      factor: places(at(parts, i).factor, 4),
      reason: reasonText(judgement, units),
    })),
    day: fit.timeline && dayView(fit.timeline),
    gap: gapsInWords(fit, units).map(roundedGap),
    leastOuting: fit.leastOuting && outingView(fit.leastOuting, units),
    milestones: fit.milestones,
    toCheck: questionsOf(fit, units),
    notes: notesView(fit.route.notes),
    attribution: attributionOf([fit.route]),
  };
}

/** The shortlist as programs read it. */
export function shortlistView(
  { record: { cohort, outings }, date, design }: FitRequest,
  ranked: readonly Fit[],
  units: UnitSystem,
): Shortlist {
  const order = ranked[0]?.certainty?.order ?? null;
  return {
    cohort: { name: cohort.name },
    date,
    method: { version: METHOD_VERSION, settings: design.version },
    meaning: MEANING_OF_FITS,
    cautions: CAUTIONS,
    order: order && { draws: order.trials, clearWinner: order.clearWinner, level: order.level },
    routes: ranked.map((fit) => entryView(fit, design.weights, units)),
    attribution: attributionOf([...ranked.map(({ route }) => route), ...outings]),
  };
}
