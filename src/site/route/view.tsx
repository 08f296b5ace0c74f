import { MapFigure } from '../../drawing/map/map-figure.tsx';
import type { MapView } from '../../drawing/map/map-svg.tsx';
import type { ProfileDrawing } from '../../drawing/profile/profile-drawing.ts';
import { ProfileFigure } from '../../drawing/profile/svg.tsx';
import { Words } from '../../markup/words.tsx';
import type { Fit } from '../../rank/fit.ts';
import type { StoredCohort } from '../../storage/cohorts.ts';
import type { StoredRoute } from '../../storage/routes.ts';
import { bothUnitsText } from '../../text/both-units.ts';
import { MEANING_OF_FITS } from '../../text/cautions.ts';
import { questionText, reasonText } from '../../text/criteria/index.ts';
import { helpsOf, questionsOf } from '../../text/fit-words.ts';
import { measureRows } from '../../text/measure-words.ts';
import { noteText } from '../../text/notes.ts';
import { canBeChosen, dayText, shortNightText, TIMES_READ } from '../../text/shortlist-words.ts';
import { statedRows } from '../../text/stated-words.ts';
import { VERDICT_TEXT } from '../../text/verdict-words.ts';
import { weekdayText } from '../../text/words.ts';
import type { PageFrame } from '../page.ts';
import { pageHtml } from '../page-shell.tsx';
import {
  CardTable,
  LinkRow,
  MeasureTable,
  NamedParagraph,
  Paragraphs,
  textColumns,
  WordList,
} from '../parts.tsx';
import { marksOf, Reach, ReachNames, ReachShapes } from '../reach.tsx';
import { lackingOf } from '../routes/route-words.ts';

interface FitPart {
  readonly cohort: StoredCohort;
  readonly date: string;
  readonly fit: Fit;
  /** The way there; `null`: not known. */
  readonly drive: Parameters<typeof shortNightText>[0];
}

export interface RoutePageView {
  readonly stored: StoredRoute;
  /** `null`: terrain only. */
  readonly fitPart: FitPart | null;
  readonly cohorts: readonly StoredCohort[];
  readonly map: MapView | null;
  readonly profile: ProfileDrawing | null;
  readonly along: string;
  readonly places: { readonly columns: readonly string[]; readonly rows: readonly (readonly string[])[] };
}

interface RouteProps {
  readonly view: RoutePageView;
  readonly frame: PageFrame;
}

function Along({ data }: { readonly data: string }) {
  return (
    <div class="along screen" data-along={data} hidden>
      <label for="along">Along the route</label>
      <p class="hint" id="along-hint">
        Point at the map or the profile, or use the arrow keys here.
      </p>
      <input type="range" id="along" min="0" max="1" step="1" value="0" aria-describedby="along-hint" />
      <p id="along-text" class="said" />
    </div>
  );
}

function FitParts({ view, frame, part }: RouteProps & { readonly part: FitPart }) {
  const { cohort, date, fit, drive } = part;
  const { units } = frame;
  const routeId = view.stored.id;
  const query = `?date=${date}`;
  const path = `/cohorts/${cohort.id}/routes/${routeId}`;
  const day = dayText(fit, drive?.departMs ?? null);
  const night = shortNightText(drive);
  const toCheck = questionsOf(fit, units);
  const helps = helpsOf(fit, units);
  const noted = canBeChosen(fit) ? (fit.route.attributes.notes ?? '') : '';
  const marks = marksOf(fit);
  return (
    <>
      <p class="lead">
        <Words text={weekdayText(date)} />: <strong>{VERDICT_TEXT[fit.verdict]}</strong>.{' '}
        <span class="quiet">{MEANING_OF_FITS}</span>
      </p>
      {day !== null && (
        <p>
          <Words text={day} />. <span class="quiet">{TIMES_READ}</span>
        </p>
      )}
      {night !== null && <Paragraphs texts={[`${night.charAt(0).toUpperCase()}${night.slice(1)}.`]} />}
      {toCheck.length > 0 && (
        <div class="box notice">
          <p>
            <strong>To check before it is chosen.</strong> What is not known is never taken to be fine.
          </p>
          <WordList texts={toCheck} />
        </div>
      )}
      <NamedParagraph name="Would help" text={helps.length === 0 ? '' : `${helps.join('; ')}.`} />
      <NamedParagraph name="Noted with the route" text={noted} />
      <LinkRow
        frame={frame}
        hasMain
        links={[
          [`${path}/plan${query}`, 'The trip plan'],
          [`/cohorts/${cohort.id}/training${query}&route=${routeId}`, 'Training for it'],
          [`/routes/${routeId}`, 'Terrain only'],
          [`/routes/${routeId}/edit`, 'State its class and more'],
        ]}
      />
      <ReachShapes names={marks.map(({ name }) => name)} />
      <div class="reaches">
        <ReachNames columns={marks.length} />
        <Reach marks={marks} />
      </div>
      <h2>All answers</h2>
      <WordList
        texts={fit.judgements.map((judgement) => [
          questionText(judgement.name),
          reasonText(judgement, units),
        ])}
      />
    </>
  );
}

