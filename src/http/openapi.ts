import swagger from '@fastify/swagger';
import type { App } from './deps.ts';
import { COMPONENTS } from './schemas.ts';

interface Named {
  readonly $id?: unknown;
}

/** Collects the routes that are registered after it into an OpenAPI 3.1 document. */
export async function collectOpenapi(app: App, publicUrl: string): Promise<void> {
  for (const [name, schema] of Object.entries(COMPONENTS)) app.addSchema({ ...schema, $id: name });
  await app.register(swagger, {
    refResolver: {
      buildLocalReference: ({ $id }: Named, _base, _fragment, i) =>
        typeof $id === 'string' ? $id : `schema${i}`,
    },
    openapi: {
      openapi: '3.1.0',
      info: {
        title: 'Krummholz',
        version: '1',
        description:
          'Fits mountain routes to groups. Numbers are SI with the unit in the name; null is “not known”. ' +
          'GET also answers HEAD. Single resources carry a strong ETag; PUT and PATCH need If-Match.',
        license: { name: 'MIT', identifier: 'MIT' },
      },
      servers: [{ url: publicUrl }],
      tags: [
        { name: 'routes', description: 'candidate routes, measured on the terrain' },
        { name: 'cohorts', description: 'the groups' },
        { name: 'outings', description: 'days that a group has walked' },
        { name: 'plans', description: 'the day on one route, and the training for it' },
        { name: 'shortlist', description: 'how routes fit a group on a date' },
        { name: 'service', description: 'the service itself' },
      ],
    },
  });
}
