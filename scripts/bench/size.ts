/** Whether a script runs at its smoke size: large enough to go every way once, small enough for every CI run. */
export const isSmoke = process.argv.includes('--smoke');

/** The size asked for: the whole one, or with `--smoke` the small one. */
export const sized = <T>(whole: T, smoke: T): T => (isSmoke ? smoke : whole);
