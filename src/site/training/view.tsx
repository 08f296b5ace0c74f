/** @jsxRuntime automatic @jsxImportSource preact */
import type { VNode } from 'preact';
import { DAY } from '../../capability/pace-diagnostics.ts';
import type { PacePicture } from '../../capability/pace-picture.ts';
import { PaceChart, paceWords } from '../../drawing/pace-chart.tsx';
import { Words } from '../../markup/words.tsx';
import { climbText, durationText, lengthText, percentText } from '../../text/words.ts';
import { CardTable } from '../card-table.tsx';
import { Input, Select } from '../field.tsx';
import type { PageFrame } from '../page-frame.ts';
import { pageHtml } from '../page-shell.tsx';

export interface TrainingPageView {
  readonly cohort: { readonly id: string; readonly name: string };
  readonly date: string;
  /** To choose from; the chosen one first of all in `target`. */
  readonly routes: readonly { readonly id: string; readonly name: string }[];
  readonly target: {
    readonly id: string;
    readonly name: string;
    /** Distance, climb, work and class: what is asked and what was shown. */
    readonly answers: readonly { readonly question: string; readonly text: string }[];
    readonly text: string;
    readonly milestones: readonly string[];
    readonly steps: readonly {
      readonly date: string;
      readonly text: string;
      readonly why: string;
      readonly where: string;
    }[];
    readonly inTheWay: readonly string[];
    readonly ladderText: string;
    readonly rungs: readonly (readonly string[])[];
  } | null;
  readonly shown: readonly (readonly [name: string, value: string, from: string])[];
  readonly pace: readonly string[];
  readonly picture: PacePicture;
  /** For leaders: who needs what. */
  readonly limits: readonly string[];
  readonly toCheck: readonly string[];
}

function Asked({ view, frame }: { readonly view: TrainingPageView; readonly frame: PageFrame }): VNode {
  const { cohort, date, routes, target } = view;
  return (
    <form
      class="box screen"
      method="get"
      action={frame.to(`/cohorts/${cohort.id}/training`)}
      aria-label="What is trained for"
    >
      <div class="fields">
        <Select
          id="route"
          label="Route"
          value={target?.id ?? ''}
          options={[['', 'none chosen'], ...routes.map(({ id, name }) => [id, name] as const)]}
        />
        <Input id="date" label="Date of the trip" type="date" required value={date} />
      </div>
      <div class="row">
        <button type="submit" class="main">
          Show
        </button>
      </div>
    </form>
  );
}

function Target({
  target,
  frame,
  view,
}: {
  readonly target: NonNullable<TrainingPageView['target']>;
  readonly frame: PageFrame;
  readonly view: TrainingPageView;
}): VNode {
  const { id, name, answers, text, milestones, steps, inTheWay, ladderText, rungs } = target;
  return (
    <>
      <h2>
        What <a href={frame.to(`/cohorts/${view.cohort.id}/routes/${id}?date=${view.date}`)}>{name}</a> asks
      </h2>
      <ul>
        {answers.map((answer) => (
          <li>
            <strong>{answer.question}:</strong> <Words text={answer.text} />
          </li>
        ))}
      </ul>
      <h2>Three days of training</h2>
      <p class="quiet">
        A day with the distance, a day with the climb, a day with both, by everyone who goes (common
        practice).
      </p>
      <ul>
        {milestones.map((milestone) => (
          <li>
            <Words text={milestone} />
          </li>
        ))}
      </ul>
      <h2>The steps</h2>
      <p>
        <Words text={text} />
      </p>
      {steps.length > 0 && (
        <CardTable
          caption="Dated back from the trip; worked out again after each day that is recorded"
          columns={['Day', 'What', 'Why', 'Where it can be done']}
          rows={steps.map((step) => [step.date, step.text, step.why, step.where])}
        />
      )}
      {inTheWay.length > 0 && (
        <>
          <h3>What training does not change</h3>
          <ul>
            {inTheWay.map((reason) => (
              <li>
                <Words text={reason} />
              </li>
            ))}
          </ul>
        </>
      )}
      <h2>Known routes that lead there</h2>
      <p>
        <Words text={ladderText} />
      </p>
      {rungs.length > 0 && (
        <CardTable
          caption="Each is within reach of the ones before"
          columns={['Day', 'Route', 'Length', 'Climb', 'Class', 'By then']}
          rows={rungs}
        />
      )}
    </>
  );
}

/** A day as a plain mountain day is, by which the picture is drawn. */
function plainDay(units: PageFrame['units']): string {
  return `${lengthText((DAY.upKm + DAY.downKm) * 1000, units)}, ${climbText(DAY.upM, units)}`;
}

function Pace({
  view: { picture, pace },
  units,
}: {
  readonly view: TrainingPageView;
  readonly units: PageFrame['units'];
}): VNode {
  return (
    <>
      <h2>Pace</h2>
      <ul>
        {pace.map((text) => (
          <li>
            <Words text={text} />
          </li>
        ))}
      </ul>
      <figure>
        <PaceChart picture={picture} />
        <figcaption class="quiet">
          Long dashes: the rule of the trade. Dotted: where eight days in ten lie by the rule alone. Heavy
          line and grey band: the same for this group now, on days that climb as a plain mountain day does (
          <Words text={plainDay(units)} />
          ). Rings: outings with a clock, by month and day. {paceWords(picture)}
        </figcaption>
      </figure>
      {picture.days.length > 0 && (
        <CardTable
          caption="The outings in the picture"
          columns={['Day', 'By the rule', 'Walked', 'Counts for']}
          rows={picture.days.map(({ date, ruleMin, movingMin, weight }) => [
            date,
            durationText(ruleMin),
            durationText(movingMin),
            percentText(weight),
          ])}
        />
      )}
    </>
  );
}

/** What a cohort has shown, held against a route that it trains for. */
export function trainingPageHtml(view: TrainingPageView, frame: PageFrame): string {
  const { cohort, date, target, shown, limits, toCheck } = view;
  return pageHtml({
    title: target === null ? `Training of ${cohort.name}` : `Training for ${target.name}`,
    frame,
    hasDrawings: true,
    section: 'cohorts',
    way: [
      { name: 'Cohorts', path: '/' },
      { name: cohort.name, path: `/cohorts/${cohort.id}?date=${date}` },
    ],
    children: (
      <>
        <p>
          {cohort.name}, <Words text={date} />.
        </p>
        <Asked view={view} frame={frame} />
        {target !== null && <Target target={target} frame={frame} view={view} />}
        <h2>What everyone who goes has shown</h2>
        <CardTable
          caption="Less what time takes away until the trip"
          columns={['Quantity', 'On the date', 'From']}
          rows={shown.map(([name, value, from]) => [name, value, from === '' ? '–' : from])}
        />
        {toCheck.length > 0 && <p>To check: {toCheck.join('; ')}.</p>}
        <Pace view={view} units={frame.units} />
        {limits.length > 0 && (
          <details class="screen">
            <summary>For leaders only: who would raise it</summary>
            <p class="quiet">Never printed, and in no page that is handed out.</p>
            <ul>
              {limits.map((text) => (
                <li>{text}</li>
              ))}
            </ul>
          </details>
        )}
      </>
    ),
  });
}
