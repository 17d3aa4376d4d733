// A real browser for tests: it comes with the development packages, and every page is watched for complaints and
// for requests.
import chromium from '@sparticuz/chromium';
import axe from 'axe-core';
import {
  type Browser,
  type BrowserContextOptions,
  chromium as driver,
  type Page,
} from 'playwright-core';
import { afterAll, beforeAll } from 'vitest';
import { browserFile } from './unpack.js';

export interface Watched {
  readonly page: Page;
  /** Errors and warnings of the console, uncaught errors, and requests for anything but the page itself. */
  readonly complaints: readonly string[];
}

/** Until what is waited for must have come, on a slow machine with other things to do. */
export const patienceMs = 90_000;

let running: Browser | null = null;

/** One browser for all tests of a file. */
export function withBrowser(): void {
  beforeAll(async () => {
    running = await driver.launch({
      executablePath: browserFile(),
      args: [
        // In one process the whole browser goes down with a page.
        ...chromium.args.filter((arg) => !['--single-process', '--no-zygote'].includes(arg)),
        '--allow-file-access-from-files',
      ],
      headless: true,
    });
  }, 120_000);
  afterAll(async () => {
    await running?.close();
    running = null;
  });
}

/** Opens a file as a double click would. */
export async function opened(
  file: string,
  { hash = '', ...options }: BrowserContextOptions & { readonly hash?: string } = {},
): Promise<Watched> {
  if (running === null) throw new Error('withBrowser() comes first');
  const context = await running.newContext({ viewport: { width: 1200, height: 900 }, ...options });
  context.setDefaultTimeout(patienceMs);
  const page = await context.newPage();
  const complaints: string[] = [];
  page.on('console', (message) => {
    if (['error', 'warning'].includes(message.type())) complaints.push(message.text());
  });
  page.on('pageerror', (error) => complaints.push(String(error.stack)));
  page.on('request', (request) => {
    const url = request.url();
    if (!url.startsWith(`file://${file}`) && !url.startsWith('blob:'))
      complaints.push(`request: ${url}`);
  });
  await page.goto(`file://${file}${hash}`);
  return { page, complaints };
}

/** Presses a button that gives a file out. @returns where that file lies */
export async function givenBy(page: Page, name: string): Promise<string> {
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name, exact: true }).click(),
  ]);
  return download.path();
}

/** Drops a file on the planner. */
export async function dropOn(page: Page, name: string, text: string): Promise<void> {
  await page.evaluate(
    `(() => { const data = new DataTransfer(); data.items.add(new File([${JSON.stringify(text)}], ${JSON.stringify(name)}));
      document.querySelector('main').dispatchEvent(new DragEvent('drop', { dataTransfer: data, bubbles: true, cancelable: true })); })()`,
  );
}

/** Of the accessibility checker: what light and dark can differ in. */
export const contrast = 'color-contrast';

/**
 * What an accessibility checker finds serious: which rule, how often, and the first element.
 * @param within a selector. @param rule the only one to check
 */
export async function seriousFindings(
  page: Page,
  { within, rule }: { readonly within?: string; readonly rule?: string } = {},
): Promise<readonly string[]> {
  if (!(await page.evaluate(`'axe' in window`))) await page.evaluate(axe.source);
  const options = {
    resultTypes: ['violations'],
    ...(rule === undefined ? {} : { runOnly: [rule] }),
  };
  const asked = `${within === undefined ? 'document' : JSON.stringify(within)}, ${JSON.stringify(options)}`;
  const found = await page.evaluate(`axe.run(${asked}).then(({ violations }) =>
    violations
      .filter(({ impact }) => impact === 'serious' || impact === 'critical')
      .map(({ id, nodes }) => id + ' ' + nodes.length + ': ' + nodes[0].html))`);
  return Array.isArray(found) ? found.map(String) : ['the checker gave no answer'];
}
