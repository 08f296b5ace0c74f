/** @jsxRuntime automatic @jsxImportSource preact */
import type { VNode } from 'preact';
import { renderToString } from 'preact-render-to-string';
import { Words } from '../../markup/words.tsx';
import { CRITERION_NAMES } from '../../rank/criteria/index.ts';
import { MEANING_OF_FITS } from '../../text/cautions.ts';
import { PARTY_TIMES_READ } from '../../text/season-words.ts';
import { DrawnCell, Reason } from '../cohort/told-fit.tsx';
import type { PageFrame } from '../page-frame.ts';
import { Later, pageAround } from '../page-shell.tsx';
import { ReachNames, ReachShapes } from '../reach.tsx';
import type { SeasonAsked, SeasonBoardView, SeasonDay, SeasonParty } from './state.ts';

const COLUMNS = 7;
/** Reasons of a fit that stand in the open (design). */
const TOLD_OF_FIT = 2;

interface PartyProps {
  readonly party: SeasonParty;
  readonly date: string;
  readonly frame: PageFrame;
}

function Party({ party, date, frame }: PartyProps): VNode {
  const { cohort, people, route, trailhead, verdict, verdictText, score, vehicles } = party;
  const { startBy, backBy, marks, closest, reasons, alone, toCheck } = party;
  const path = `/cohorts/${cohort.id}/routes/${route.id}`;
  // What carries a stretch is told in the open, of a fit the first of it: a print has no more.
  const told = verdict === 'fits' ? reasons.slice(0, TOLD_OF_FIT) : reasons;
  const more = reasons.slice(told.length);
  return (
    <>
      <tr class={`party ${verdict}`}>
        <th scope="row">
          <a href={frame.to(`/cohorts/${cohort.id}?date=${date}`)}>{cohort.name}</a>
          <span class="from">{people}</span>
        </th>
        <td class="goes">
          <a href={frame.to(`${path}?date=${date}`)}>
            {route.name}
            <span class="unseen"> for {cohort.name}</span>
          </a>
          {trailhead !== null && <span class="from">from {trailhead}</span>}
        </td>
        <td>
          <span class="verdict">{verdictText}</span> <span class="score">score {score}</span>
        </td>
        <td>
          <span class="name">vehicles </span>
          {vehicles}
        </td>
        <td>
          <span class="name">start by </span>
          <Words text={startBy ?? 'not known'} />
        </td>
        <td>
          <span class="name">back by </span>
          <Words text={backBy ?? 'not known'} />
        </td>
        <DrawnCell marks={marks} closest={closest} />
      </tr>
      <tr class="why">
        <td colSpan={COLUMNS - 1}>
          <p class="sure">
            {alone === null ? (
              'the best that it could have'
            ) : (
              <>
                were it alone: <Words text={alone} />
              </>
            )}
          </p>
          {toCheck.length > 0 && (
            <p>
              <strong>to check:</strong> <Words text={toCheck.join('; ')} />
            </p>
          )}
          {told.map(Reason)}
          {more.length > 0 && (
            <details>
              <summary>
                More reasons<span class="unseen"> for {cohort.name}</span>
              </summary>
              {more.map(Reason)}
            </details>
          )}
          <p class="screen">
            <a class="to-plan" href={frame.to(`${path}/plan?date=${date}`)}>
              Trip plan<span class="unseen"> of {cohort.name}</span>
            </a>
          </p>
        </td>
      </tr>
    </>
  );
}

function Days({ days, frame }: { readonly days: readonly SeasonDay[]; readonly frame: PageFrame }): VNode {
  return (
    <table class="cards shortlist board">
      <caption class="unseen">Who goes where, by day</caption>
      <thead>
        <tr>
          <th scope="col">Cohort</th>
          <th scope="col">Route</th>
          <th scope="col">Verdict</th>
          <th scope="col">Vehicles</th>
          <th scope="col">Start by</th>
          <th scope="col">Back by</th>
          <th scope="col">
            <span class="unseen">Demand against what the group can do</span>
            <ReachNames columns={CRITERION_NAMES.length} />
          </th>
        </tr>
      </thead>
      {days.map(({ date, dateText, parties }) => (
        <tbody>
          <tr class="day">
            <th scope="rowgroup" colSpan={COLUMNS}>
              <Words text={dateText} />
            </th>
          </tr>
          {parties.map((party) => (
            <Party party={party} date={date} frame={frame} />
          ))}
        </tbody>
      ))}
    </table>
  );
}

