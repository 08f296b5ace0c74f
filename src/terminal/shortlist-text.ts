import type { Design } from '../design.ts';
import { CAUTIONS, MEANING_OF_FITS } from '../fit/cautions.ts';
import { peopleText } from '../fit/people-words.ts';
import type { Fit } from '../fit/rank-routes.ts';
import {
  askedOfAll,
  countsText,
  dayText,
  deadlineText,
  helpsOf,
  orderSentences,
  placedOf,
  placesText,
  scoreText,
  tellingJudgements,
} from '../fit/shortlist-words.ts';
import { verdictRank } from '../fit/verdict.ts';
import { questionText, VERDICT_TEXT } from '../fit/verdict-words.ts';
import { climbText, heightText, lengthText, plural } from '../fit/words.ts';
import type { CohortInput } from '../ingest/cohort-file.ts';
import { attributionOf } from '../route/attribution.ts';
import type { UnitSystem } from '../units.ts';
import { table, wrapped } from './table.ts';

function entry(fit: Fit, asked: ReadonlySet<string>, weights: Design['weights'], units: UnitSystem): string {
  const { measures } = fit.route;
  const head = table([
    [
      String(fit.rank ?? '').padStart(2),
      fit.route.name.padEnd(34),
      VERDICT_TEXT[fit.verdict].padEnd(10),
      fit.score.toFixed(2).padStart(5),
      placesText(fit).padStart(6),
      lengthText(measures.distanceM, units).padStart(8),
      (measures.gainM === null ? 'climb ?' : `+${climbText(measures.gainM.value, units)}`).padStart(9),
      measures.highM === null ? '' : `top ${heightText(measures.highM, units)}`,
      `class ${fit.route.attributes.rockClass ?? '?'}`,
    ],
  ]);
  const lines = [head];
  const day = fit.verdict === 'ruledOut' || fit.verdict === 'incomplete' ? null : dayText(fit);
  if (day !== null) lines.push(wrapped(day, '      '));
  for (const judgement of tellingJudgements(fit)) {
    const sign = judgement.verdict === 'fits' ? '' : ` [${VERDICT_TEXT[judgement.verdict]}]`;
    lines.push(
      wrapped(`${questionText(judgement.name)}${sign}: ${judgement.reason}`, '      ', 100, '        '),
    );
  }
  if (fit.verdict === 'notYet' || fit.verdict === 'stretch') {
    for (const text of helpsOf(fit)) lines.push(wrapped(`would help: ${text}`, '      ', 100, '        '));
  }
  if (verdictRank(fit.verdict) <= verdictRank('notYet')) {
    lines.push(wrapped(scoreText(fit, weights), '      ', 100, '        '));
  }
  const own = fit.toCheck.filter((text) => !asked.has(text));
  if (own.length > 0 && fit.verdict !== 'ruledOut') {
    lines.push(wrapped(`to check: ${own.join('; ')}`, '      ', 100, '        '));
  }
  const notes = fit.route.notes.filter((note) => note.code !== 'treeline-unknown');
  for (const note of notes) lines.push(wrapped(`note: ${note.text}`, '      ', 100, '        '));
  return lines.join('\n');
}

/** The foot of every shortlist and plan. */
export function footText(): string {
  return [MEANING_OF_FITS, ...CAUTIONS].map((text) => wrapped(text, '  ', 100, '  ')).join('\n');
}

/** A shortlist for people. */
export function shortlistText(
  ranked: readonly Fit[],
  cohort: Omit<CohortInput, 'outings'>,
  date: string,
  design: Design,
  units: UnitSystem,
): string {
  const asked = new Set(askedOfAll(ranked));
  const day = ranked.find((fit) => fit.timeline !== null)?.timeline ?? null;
  return [
    `${cohort.name} · ${date}`,
    peopleText(cohort),
    `${plural(ranked.length, 'route')}: ${countsText(ranked.map(({ verdict }) => verdict))}.`,
    ...orderSentences(ranked.map(placedOf)).map((line) => wrapped(line, '', 100, '  ')),
    ...(day === null ? [] : [deadlineText(day)]),
    ...(asked.size > 0 ? [wrapped(`to check for every route: ${[...asked].join('; ')}`, '', 100, '  ')] : []),
    '',
    table([['  ', 'route'.padEnd(34), 'verdict'.padEnd(10), 'score', 'places', 'length'.padStart(8)]]),
    ...ranked.map((fit) => entry(fit, asked, design.weights, units)),
    '',
    footText(),
    ...attributionOf(ranked.map(({ route }) => route)).map((words) =>
      wrapped(`Heights: ${words}`, '  ', 100, '  '),
    ),
  ].join('\n');
}
