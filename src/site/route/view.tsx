/** @jsxRuntime automatic @jsxImportSource preact */
import type { VNode } from 'preact';
import { MapFigure, type MapView } from '../../drawing/map/map-figure.tsx';
import { ProfileFigure } from '../../drawing/profile/figure.tsx';
import type { ProfileDrawing } from '../../drawing/profile/profile-drawing.ts';
import { Words } from '../../markup/words.tsx';
import { TIMES_READ } from '../../text/shortlist-words.ts';
import { weekdayText } from '../../text/words.ts';
import { CardTable } from '../card-table.tsx';
import type { ShortlistReason } from '../cohort/shortlist.ts';
import type { PageFrame } from '../page-frame.ts';
import { pageHtml } from '../page-shell.tsx';
import { Reach, type ReachMark, ReachNames, ReachShapes } from '../reach.tsx';

/** A place of the route in the table: text for each column, in the order of `placeColumns`. */
export interface PlaceTable {
  readonly columns: readonly string[];
  readonly rows: readonly (readonly string[])[];
}

/** How the route fits a cohort on a date. */
interface FitPart {
  readonly cohort: { readonly id: string; readonly name: string };
  readonly date: string;
  readonly verdictText: string;
  readonly meaning: string;
  readonly day: string | null;
  /** What so early a start makes of the night before; `null`: nothing. */
  readonly shortNight: string | null;
  readonly toCheck: readonly string[];
  /** What would make it fit. */
  readonly helps: readonly string[];
  /** What the coordinator wrote of the route. */
  readonly noted: string | null;
  readonly marks: readonly ReachMark[];
  readonly answers: readonly ShortlistReason[];
}

export interface RoutePageView {
  readonly id: string;
  readonly name: string;
  /** `null`: terrain only. */
  readonly fit: FitPart | null;
  /** Cohorts to look at it with, where none is chosen. */
  readonly cohorts: readonly { readonly id: string; readonly name: string }[];
  readonly map: MapView | null;
  readonly profile: ProfileDrawing | null;
  /** Data of the script `along`. */
  readonly along: string;
  /** Distance, climb and highest point in both units, for paper. */
  readonly bothUnits: string;
  readonly places: PlaceTable;
  readonly measures: readonly (readonly [name: string, value: string])[];
  /** What people have stated of it; `null`: not stated. */
  readonly stated: readonly (readonly [name: string, value: string | null])[];
  readonly toState: readonly string[];
  readonly notes: readonly string[];
}

