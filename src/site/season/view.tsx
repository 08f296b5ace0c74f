import { renderToString } from 'preact-render-to-string';
import type { SeasonRequest } from '../../ingest/season-file.ts';
import { Words } from '../../markup/words.tsx';
import { CRITERION_NAMES } from '../../rank/criteria/index.ts';
import { type PlacedParty, partyOf, type SeasonBoard, type SeasonCohort } from '../../season/season.ts';
import { MEANING_OF_FITS } from '../../text/cautions.ts';
import { questionsOf, reasonsOf } from '../../text/fit-words.ts';
import {
  aloneText,
  boardText,
  notKnownTexts,
  PARTY_TIMES_READ,
  partyTimes,
  unplacedTexts,
} from '../../text/season-words.ts';
import { VERDICT_TEXT } from '../../text/verdict-words.ts';
import { plural, weekdayText } from '../../text/words.ts';
import { DrawnCell, Reason } from '../cohort/shortlist-row.tsx';
import type { PageFrame } from '../page.ts';
import { Later, pageAround } from '../page-shell.tsx';
import { NamedParagraph, Paragraphs, WordList } from '../parts.tsx';
import { ReachNames, ReachShapes } from '../reach.tsx';
import { askedRows } from './asked-rows.ts';

const COLUMNS = 7;
/** Reasons of a fit that stand in the open (design). */
const TOLD_OF_FIT = 2;

/** What a season's board is made for; the same before and after it is worked out. */
export interface SeasonAsked {
  readonly request: SeasonRequest;
  /** Path and query of the form with all that was asked in it. */
  readonly changePath: string;
  readonly solveS: number;
}

interface BoardProps {
  readonly board: SeasonBoard;
  readonly frame: PageFrame;
}

const peopleText = (cohort: SeasonCohort): string => plural(partyOf(cohort), 'person', 'people');

function Party({ party, board, frame }: BoardProps & { readonly party: PlacedParty }) {
  const { cohort, route, fit, date, vehicles } = party;
  const { name } = cohort.record.cohort;
  const from = route.route.attributes.trailhead?.name;
  const path = `/cohorts/${cohort.id ?? ''}/routes/${route.id ?? ''}`;
  const { startBy, backBy } = partyTimes(party);
  const alone = aloneText(party, board);
  const cells = [
    ['vehicles', vehicles?.map((one) => one.name).join(', ') ?? 'its own'],
    ['start by', startBy ?? 'not known'],
    ['back by', backBy ?? 'not known'],
  ] as const;
  // What carries a stretch is told in the open, of a fit the first of it: a print has no more.
  const reasons = reasonsOf(fit, frame.units);
  const open = fit.verdict === 'fits' ? reasons.slice(0, TOLD_OF_FIT) : reasons;
  const more = reasons.slice(open.length);
  return (
    <>
      <tr class={`party ${fit.verdict}`}>
        <th scope="row">
          <a href={frame.to(`/cohorts/${cohort.id ?? ''}?date=${date}`)}>{name}</a>
          <span class="from">{peopleText(cohort)}</span>
        </th>
        <td class="goes">
          <a href={frame.to(`${path}?date=${date}`)}>
            {route.route.name}
            <span class="unseen"> for {name}</span>
          </a>
          {from != null && <span class="from">from {from}</span>}
        </td>
        <td>
          <span class="verdict">{VERDICT_TEXT[fit.verdict]}</span>{' '}
          <span class="score">score {fit.score.toFixed(2)}</span>
        </td>
        {cells.map(([name, text]) => (
          <td>
            <span class="name">{name} </span>
            <Words text={text} />
          </td>
        ))}
        <DrawnCell fit={fit} />
      </tr>
      <tr class="why">
        <td colSpan={COLUMNS - 1}>
          <p class="sure">
            <Words text={alone === null ? 'the best that it could have' : `were it alone: ${alone}`} />
          </p>
          <NamedParagraph name="to check" text={questionsOf(fit, frame.units).join('; ')} />
          {open.map(Reason)}
          {more.length > 0 && (
            <details>
              <summary>
                More reasons<span class="unseen"> for {name}</span>
              </summary>
              {more.map(Reason)}
            </details>
          )}
          <p class="screen">
            <a class="to-plan" href={frame.to(`${path}/plan?date=${date}`)}>
              Trip plan<span class="unseen"> of {name}</span>
            </a>
          </p>
        </td>
      </tr>
    </>
  );
}

