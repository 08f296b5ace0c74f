import {
  type Demonstrated,
  demonstrated,
  demonstratedWith,
  type Goers,
  labelsOf,
  wasThere,
} from '../capability/demonstrated.ts';
import { remaining } from '../capability/detraining.ts';
import { rockOf } from '../capability/extra-time.ts';
import { joinDays } from '../capability/join-days.ts';
import { type Milestone, type MilestoneDemand, milestonesOn } from '../capability/milestones.ts';
import type { Outing } from '../capability/outing.ts';
import { fitPaceModel, noFasterThanPrior, type PaceModel } from '../capability/pace-model.ts';
import type { DayWishes } from '../day/walk-day.ts';
import type { AgeBand, Design } from '../design.ts';
import { daysBetween } from '../earth/local-time.ts';
import type { CohortInput } from '../ingest/cohort-file.ts';
import type { Question } from './questions.ts';

/** A cohort with its outings measured. */
export interface CohortRecord {
  readonly cohort: CohortInput;
  readonly outings: readonly Outing[];
  /** A start that the leader chose for the day (`HH:MM`); missing or `null`: the one worked out. */
  readonly start?: string | null;
}

/** Who asks about routes, for which date, by which settings. */
export interface FitRequest {
  readonly record: CohortRecord;
  /** `YYYY-MM-DD`. */
  readonly date: string;
  readonly design: Design;
}

/** What a cohort wishes of its day. */
export const wishesOf = ({ cohort, start = null }: CohortRecord): DayWishes => ({
  earliestStart: cohort.earliestStart ?? null,
  deadline: cohort.deadline ?? null,
  headlamps: cohort.headlamps ?? null,
  start,
});

/** What is learned of a cohort for a date, once for all routes. */
export interface Readiness {
  readonly shown: Demonstrated;
  readonly pace: PaceModel;
  readonly ageBand: AgeBand;
  readonly goers: Goers;
  /** Outings up to the date, and of these the ones with somebody who goes. */
  readonly past: readonly Outing[];
  readonly theirs: readonly Outing[];
  /** How much an outing counts for the pace, 0 to 1. */
  readonly weightOf: (outing: Outing) => number;
  /** What everyone who goes will have shown with one more day on the record, of up to the date. */
  readonly shownWith: (day: Outing) => Demonstrated;
  readonly milestonesOf: (demand: MilestoneDemand) => readonly Milestone[];
  /** What to ask about the cohort, whatever the route. */
  readonly questions: readonly Question[];
}

const upTo = (date: string, outings: readonly Outing[]): readonly Outing[] =>
  outings.filter((outing) => daysBetween(outing.date, date) >= 0);

export function readinessOf({ record, date, design }: FitRequest): Readiness {
  const { cohort } = record;
  const outings = joinDays(record.outings, design);
  const ageBand = cohort.ageBand ?? '12-14';
  const past = upTo(date, outings);
  const goers = { members: cohort.members ?? null, going: cohort.going ?? null, ageBand };
  const labels = labelsOf(goers);
  const shownWith = demonstratedWith(past, goers, date, design);
  const shown = shownWith(null);

  // Only days with somebody who goes, and the less the longer ago: the pace of others, or of years ago, is not theirs.
  const theirs = past.filter((outing) => wasThere(outing, labels));
  const weightOf = (outing: Outing) => remaining(daysBetween(outing.date, date), ageBand, design.detraining);
  const fitted = fitPaceModel(theirs, design, weightOf);
  const clocked = theirs.filter((outing) => outing.parts.length > 0 && weightOf(outing) > 0);
  const unknown = (labels ?? []).filter((label) => !clocked.some((outing) => wasThere(outing, [label])));
  const learned = unknown.length > 0 && fitted.outings > 0 ? noFasterThanPrior(fitted) : fitted;
  const pace = { ...learned, rock: rockOf(cohort.participants + (cohort.leaders ?? 1), design) };

  const questions: Question[] = [];
  if (cohort.ageBand == null) questions.push({ code: 'ageBandNotStated' });
  if (shown.assumedForAll) questions.push({ code: 'whoWasThereNotStated' });
  const going = cohort.going?.length ?? 0;
  const labelled = going > 0 ? going : (labels?.length ?? cohort.participants);
  if (labelled < cohort.participants) {
    questions.push({ code: 'fewLabels', labelled, participants: cohort.participants });
  }
  if (unknown.length > 0 && fitted.outings > 0) questions.push({ code: 'someWithoutClock' });
  const later = outings.length - past.length;
  if (later > 0) questions.push({ code: 'outingsAfter', count: later });
  if (outings.some(({ notes }) => notes.some(({ code }) => code === 'time-implausible'))) {
    questions.push({ code: 'timeImplausible' });
  }
  return {
    shown,
    pace,
    ageBand,
    goers,
    past,
    theirs,
    weightOf,
    shownWith: (day) =>
      // A day beside others of its date may be one of them, or a part of it.
      record.outings.some((outing) => outing.date === day.date)
        ? demonstrated(upTo(date, joinDays([...record.outings, day], design)), goers, date, design)
        : shownWith(day),
    milestonesOf: milestonesOn(past, goers, date, design),
    questions,
  };
}
