import type { App, ResourceDeps } from './deps.ts';
import { answers } from './schemas.ts';

/** The design settings in force: every limit and constant that verdicts rest on. */
export function settingsResource(app: App, { context }: ResourceDeps): void {
  app.get(
    '/v1/settings',
    {
      schema: {
        operationId: 'getSettings',
        summary: 'The settings that the figures and verdicts rest on',
        tags: ['service'],
        response: answers({ 200: ['the settings in force', 'Settings'] }),
      },
    },
    async () => context.ground.design,
  );
}