function Board({ view, frame }: { readonly view: SeasonBoardView; readonly frame: PageFrame }): VNode {
  const { text, asked, days, nobodyOn, unplaced, notKnown } = view;
  return (
    <>
      <ReachShapes names={CRITERION_NAMES} />
      <p class="lead">{text}</p>
      <dl class="made-for">
        {asked.map(([name, what]) => (
          <div>
            <dt>{name}</dt>
            <dd>
              <Words text={what} />
            </dd>
          </div>
        ))}
      </dl>
      {days.length > 0 && <Days days={days} frame={frame} />}
      {nobodyOn.length > 0 && (
        <p>
          <strong>Nobody goes on:</strong> <Words text={`${nobodyOn.join(', ')}.`} />
        </p>
      )}
      {unplaced.length > 0 && (
        <section aria-labelledby="unplaced">
          <h2 id="unplaced">Without a day</h2>
          {unplaced.map(({ cohort, people, texts }) => (
            <div class="box notice without">
              <h3>
                <a href={frame.to(`/cohorts/${cohort.id}`)}>{cohort.name}</a>, {people}
              </h3>
              {texts.map((sentence) => (
                <p>
                  <Words text={sentence} />
                </p>
              ))}
            </div>
          ))}
        </section>
      )}
      <section aria-labelledby="not-known">
        <h2 id="not-known">What the board does not know</h2>
        <ul>
          {notKnown.map((sentence) => (
            <li>
              <Words text={sentence} />
            </li>
          ))}
        </ul>
      </section>
      <p class="quiet">
        {PARTY_TIMES_READ} {MEANING_OF_FITS}
      </p>
    </>
  );
}

/** What stands before a board and after it; before one that is not there yet with words to wait by. */
function around(
  asked: SeasonAsked,
  frame: PageFrame,
  isLate: boolean,
): readonly [before: string, after: string] {
  const { title, size, changePath, solveS } = asked;
  return pageAround({
    title,
    frame,
    section: 'season',
    way: [{ name: 'Season', path: '/season' }],
    children: (
      <>
        <p>
          {size}.{' '}
          <a class="screen" href={frame.to(changePath)}>
            Change what is asked
          </a>
        </p>
        {isLate && (
          <p class="box notice waiting" role="status">
            <strong>The board is being worked out.</strong> It appears below by itself. The search ends after{' '}
            {solveS} s at most, with the best found; boards that others asked for before come first.
          </p>
        )}
        <div class="made">
          <Later />
        </div>
      </>
    ),
  });
}

/** What stands before a board that is not there yet, with words to wait by, and what stands after it. */
export const seasonWaitingPage = (
  asked: SeasonAsked,
  frame: PageFrame,
): readonly [before: string, after: string] => around(asked, frame, true);

/** The board alone; where it comes late, the words to wait by are hidden by it. */
export const seasonBoardFragment = (view: SeasonBoardView, frame: PageFrame): string =>
  renderToString(
    <div class="arrived">
      <Board view={view} frame={frame} />
    </div>,
  );

/** Why there is no board, where that is found out late. */
export const seasonFaultFragment = (text: string): string =>
  renderToString(
    <div class="arrived box notice" role="alert">
      <p>
        <strong>No board has been made.</strong> {text}
      </p>
    </div>,
  );

/** A whole page with its board. */
export const seasonBoardPage = (asked: SeasonAsked, view: SeasonBoardView, frame: PageFrame): string =>
  around(asked, frame, false).join(seasonBoardFragment(view, frame));

export const SEASON_BOARD_STYLE = `
.waiting:has(+.made>.arrived){display:none}
.made-for{margin:.6rem 0;max-width:60rem}
.made-for dt,.made-for dd{display:inline;margin:0}
.made-for dt{font-weight:600}
.made-for dt::after{content:": "}
.board{border-bottom:1px solid var(--hair)}
.shortlist.board tbody tr.day>*{padding:1.3rem 0 .3rem;border-bottom:2px solid var(--contour);font:600 1.25rem/1.2 "Iowan Old Style",Palatino,"Noto Serif",Georgia,serif}
.shortlist.board tbody tr.party>*{border-bottom:0;padding-top:.7rem}
.shortlist.board tbody tr.party>.drawn{border-bottom:1px solid var(--hair)}
.board .goes a{display:inline-block;padding:.55rem 0;margin:-.55rem 0}
.board .to-plan{display:inline-flex;align-items:center;min-height:2.75rem}
.without h3{margin-top:0}
@media screen and (max-width:52rem){
.shortlist.board tbody{border:0;padding:0;margin:0}
.shortlist.board tbody tr.party>.drawn{border:0}
.board .party{border-top:1px solid var(--hair)!important;padding:.5rem 0}
.board .goes{display:block}
.shortlist.board .why td:first-child{display:block}
}
@media print{
.board .party{break-after:avoid}
.board .day{break-after:avoid}
.shortlist.board .reach{width:50mm}
.without{break-inside:avoid}
}
`;