function Days({ board, frame }: BoardProps) {
  const days = new Set(board.placed.map(({ date }) => date));
  return (
    <table class="cards shortlist board">
      <caption class="unseen">Who goes where, by day</caption>
      <thead>
        <tr>
          {['Cohort', 'Route', 'Verdict', 'Vehicles', 'Start by', 'Back by'].map((head) => (
            <th scope="col">{head}</th>
          ))}
          <th scope="col">
            <span class="unseen">Demand against what the group can do</span>
            <ReachNames columns={CRITERION_NAMES.length} />
          </th>
        </tr>
      </thead>
      {board.question.dates
        .filter((date) => days.has(date))
        .map((date) => (
          <tbody>
            <tr class="day">
              <th scope="rowgroup" colSpan={COLUMNS}>
                <Words text={weekdayText(date)} />
              </th>
            </tr>
            {board.placed
              .filter((party) => party.date === date)
              .map((party) => (
                <Party party={party} board={board} frame={frame} />
              ))}
          </tbody>
        ))}
    </table>
  );
}

const OWN_VEHICLES_TEXT =
  'The cohorts’ own vehicles: the board judges each route by those of the program that are given out, the pages of a cohort by its own.';

function Board({ board, request, frame }: BoardProps & Pick<SeasonAsked, 'request'>) {
  const { question, placed, unplaced } = board;
  const nobodyOn = question.dates.filter((date) => placed.every((party) => party.date !== date));
  const notKnown = [...notKnownTexts(board), ...(question.vehicles === null ? [] : [OWN_VEHICLES_TEXT])];
  return (
    <>
      <ReachShapes names={CRITERION_NAMES} />
      <p class="lead">{boardText(board)}</p>
      <dl class="made-for">
        {askedRows(board, request, frame.today).map(([name, text]) => (
          <div>
            <dt>{name}</dt>
            <dd>
              <Words text={text} />
            </dd>
          </div>
        ))}
      </dl>
      {placed.length > 0 && <Days board={board} frame={frame} />}
      <NamedParagraph name="Nobody goes on" text={nobodyOn.length === 0 ? '' : `${nobodyOn.join(', ')}.`} />
      {unplaced.length > 0 && (
        <section aria-labelledby="unplaced">
          <h2 id="unplaced">Without a day</h2>
          {unplaced.map((one) => (
            <div class="box notice without">
              <h3>
                <a href={frame.to(`/cohorts/${one.cohort.id ?? ''}`)}>{one.cohort.record.cohort.name}</a>,{' '}
                {peopleText(one.cohort)}
              </h3>
              <Paragraphs texts={unplacedTexts(one, board, frame.units)} />
            </div>
          ))}
        </section>
      )}
      <section aria-labelledby="not-known">
        <h2 id="not-known">What the board does not know</h2>
        <WordList texts={notKnown} />
      </section>
      <p class="quiet">
        {PARTY_TIMES_READ} {MEANING_OF_FITS}
      </p>
    </>
  );
}

/** What stands before a board and after it; before one that is not there yet with words to wait by. */
export function seasonAround(
  { request, changePath, solveS }: SeasonAsked,
  frame: PageFrame,
  isLate: boolean,
): readonly [before: string, after: string] {
  const { name, cohorts, dates } = request;
  return pageAround({
    title: name ?? 'Season board',
    frame,
    section: 'season',
    way: [],
    children: (
      <>
        <p>
          {`${plural(cohorts.length, 'cohort')}, ${plural(dates.length, 'date')}. `}
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

/** The board alone; where it comes late, the words to wait by are hidden by it. */
export const seasonBoardFragment = (board: SeasonBoard, { request }: SeasonAsked, frame: PageFrame): string =>
  renderToString(
    <div class="arrived">
      <Board board={board} request={request} frame={frame} />
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