function Along({ data }: { readonly data: string }): VNode {
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

function FitParts({
  fit,
  id,
  frame,
}: {
  readonly fit: FitPart;
  readonly id: string;
  readonly frame: PageFrame;
}): VNode {
  const { cohort, date, verdictText, meaning, day, shortNight, toCheck, helps, noted, marks, answers } = fit;
  const query = `?date=${date}`;
  const of = `/cohorts/${cohort.id}/routes/${id}`;
  return (
    <>
      <p class="lead">
        <Words text={weekdayText(date)} />: <strong>{verdictText}</strong>.{' '}
        <span class="quiet">{meaning}</span>
      </p>
      {day !== null && (
        <p>
          <Words text={day} />. <span class="quiet">{TIMES_READ}</span>
        </p>
      )}
      {shortNight !== null && (
        <p>
          <Words text={`${shortNight.charAt(0).toUpperCase()}${shortNight.slice(1)}.`} />
        </p>
      )}
      {toCheck.length > 0 && (
        <div class="box notice">
          <p>
            <strong>To check before it is chosen.</strong> What is not known is never taken to be fine.
          </p>
          <ul>
            {toCheck.map((text) => (
              <li>
                <Words text={text} />
              </li>
            ))}
          </ul>
        </div>
      )}
      {helps.length > 0 && (
        <p>
          <strong>Would help:</strong> <Words text={helps.join('; ')} />.
        </p>
      )}
      {noted !== null && (
        <p>
          <strong>Noted with the route:</strong> <Words text={noted} />
        </p>
      )}
      <p class="row screen">
        <a class="button main" href={frame.to(`${of}/plan${query}`)}>
          The trip plan
        </a>
        <a class="button" href={frame.to(`/cohorts/${cohort.id}/training${query}&route=${id}`)}>
          Training for it
        </a>
        <a class="button" href={frame.to(`/routes/${id}`)}>
          Terrain only
        </a>
        <a class="button" href={frame.to(`/routes/${id}/edit`)}>
          State its class and more
        </a>
      </p>
      <ReachShapes names={marks.map(({ name }) => name)} />
      <div class="reaches">
        <ReachNames columns={marks.length} />
        <Reach marks={marks} />
      </div>
      <h2>The twelve answers</h2>
      <ul>
        {answers.map(({ question, text }) => (
          <li>
            <strong>{question}:</strong> <Words text={text} />
          </li>
        ))}
      </ul>
    </>
  );
}

/** Parts that every route should have stated: said to be missing where they are. */
const EXPECTED: ReadonlySet<string> = new Set(['rock class', 'treeline', 'season', 'largest party']);

function Stated({ stated }: { readonly stated: RoutePageView['stated'] }): VNode {
  return (
    <>
      <h2>What is stated</h2>
      <table class="measures">
        <caption class="unseen">What people have stated of the route</caption>
        <tbody>
          {stated
            .filter(([name, value]) => value !== null || EXPECTED.has(name))
            .map(([name, value]) => (
              <tr>
                <th scope="row">{name}</th>
                <td>{value === null ? <em>not stated</em> : <Words text={value} />}</td>
              </tr>
            ))}
        </tbody>
      </table>
    </>
  );
}

function Terrain({ view }: { readonly view: RoutePageView }): VNode {
  const { map, profile, along, places, measures, notes } = view;
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
      <CardTable caption="The numbered places" kind="places" nameAt={1} {...places} />
      <h2>Measures</h2>
      <table class="measures">
        <caption class="unseen">What the terrain says of the line</caption>
        <tbody>
          {measures.map(([name, value]) => (
            <tr>
              <th scope="row">{name}</th>
              <td>
                <Words text={value} />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      {notes.length > 0 && (
        <ul>
          {notes.map((note) => (
            <li>
              <Words text={note} />
            </li>
          ))}
        </ul>
      )}
    </>
  );
}

/** A route: by itself, or for a cohort on a date with its times and its fit. */
export function routePage(view: RoutePageView, frame: PageFrame): string {
  const { id, name, fit, cohorts, stated, toState, bothUnits } = view;
  return pageHtml({
    title: fit === null ? name : `${name} for ${fit.cohort.name}`,
    frame,
    hasDrawings: true,
    section: fit === null ? 'routes' : 'cohorts',
    way:
      fit === null
        ? [{ name: 'Routes', path: '/routes' }]
        : [
            { name: 'Cohorts', path: '/' },
            { name: fit.cohort.name, path: `/cohorts/${fit.cohort.id}?date=${fit.date}` },
          ],
    scripts: ['along'],
    children: (
      <>
        <p class="on-paper">
          <Words text={bothUnits} />
        </p>
        {fit !== null && <FitParts fit={fit} id={id} frame={frame} />}
        {fit === null && (
          <p class="row screen">
            <a class="button" href={frame.to(`/routes/${id}/edit`)}>
              State its class and more
            </a>
            <a class="button" href={frame.to(`/v1/routes/${id}.gpx`)}>
              GPX
            </a>
          </p>
        )}
        {fit === null && toState.length > 0 && (
          <p class="box notice">
            To state or check: {toState.join(', ')}. What is not known is never taken to be fine.
          </p>
        )}
        {fit === null && <Stated stated={stated} />}
        <Terrain view={view} />
        {fit !== null && <Stated stated={stated} />}
        {cohorts.length > 0 && (
          <section class="screen">
            <h2>For a cohort</h2>
            <ul>
              {cohorts.map((cohort) => (
                <li>
                  <a class="reach" href={frame.to(`/cohorts/${cohort.id}/routes/${id}`)}>
                    {`${name} for ${cohort.name}`}
                  </a>
                </li>
              ))}
            </ul>
          </section>
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
