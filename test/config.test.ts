import { describe, expect, it } from 'vitest';
import { readConfig } from '../src/config.ts';

describe('readConfig', () => {
  it('listens on this machine only, with sane defaults', () => {
    expect(readConfig({})).toMatchObject({
      host: '127.0.0.1',
      port: 8787,
      publicUrl: 'http://127.0.0.1:8787',
    });
  });

  it.each([
    [{ KRUMMHOLZ_HOST: '0.0.0.0' }, 'this machine only'],
    [{ KRUMMHOLZ_PORT: '80a' }, 'port number'],
    [{ KRUMMHOLZ_PORT: '70000' }, 'port number'],
    [{ KRUMMHOLZ_PUBLIC_URL: 'nonsense' }, 'http://'],
    [{ KRUMMHOLZ_PUBLIC_URL: 'javascript:alert(1)' }, 'http://'],
    [{ KRUMMHOLZ_DB: ':memory:' }, 'must name a file'],
  ])('refuses %j and says what to give', (env, said) => {
    expect(() => readConfig(env)).toThrow(said);
  });
});
