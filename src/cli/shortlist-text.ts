import type { Design } from '../design.ts';
import type { CohortInput } from '../ingest/cohort-file.ts';
import type { Fit } from '../rank/fit.ts';
import type { FitRequest } from '../rank/readiness.ts';
import { attributionOf } from '../route/attribution.ts';
import { CAUTIONS, MEANING_OF_FITS } from '../text/cautions.ts';
import { questionText } from '../text/criteria/index.ts';
import { askedOfAll, helpsOf, questionsOf, reasonsOf } from '../text/fit-words.ts';
import { noteText } from '../text/notes.ts';
import { orderSentences, placedOf } from '../text/order-words.ts';
import { peopleText } from '../text/people-words.ts';
import {
  canBeChosen,
  countsText,
  dayText,
  deadlineText,
  driveOf,
  HOW_TO_READ,
  placesText,
  scoreText,
  shortNightText,
} from '../text/shortlist-words.ts';
import { VERDICT_TEXT } from '../text/verdict-words.ts';
import { climbText, heightText, lengthText, plural } from '../text/words.ts';
import type { UnitSystem } from '../units.ts';
import { heightsLines, table, wrapped } from './table.ts';

function entry(
  fit: Fit,
  asked: ReadonlySet<string>,
  cohort: Pick<CohortInput, 'ageBand'>,
  design: Design,
  units: UnitSystem,
): string {
  const { measures } = fit.route;
  const head = table([
    [
      String(fit.rank ?? '').padStart(2),
      fit.route.name.padEnd(34),
      VERDICT_TEXT[fit.verdict].padEnd(10),
      (canBeChosen(fit) ? fit.score.toFixed(2) : '–').padStart(5),
      placesText(fit).padStart(6),
      lengthText(measures.distanceM, units).padStart(8),
      (measures.gainM === null ? 'climb ?' : `+${climbText(measures.gainM.value, units)}`).padStart(9),
      measures.highM === null ? '' : `top ${heightText(measures.highM, units)}`,
      `class ${fit.route.attributes.rockClass ?? '?'}`,
    ],
  ]);
  const lines = [head];
  const drive = driveOf(fit, cohort, design);
  const day = canBeChosen(fit) ? dayText(fit, drive?.departMs ?? null) : null;
  if (day !== null) lines.push(wrapped(day, '      '));
  const say = (text: string) => lines.push(wrapped(text, '      ', 100, '        '));
  for (const { names, verdict, reason } of reasonsOf(fit, units)) {
    const sign = verdict === 'fits' ? '' : ` [${VERDICT_TEXT[verdict]}]`;
    say(`${names.map(questionText).join(', ')}${sign}: ${reason}`);
  }
  for (const text of helpsOf(fit, units)) say(`would help: ${text}`);
  if (canBeChosen(fit)) {
    say(scoreText(fit, design.weights));
    const { notes: stated } = fit.route.attributes;
    if (stated != null) say(`noted with the route: ${stated}`);
  }
  const night = shortNightText(drive);
  if (night !== null) say(night);
  const own = questionsOf(fit, units).filter((text) => !asked.has(text));
  if (own.length > 0 && fit.verdict !== 'ruledOut') say(`to check: ${own.join('; ')}`);
  const notes = fit.route.notes.filter((note) => note.code !== 'treeline-unknown');
  for (const note of notes) say(`note: ${noteText(note, units)}`);
  return lines.join('\n');
}

/** The foot of every shortlist and plan. */
function footText(): string {
  return [MEANING_OF_FITS, ...CAUTIONS].map((text) => wrapped(text, '  ', 100, '  ')).join('\n');
}

/** A shortlist for people. */
export function shortlistText(
  ranked: readonly Fit[],
  { record: { cohort, outings }, date, design }: FitRequest,
  units: UnitSystem,
): string {
  const asked = new Set(askedOfAll(ranked, units));
  const day = ranked.find((fit) => fit.timeline !== null)?.timeline ?? null;
  return [
    `${cohort.name} · ${date}`,
    peopleText(cohort),
    `${plural(ranked.length, 'route')}: ${countsText(ranked.map(({ verdict }) => verdict))}.`,
    ...orderSentences(ranked.map(placedOf), ranked).map((line) => wrapped(line, '', 100, '  ')),
    ...(day === null ? [] : [deadlineText(day)]),
    ...(asked.size > 0 ? [wrapped(`to check for every route: ${[...asked].join('; ')}`, '', 100, '  ')] : []),
    '',
    wrapped(HOW_TO_READ, '', 100, '  '),
    table([
      [
        '  ',
        'route'.padEnd(34),
        'verdict'.padEnd(10),
        'score',
        'places',
        'length'.padStart(8),
        'climb'.padStart(9),
      ],
    ]),
    ...ranked.map((fit) => entry(fit, asked, cohort, design, units)),
    '',
    footText(),
    ...heightsLines(attributionOf([...ranked.map(({ route }) => route), ...outings])),
  ].join('\n');
}
