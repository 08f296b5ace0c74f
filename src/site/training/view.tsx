import type { shownBy } from '../../app/groups.ts';
import { DAY } from '../../capability/pace-diagnostics.ts';
import type { PacePicture } from '../../capability/pace-picture.ts';
import { PaceChart, paceWords } from '../../drawing/pace-chart.tsx';
import { Words } from '../../markup/words.tsx';
import type { Judgement } from '../../rank/judgement.ts';
import type { Cohort } from '../../storage/cohorts.ts';
import type { StoredRoute } from '../../storage/routes.ts';
import { questionText, reasonText } from '../../text/criteria/index.ts';
import { shownRows } from '../../text/shown-words.ts';
import { VERDICT_TEXT } from '../../text/verdict-words.ts';
import { climbText, durationText, lengthText, percentText } from '../../text/words.ts';
import type { ladderView, StepView, trainingView } from '../../views/training-view.ts';
import { Fields } from '../field.tsx';
import { DATE, type FormField } from '../form-table.ts';
import type { PageFrame } from '../page.ts';
import { pageHtml } from '../page-shell.tsx';
import { CardTable, Paragraphs, SubmitRow, textColumns, WordList } from '../parts.tsx';

export interface TrainingPageView {
  readonly id: string;
  readonly cohort: Cohort;
  readonly date: string;
  readonly routes: readonly StoredRoute[];
  readonly target: {
    readonly id: string;
    readonly name: string;
    readonly judgements: readonly Judgement[];
    readonly plan: ReturnType<typeof trainingView>;
    readonly ladder: ReturnType<typeof ladderView>;
  } | null;
  readonly shown: Awaited<ReturnType<typeof shownBy>>;
  readonly pace: readonly string[];
  readonly picture: PacePicture;
}

function Asked({ view, frame }: { readonly view: TrainingPageView; readonly frame: PageFrame }) {
  const { id, date, routes, target } = view;
  const fields: readonly FormField[] = [
    {
      id: 'route',
      label: 'Route',
      options: [['', 'none chosen'], ...routes.map((one) => [one.id, one.route.name] as const)],
    },
    { id: 'date', label: 'Date of the trip', input: { ...DATE, required: true } },
  ];
  return (
    <form
      class="box screen"
      method="get"
      action={frame.to(`/cohorts/${id}/training`)}
      aria-label="What is trained for"
    >
      <Fields fields={fields} values={{ route: target?.id ?? '', date }} fault={null} />
      <SubmitRow text="Show" />
    </form>
  );
}

const whereOf = ({ routes, repeats, stair }: StepView): string =>
  [...routes.map(({ text }) => text), ...(repeats === null ? [] : [repeats.text]), stair.text].join('; or ');

function targetPart(
  { id, name, judgements, plan, ladder }: NonNullable<TrainingPageView['target']>,
  view: TrainingPageView,
  { to, units }: PageFrame,
) {
  const inTheWay = plan.after?.inTheWay.map(({ reason }) => reason) ?? [];
  return (
    <>
      <Paragraphs texts={[plan.text]} />
      <h2>
        What <a href={to(`/cohorts/${view.id}/routes/${id}?date=${view.date}`)}>{name}</a> asks
      </h2>
      <WordList
        texts={judgements.map((judgement) => [
          questionText(judgement.name),
          `${VERDICT_TEXT[judgement.verdict]}; ${reasonText(judgement, units)}`,
        ])}
      />
      <h2>Three days of training</h2>
      <p class="quiet">
        A day with the distance, a day with the climb, a day with both, by everyone who goes, on lower ground
        than the trip (common practice).
      </p>
      <WordList texts={plan.milestones.map(({ text }) => text)} />
      <h2>The steps</h2>
      <Paragraphs texts={plan.notes.length > 0 ? [plan.notes.join(' ')] : []} />
      {plan.steps.length > 0 && (
        <CardTable
          caption="Dated back from the trip; worked out again after each day that is recorded"
          columns={textColumns(['Day', 'What', 'Why', 'Where it can be done'])}
          rows={plan.steps.map((step) => [step.date, step.text, step.why, whereOf(step)])}
        />
      )}
      {inTheWay.length > 0 && (
        <>
          <h3>What training does not change</h3>
          <WordList texts={inTheWay} />
        </>
      )}
      {ladder.rungs.length > 0 && (
        <>
          <h2>Known routes that lead there</h2>
          <Paragraphs texts={[ladder.text]} />
          <CardTable
            caption="Each is within reach of the ones before"
            columns={textColumns(['Day', 'Route', 'Length', 'Climb', 'Class', 'By then'])}
            rows={ladder.rungs.map((rung) => [
              rung.date,
              rung.name,
              lengthText(rung.distanceM, units),
              climbText(rung.gainM, units),
              rung.rockClass ?? 'not stated',
              VERDICT_TEXT[rung.verdict],
            ])}
          />
        </>
      )}
    </>
  );
}

function plainDay(units: PageFrame['units']): string {
  return `${lengthText((DAY.upKm + DAY.downKm) * 1000, units)}, ${climbText(DAY.upM, units)}`;
}

function Pace({
  view: { picture, pace },
  units,
}: {
  readonly view: TrainingPageView;
  readonly units: PageFrame['units'];
}) {
  return (
    <>
      <h2>Pace</h2>
      <WordList texts={pace} />
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
          columns={textColumns(['Day', 'By the rule', 'Walked', 'Counts for'])}
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
  const { id, cohort, date, target, shown } = view;
  return pageHtml({
    title: target === null ? `Training of ${cohort.name}` : `Training for ${target.name}`,
    frame,
    hasDrawings: true,
    section: 'cohorts',
    way: [[cohort.name, `/cohorts/${id}?date=${date}`]],
    children: (
      <>
        <p>
          {cohort.name}, <Words text={date} />.
        </p>
        <Asked view={view} frame={frame} />
        {target !== null && targetPart(target, view, frame)}
        <h2>What everyone who goes has shown</h2>
        <CardTable
          caption="Less what time takes away until the trip"
          columns={textColumns(['Quantity', 'On the date', 'From'])}
          rows={shownRows(shown, frame.units).map(([name, value, from]) => [
            name,
            value,
            from === '' ? '–' : from,
          ])}
        />
        {shown.toCheck.length > 0 && <p>To check: {shown.toCheck.join('; ')}.</p>}
        <Pace view={view} units={frame.units} />
        {shown.limits.length > 0 && (
          <details class="screen">
            <summary>For leaders only: who would raise it</summary>
            <p class="quiet">Never printed, and in no page that is handed out.</p>
            <ul>
              {shown.limits.map(({ text }) => (
                <li>{text}</li>
              ))}
            </ul>
          </details>
        )}
      </>
    ),
  });
}
