import type { TrainingPlanView } from '../views/training-view.ts';
import { citing, type PeoplePage, section, TRADE } from './people-page.ts';

/** The training for a trip as a page: milestones, dated steps, and where each can be walked. No label is in it. */
export function trainingPage(routeName: string, plan: TrainingPlanView): PeoplePage {
  const milestones = section('Three days of training', {
    lines: [
      ...citing(
        TRADE,
        'A day with the distance, a day with the climb, a day with both, by everyone who goes, on lower ground than the trip.',
      ),
      ...plan.milestones.map(({ text }) => text),
    ],
  });
  const where = (step: TrainingPlanView['steps'][number]): string =>
    [
      ...step.routes.map(({ text }) => text),
      ...(step.repeats === null ? [] : [step.repeats.text]),
      step.stair.text,
    ].join('; or ');
  return {
    title: `Training for ${routeName}`,
    reader: 'leaders',
    sections: [
      section('In short', { lines: [plan.text, ...plan.notes] }),
      milestones,
      ...(plan.steps.length === 0
        ? []
        : [
            section('Steps', {
              table: {
                columns: ['Date', 'What', 'Why', 'Where it can be done', 'Done'],
                rows: plan.steps.map((step) => [step.date, step.text, step.why, where(step), '']),
              },
              lines: [
                'Record each day when it is done: the steps after it are worked out again from what was really walked.',
              ],
            }),
          ]),
      ...(plan.after === null || plan.after.inTheWay.length === 0
        ? []
        : [
            section('What training does not change', {
              lines: plan.after.inTheWay.map(({ reason }) => `${reason}.`),
            }),
          ]),
    ],
  };
}