/** Parts that every route should have stated: said to be missing where they are. */
const EXPECTED: ReadonlySet<string> = new Set(['rock class', 'treeline', 'season', 'largest party']);

function Stated({ view, frame }: RouteProps) {
  const stated = statedRows(view.stored.route.attributes, frame.units);
  return (
    <>
      <h2>What is stated</h2>
      <MeasureTable
        caption="What people have stated of the route"
        rows={stated.filter(([name, value]) => value !== null || EXPECTED.has(name))}
      />
    </>
  );
}

function Terrain({ view, frame }: RouteProps) {
  const { map, profile, along, places } = view;
  const { route } = view.stored;
  return (
    <>
      <h2>The ground</h2>
      {map === null ? <p>This line has no point to draw a map of.</p> : <MapFigure view={map} />}
      {profile !== null && (
        <>
          <Along data={along} />
          <ProfileFigure drawing={profile} />
        </>
      )}
      <CardTable
        caption="The numbered places"
        kind="places"
        nameAt={1}
        columns={textColumns(places.columns)}
        rows={places.rows}
      />
      <h2>Measures</h2>
      <MeasureTable caption="What the terrain says of the line" rows={measureRows(route, frame.units)} />
      {route.notes.length > 0 && <WordList texts={route.notes.map((note) => noteText(note, frame.units))} />}
    </>
  );
}

/** A route by itself: what is stated of it, and the cohorts that it can be looked at with. */
function Alone({ view, frame }: RouteProps) {
  const { id, route } = view.stored;
  const lacking = lackingOf(route);
  return (
    <>
      <LinkRow
        frame={frame}
        links={[
          [`/routes/${id}/edit`, 'State its class and more'],
          [`/v1/routes/${id}.gpx`, 'GPX'],
        ]}
      />
      {lacking.length > 0 && (
        <p class="box notice">
          To state or check: {lacking.join(', ')}. What is not known is never taken to be fine.
        </p>
      )}
      <Stated view={view} frame={frame} />
      <Terrain view={view} frame={frame} />
      {view.cohorts.length > 0 && (
        <section class="screen">
          <h2>For a cohort</h2>
          <ul>
            {view.cohorts.map((stored) => (
              <li>
                <a class="reach" href={frame.to(`/cohorts/${stored.id}/routes/${id}`)}>
                  {`${route.name} for ${stored.cohort.name}`}
                </a>
              </li>
            ))}
          </ul>
        </section>
      )}
    </>
  );
}

/** A route: by itself, or for a cohort on a date with its times and its fit. */
export function routePage(view: RoutePageView, frame: PageFrame): string {
  const { fitPart, stored } = view;
  const { name } = stored.route;
  const { id = '', cohort } = fitPart?.cohort ?? {};
  return pageHtml({
    title: cohort === undefined ? name : `${name} for ${cohort.name}`,
    frame,
    hasDrawings: true,
    section: cohort === undefined ? 'routes' : 'cohorts',
    way: cohort === undefined ? [] : [[cohort.name, `/cohorts/${id}?date=${fitPart?.date}`]],
    scripts: ['along'],
    children: (
      <>
        <p class="on-paper">
          <Words text={bothUnitsText(stored.route, frame.units)} />
        </p>
        {fitPart === null ? (
          <Alone view={view} frame={frame} />
        ) : (
          <>
            <FitParts view={view} frame={frame} part={fitPart} />
            <Terrain view={view} frame={frame} />
            <Stated view={view} frame={frame} />
          </>
        )}
      </>
    ),
  });
}

export const ROUTE_STYLE = `
.drawing{margin:.4rem 0 1rem;max-width:58rem}
.drawing figcaption{font-size:.875rem;color:var(--faint)}
.profile{display:block;width:100%;height:auto}
.profile.narrow{display:none}
.drawing ol{display:none}
.along{max-width:58rem;margin:.6rem 0 1rem}
.along input{padding:0;border:0;accent-color:var(--ink);touch-action:none}
.along .said{min-height:1.6em;font-weight:600;margin:0}
.here circle{fill:none;stroke:currentColor;stroke-width:2.5}
.here circle+circle{fill:currentColor}
.measures th{font-weight:400;white-space:nowrap;width:10rem}
.measures{max-width:58rem}
.reaches svg{max-width:100%;height:auto}
a.reach{display:inline-flex;align-items:center;min-height:2.75rem}
@media screen and (max-width:40rem){
.profile.wide{display:none}
.profile.narrow{display:block}
.measures,.measures tbody,.measures tr,.measures th,.measures td{display:block;width:auto;border:0;padding:.1rem 0}
.measures tr{border-bottom:1px solid var(--hair);padding:.3rem 0}
.measures th{font-weight:600}
}
@media print{.map-figure,.drawing{max-width:none;break-inside:avoid}}
`;
