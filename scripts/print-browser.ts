import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Browser, chromium as browserType, type LaunchOptions } from 'playwright-core';

/** What the package changes in the environment, or reads from it. */
const TOUCHED = ['TMPDIR', 'AWS_LAMBDA_JS_RUNTIME', 'FONTCONFIG_PATH', 'HOME', 'LD_LIBRARY_PATH'] as const;

/** The package's own list of font folders names one fixed place; this names where the fonts were unpacked. */
const fontList = (folder: string): string => `<?xml version="1.0"?>
<!DOCTYPE fontconfig SYSTEM "fonts.dtd">
<fontconfig><dir>${join(folder, 'fonts')}</dir><cachedir>${join(folder, 'font-cache')}</cachedir></fontconfig>
`;

async function unpacked(folder: string): Promise<{ path: string; args: string[]; env: NodeJS.ProcessEnv }> {
  const before = TOUCHED.map((name) => [name, process.env[name]] as const);
  try {
    process.env.TMPDIR = folder;
    // The package unpacks its libraries only where it takes the machine for this cloud service.
    process.env.AWS_LAMBDA_JS_RUNTIME = 'nodejs20.x';
    const { default: chromium } = await import('@sparticuz/chromium');
    // Nothing drawn here wants a graphics card: without one put on by software a page takes half the work.
    chromium.setGraphicsMode = false;
    const path = await chromium.executablePath();
    const fonts = join(folder, 'fonts.conf');
    await writeFile(fonts, fontList(folder));
    const libraries = [join(folder, 'al2023', 'lib'), process.env.LD_LIBRARY_PATH].filter(Boolean).join(':');
    return {
      path,
      // In a single process the whole browser ends with the first page that is closed.
      args: chromium.args.filter((arg) => arg !== '--single-process'),
      env: { ...process.env, FONTCONFIG_FILE: fonts, LD_LIBRARY_PATH: libraries },
    };
  } finally {
    for (const [name, value] of before) {
      if (value === undefined) delete process.env[name];
      else process.env[name] = value;
    }
  }
}

export interface PrintBrowser {
  readonly browser: Browser;
  /** Ends the browser and removes what was unpacked for it. */
  close(): Promise<void>;
}

/** Unpacks and starts the browser, and takes away what was unpacked once it is closed, or where it does not start. */
async function started<T extends { close(): Promise<void> }>(
  start: (options: LaunchOptions) => Promise<T>,
): Promise<T & { readonly end: () => Promise<void> }> {
  // A folder of its own: two runs at a time do not unpack over each other, and no half-unpacked one is found.
  const folder = await mkdtemp(join(tmpdir(), 'krummholz-browser-'));
  const remove = () => rm(folder, { recursive: true, force: true });
  try {
    const { path, args, env } = await unpacked(folder);
    const variables = Object.entries(env).flatMap(([name, value]) =>
      value === undefined ? [] : [[name, value]],
    );
    const running = await start({ executablePath: path, args, env: Object.fromEntries(variables) });
    return Object.assign(running, { end: () => running.close().finally(remove) });
  } catch (error) {
    await remove();
    throw error;
  }
}

/**
 * Opens the browser that comes in the packages. Libraries and fonts come from the package too, so that lines end at
 * the same words on every machine, and nothing has to be installed.
 */
export async function openPrintBrowser(): Promise<PrintBrowser> {
  const browser = await started((options) => browserType.launch(options));
  return { browser, close: browser.end };
}

/** The same browser for several processes: each connects to its address. */
export async function servePrintBrowser(): Promise<{ readonly address: string; close(): Promise<void> }> {
  const server = await started((options) => browserType.launchServer({ ...options, host: '127.0.0.1' }));
  return { address: server.wsEndpoint(), close: server.end };
}
