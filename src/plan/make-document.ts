import type { Design } from '../design.ts';
import type { CohortRecord, Fit } from '../rank/rank-routes.ts';
import { bothUnitsText } from '../text/both-units.ts';
import { placeText } from '../text/place-words.ts';
import type { UnitSystem } from '../units.ts';
import { METHOD_VERSION } from '../views/shortlist-view.ts';
import type { DayDetails } from './day-details.ts';
import { cannotBeMet } from './day-views.ts';
import { emergencyPage } from './emergency-page.ts';
import { goNoGo } from './go-no-go.ts';
import { clockOf, leaderSheet, sourcesNote, titleOf } from './leader-sheet.ts';
import { officePage } from './office-page.ts';
import { participantPage } from './participant-page.ts';
import type { PeoplePage } from './people-page.ts';
import type { PageKey, PlanDocument, ProfileDrawing } from './plan-document.ts';
import { routeCardSections } from './route-card-text.ts';
import { trainingPage } from './training-page.ts';
import type { TrainingPlan } from './training-plan.ts';

export interface DocumentInput {
  readonly fit: Fit;
  readonly record: CohortRecord;
  readonly date: string;
  /** `null` where no height under the line is known. */
  readonly details: DayDetails | null;
  readonly training: TrainingPlan;
  readonly paceFrom: {
    readonly clockedOutings: number;
    readonly stopsMinPerHour: number;
    readonly checkedOn: string;
  };
  readonly spareDate: { readonly date: string; readonly isSuggestion: boolean } | null;
  readonly design: Design;
  readonly units: UnitSystem;
}

function profileOf({ fit, details, units }: DocumentInput): ProfileDrawing | null {
  if (details === null) return null;
  const { day } = details;
  const clock = clockOf(day);
  return {
    points: fit.route.profile,
    treelineM: fit.route.measures.treelineM,
    units,
    marks: day.places.map((place) => ({
      distanceM: place.distanceM,
      heightM: place.elevationM,
      name: placeText(place, units),
      times:
        place.kind === 'trailhead'
          ? clock(day.timeline.startMs)
          : `${clock(place.at.p50Ms)} (${clock(place.at.p10Ms)}–${clock(place.at.p90Ms)})`,
      by: place.cutOffMs === null || cannotBeMet(place) ? null : `by ${clock(place.cutOffMs)}`,
    })),
    text: `Height along ${fit.route.name}, with the times of the day at each checkpoint; the same figures stand in the table of the day.`,
  };
}

/** Whose heights they are, where the tiles ask for words. */
function heightsFrom(words: readonly string[]): string {
  return words.length === 0 ? '' : ` Heights: ${words.join('. ').replace(/\.\.+/g, '.')}`;
}

/** The plan as pages for people, in the order they are printed. Without heights only what does not need a day. */
export function makeDocument(input: DocumentInput): PlanDocument {
  const { fit, date, details, training, design, units } = input;
  const pages: { key: PageKey; page: PeoplePage }[] = [{ key: 'leaders', page: leaderSheet(input) }];
  if (details !== null) {
    const { facts, routeCard } = details;
    pages.push(
      {
        key: 'routeCard',
        page: {
          title: `Route card · ${fit.route.name}`,
          reader: 'leaders',
          sections: routeCardSections(routeCard, units),
        },
      },
      { key: 'morning', page: goNoGo(facts, units, design) },
      { key: 'emergency', page: emergencyPage(facts, units, design) },
      { key: 'participants', page: participantPage(facts, units, design) },
      { key: 'office', page: officePage(facts, units, design) },
    );
  }
  pages.push({ key: 'training', page: trainingPage(fit.route.name, training) });
  return {
    title: titleOf(fit, date),
    measures: bothUnitsText(fit.route, units),
    pages,
    profile: profileOf(input),
    foot: `Estimates from terrain data and past days; the leader on the spot decides. Not for navigation. ${sourcesNote} Worked out by method ${METHOD_VERSION} with version ${design.version.replace(/^design-/, '')} of the settings.${heightsFrom(training.attribution)}`,
  };
}
