import { afterEach, describe, expect, it } from 'vitest';
import { openContext } from '../../../src/app/context.ts';
import type { SampleOrder } from '../../../src/app/rankings.ts';
import { DESIGN } from '../../../src/design.ts';
import type { App } from '../../../src/http/deps.ts';
import { type TriedOrder, tryQuestion } from '../../../src/sampling/certainty.ts';
import { buildApp } from '../../../src/service.ts';
import { addCohort, addRoute, ask, eachService, NOW_MS, PUBLIC_URL } from '../../http/service.ts';

describe('the page of a cohort', () => {
  const service = eachService();
  let drawing: App | null = null;
  afterEach(() => drawing?.close());

  /** The same service, its orders sampled otherwise; gives its page of a cohort. */
  async function pageSampledBy(sample: SampleOrder): Promise<string> {
    await addRoute(service.app);
    const { id } = await addCohort(service.app);
    const ground = { surface: service.surface, design: DESIGN };
    const context = openContext({ store: service.store, ground, nowMs: () => NOW_MS, sample });
    drawing = await buildApp({ ...service, context, publicUrl: PUBLIC_URL });
    return `/cohorts/${id}?date=2026-07-11`;
  }

  it('is on its way as far as its list while it is still sampled how sure the order is', async () => {
    let finish = (): void => {};
    const path = await pageSampledBy(
      (question) =>
        new Promise<TriedOrder>((resolve) => {
          finish = () => resolve(tryQuestion(question));
        }),
    );
    const url = await drawing?.listen({ host: '127.0.0.1', port: 0 });
    const answer = await fetch(`${url}${path}`);
    const reader = answer.body?.pipeThrough(new TextDecoderStream()).getReader();
    let whole = '';
    const readUntil = async (isEnough: () => boolean): Promise<void> => {
      while (!isEnough()) {
        const part = await reader?.read();
        if (part === undefined || part.done) return;
        whole += part.value;
      }
    };
    await readUntil(() => whole.includes('<section id="shortlist"'));
    expect(whole).toContain('<form class="asked"');
    expect(whole).toContain('<section id="shortlist"');
    expect(whole).not.toContain('South Way');
    finish();
    await readUntil(() => false);
    expect(whole).toContain('South Way');
    expect(whole).toBe((await ask(service.app, { url: path })).text);
  });

  it('says so where its list fails after it has begun, and has it when it is asked again', async () => {
    let times = 0;
    const path = await pageSampledBy((question) => {
      times += 1;
      return times === 1 ? Promise.reject(new Error('no room')) : tryQuestion(question);
    });
    const failed = await ask(drawing as App, { url: path });
    expect(failed.text).toContain('The list could not be made.');
    expect(failed.text).not.toContain('no room');
    expect(failed.text).toMatch(/<\/html>\n$/);
    const again = await ask(drawing as App, { url: path });
    expect(again.text).toContain('South Way');
    expect(again.text).not.toContain('could not be made');
  });
});
