import { type PageSection, section } from './people-page.ts';

/**
 * The five classes in plain words. The scale began as the Sierra Club system in the 1930s; the wording is not
 * standardised, and these are working definitions in our own words (sources.md §12).
 */
const CLASSES = [
  'Walking on a path. Hands are not needed.',
  'Rough ground or no path: loose stones, boulders. Now and then a hand for balance.',
  'Scrambling: you need your hands to get on. A fall could hurt you. Some groups use a rope.',
  'Easy climbing high above the ground. A fall could kill. Often with a rope.',
  'Rock climbing with rope and protection.',
] as const;

function shiftText(part: string): string {
  // Inside class 5 plus and minus belong to the grade.
  if (part.includes('.')) return '';
  if (part.endsWith('+')) return ', at its harder end';
  return part.endsWith('-') ? ', at its easier end' : '';
}

/**
 * The section on the classes with this route's marked; of a summit block ("3s4") both are. `null`: the class is not
 * stated, nothing is marked and the note says so.
 * @param rockClass as the reader of route files accepts it: "1", "2+", "3s4", "5.4".
 * @param inDoubt the class that steep ground may be: nothing is then said to be "here" as if it were sure.
 */
export function classLegend(rockClass: string | null, inDoubt: number | null): PageSection {
  const parts = rockClass === null ? [] : rockClass.split('s');
  const marked = [...new Set(parts.map((part) => Number(part[0]) - 1))].sort();
  const [walk, block] = parts;
  const says = inDoubt === null ? '' : 'stated as ';
  const note =
    walk === undefined
      ? 'The class of this route is not stated. Ask the leaders before you say yes.'
      : block === undefined
        ? `This route: ${says}class ${walk}${shiftText(walk)}. The hardest step of the whole way gives the class.`
        : `This route: ${says}class ${walk}${shiftText(walk)}, and class ${block}${shiftText(block)} for the last piece to the summit. The harder one counts.`;
  return section('How hard is the ground?', {
    table: {
      columns: ['Class', 'What it is like', 'This route'],
      rows: CLASSES.map((text, index) => [
        String(index + 1),
        text,
        marked.includes(index)
          ? inDoubt === null
            ? 'here'
            : 'stated'
          : index + 1 === inDoubt
            ? 'perhaps'
            : '–',
      ]),
      marked,
    },
    lines: [
      inDoubt === null
        ? note
        : `${note} Not sure yet: some of the ground is so steep that it may be class ${inDoubt} or harder. The leaders check before the day: ask them.`,
    ],
  });
}
