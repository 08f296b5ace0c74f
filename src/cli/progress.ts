import cliProgress from 'cli-progress';

export interface Progress {
  readonly step: (what: string) => void;
  readonly stop: () => void;
}

const SILENT: Progress = { step: () => {}, stop: () => {} };

/** A bar on stderr while a person watches; nothing where stderr is not a terminal or there is little to do. */
export function progressOf(total: number, label: string): Progress {
  if (process.stderr.isTTY !== true || total < 2) return SILENT;
  const bar = new cliProgress.SingleBar({
    stream: process.stderr,
    format: `${label} [{bar}] {value}/{total} {what}`,
    clearOnComplete: true,
    hideCursor: true,
  });
  bar.start(total, 0, { what: '' });
  return {
    step: (what) => bar.increment(1, { what }),
    stop: () => bar.stop(),
  };
}
