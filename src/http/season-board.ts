import { storedSeasonBoard } from '../app/season.ts';
import { checkSeasonRequest } from '../ingest/season-file.ts';
import { closed } from '../schema.ts';
import { seasonView } from '../views/season-view.ts';
import { bodyJson } from './body.ts';
import type { App, ResourceDeps } from './deps.ts';
import { JSON_TYPE } from './media.ts';
import { answers, jsonOf, unitsQuery } from './schemas.ts';

/** A day for each of many cohorts, within what they share. Nothing is stored. */
export function seasonBoardResource(app: App, { context }: ResourceDeps): void {
  app.post(
    '/v1/season-board',
    {
      config: { consumes: [JSON_TYPE] },
      schema: {
        operationId: 'makeSeasonBoard',
        summary: 'A date and a route for each cohort, within shared vehicles, permits and parking',
        tags: ['season'],
        querystring: closed({ ...unitsQuery }),
        body: { content: jsonOf('SeasonRequest') },
        response: answers({ 200: ['the board', 'SeasonBoard'] }),
      },
    },
    async (request) => {
      const { units = 'metric' } = request.query;
      const asked = checkSeasonRequest(bodyJson(request, 'bad-season'));
      return seasonView(await storedSeasonBoard(context, asked), context.ground.design, units);
    },
  );
}
