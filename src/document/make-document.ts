import { cannotBeMet } from '../day/day-plan.ts';
import type { Design } from '../design.ts';
import type { ProfileDrawing } from '../drawing/profile/profile-drawing.ts';
import type { TripPlan } from '../plan/trip-plan.ts';
import { verdictRank } from '../rank/verdict.ts';
import { bothUnitsText } from '../text/both-units.ts';
import { placeText } from '../text/place-words.ts';
import type { UnitSystem } from '../units.ts';
import { METHOD_VERSION } from '../views/shortlist-view.ts';
import { trainingView } from '../views/training-view.ts';
import { emergencyPage } from './emergency-page.ts';
import { goNoGo } from './go-no-go.ts';
import { leaderSheet } from './leader-sheet.ts';
import { officePage } from './office-page.ts';
import { participantPage } from './participant-page.ts';
import { DESIGN_SOURCE, type PeoplePage, TRADE } from './people-page.ts';
import type { PageKey, PlanDocument } from './plan-document.ts';
import { planFacts } from './plan-facts.ts';
import { routeCardSections } from './route-card-text.ts';
import { trainingPage } from './training-page.ts';
import { clockOf } from './turn-cells.ts';

/** The profile of a plan's day, with its times; `null` where no height under the line is known. */
export function planProfile({ fit, details }: TripPlan, units: UnitSystem): ProfileDrawing | null {
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

export const SOURCES_NOTE = `Marked “${DESIGN_SOURCE}”: this program’s own figure, which may be changed in its settings. “${TRADE}”: a rule of the trade without a published source.`;

/** The plan as pages for people, in the order they are printed. Without heights only what does not need a day. */
export function makeDocument(plan: TripPlan, design: Design, units: UnitSystem): PlanDocument {
  const { fit, date, details, training } = plan;
  const facts = details === null ? null : planFacts(plan, details, units, design);
  const { name } = fit.route;
  const title = `Trip plan · ${name} · ${date}`;
  const pages: { key: PageKey; page: PeoplePage }[] = [
    { key: 'leaders', page: leaderSheet(title, { ...plan, design, units }) },
  ];
  if (details !== null && facts !== null) {
    const card = routeCardSections(details.routeCard, units);
    pages.push(
      { key: 'routeCard', page: { title: `Route card · ${name}`, reader: 'leaders', sections: card } },
      { key: 'morning', page: goNoGo(facts, units, design) },
      { key: 'emergency', page: emergencyPage(facts, units, design) },
      // A day that is not for this group, whichever criterion says so, is handed to nobody.
      ...(verdictRank(fit.verdict) <= verdictRank('stretch')
        ? [{ key: 'participants' as const, page: participantPage(facts, units, design) }]
        : []),
      { key: 'office', page: officePage(facts, units, design) },
    );
  }
  pages.push({ key: 'training', page: trainingPage(name, trainingView(training, units)) });
  return {
    title,
    measures: bothUnitsText(fit.route, units),
    pages,
    profile: planProfile(plan, units),
    foot: `Estimates from terrain data and past days; the leader on the spot decides. Not for navigation. ${SOURCES_NOTE} Worked out by method ${METHOD_VERSION} with version ${design.version.replace(/^design-/, '')} of the settings.${heightsFrom(training.attribution)}`,
  };
}
