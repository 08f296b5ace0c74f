import { describe, expect, it } from 'vitest';
import { readConfig } from '../src/config.ts';
import { faultsOf } from '../src/errors.ts';

describe('readConfig', () => {
  it('listens on this machine only, with sane defaults', () => {
    expect(readConfig({})).toMatchObject({
      host: '127.0.0.1',
      port: 8787,
      publicUrl: 'http://127.0.0.1:8787',
      keepDays: 90,
    });
  });

  it.each(['1', '30', '3650'])('keeps cohorts %s days where the program says so', (text) => {
    expect(readConfig({ KRUMMHOLZ_KEEP_DAYS: text }).keepDays).toBe(Number(text));
  });

  it.each<[Record<string, string>, string]>([
    [{ KRUMMHOLZ_HOST: '0.0.0.0' }, 'this machine only'],
    [{ KRUMMHOLZ_PORT: '80a' }, 'port number'],
    [{ KRUMMHOLZ_PORT: '70000' }, 'port number'],
    [{ KRUMMHOLZ_PUBLIC_URL: 'nonsense' }, 'http://'],
    [{ KRUMMHOLZ_PUBLIC_URL: 'javascript:alert(1)' }, 'http://'],
    [{ KRUMMHOLZ_KEEP_DAYS: '0' }, '1 to 3650'],
    [{ KRUMMHOLZ_KEEP_DAYS: '3651' }, '1 to 3650'],
    [{ KRUMMHOLZ_KEEP_DAYS: '-5' }, '1 to 3650'],
    [{ KRUMMHOLZ_KEEP_DAYS: '90.5' }, '1 to 3650'],
    [{ KRUMMHOLZ_KEEP_DAYS: '9e1' }, '1 to 3650'],
    [{ KRUMMHOLZ_KEEP_DAYS: '' }, '1 to 3650'],
    [{ KRUMMHOLZ_KEEP_DAYS: ' 90' }, '1 to 3650'],
    [{ KRUMMHOLZ_KEEP_DAYS: 'never' }, '1 to 3650'],
    [{ KRUMMHOLZ_DB: ':memory:' }, 'must name a file'],
  ])('refuses %j and says what to give', (env, said) => {
    expect(() => readConfig(env)).toThrow(said);
  });

  it('refuses all that cannot be used at once', () => {
    const env = { KRUMMHOLZ_PORT: '80a', KRUMMHOLZ_DB: '', KRUMMHOLZ_DEM_HOSTS: 'Tiles!' };
    const said = faultsOf(() => readConfig(env)).map(({ message }) => message.split(' ')[0]);
    expect(said).toEqual(['KRUMMHOLZ_PORT', 'KRUMMHOLZ_DB', 'KRUMMHOLZ_DEM_HOSTS']);
  });
});
