/** What every browser test stands on: the example workshop, a server for it, a browser, and hands that key and scan. */
import type { Browser, BrowserContext, BrowserContextOptions, CDPSession, Page } from 'playwright-core';
import type { BareServer, Visitor } from '../support/bare-server.js';
import { tokenIn } from '../support/bare-server.js';
import { startBrowser, webFolder } from '../support/browser.js';
import { ownersPath, startExampleServer } from '../support/example-server.js';

export interface Scene {
  server: BareServer;
  browser: Browser;
  /** The owner of the example, for what a test makes ready without a screen. */
  owner: Visitor;
  /** A browser of its own, with nobody signed in. */
  context(options?: BrowserContextOptions): Promise<BrowserContext>;
  /** A page on which the owner is signed in, in a browser of its own. */
  page(options?: BrowserContextOptions): Promise<Page>;
  /** What the pages' consoles have complained of: faults of scripts, broken rules of the content policy. */
  complaints: string[];
  stop(): Promise<void>;
}

export async function openScene(name: string): Promise<Scene> {
  const browser = await startBrowser();
  const server = await startExampleServer(name, { webFolder });
  const owner = server.visitor();
  await owner.post('/api/sign-in-link', { token: tokenIn(await ownersPath(server)) }, { key: null });
  const complaints: string[] = [];
  const context = async (options: BrowserContextOptions = {}) => {
    const made = await browser.newContext({ baseURL: server.url, viewport: { width: 1440, height: 1000 }, ...options });
    made.on('console', (message) => {
      if (message.type() === 'error' && !isNetworkNote(message.text())) complaints.push(message.text());
    });
    made.on('weberror', (error) => complaints.push(String(error.error())));
    return made;
  };
  return {
    server,
    browser,
    owner,
    context,
    page: async (options) => signedIn(server, await context(options)),
    complaints,
    stop: async () => {
      await browser.close();
      await server.stop();
    },
  };
}

/** The browser notes each answer that is no success, and each that does not come. Refusals are answers too. */
function isNetworkNote(text: string): boolean {
  return text.startsWith('Failed to load resource');
}

async function signedIn(server: BareServer, context: BrowserContext): Promise<Page> {
  const page = await context.newPage();
  await page.goto(await ownersPath(server));
  await page.getByRole('navigation', { name: 'Places' }).waitFor();
  return page;
}

const sessions = new WeakMap<Page, Promise<CDPSession>>();

function sessionOf(page: Page): Promise<CDPSession> {
  const session = sessions.get(page) ?? page.context().newCDPSession(page);
  sessions.set(page, session);
  return session;
}

/** A scanner types faster than any person, and says Enter at the end. */
const scannerGapMs = 8;

/**
 * Types into whatever has the focus with keys exactly so far apart, by the keyboard's own clock, however busy the machine is.
 * Resolves when the page has had them all.
 */
export async function typeAt(page: Page, text: string, gapMs: number, end: 'Enter' | 'Tab' | null = 'Enter'): Promise<void> {
  const session = await sessionOf(page);
  const begun = Date.now();
  const strokes = [...[...text].map(strokeOf), ...(end === null ? [] : [endStrokes[end]])];
  await Promise.all(
    strokes.flatMap((stroke, index) => {
      const timestamp = (begun + index * gapMs) / 1000;
      return [
        session.send('Input.dispatchKeyEvent', { type: 'keyDown', timestamp, ...stroke }),
        session.send('Input.dispatchKeyEvent', { type: 'keyUp', timestamp, ...stroke, text: undefined }),
      ];
    }),
  );
}

/** A label under a keyboard-wedge scanner. */
export function scan(page: Page, code: string): Promise<void> {
  return typeAt(page, code.replaceAll(' ', ''), scannerGapMs);
}

/** So many times Tab, one close upon the other. */
export async function pressTabs(page: Page, times: number): Promise<void> {
  const session = await sessionOf(page);
  const press = (type: 'keyDown' | 'keyUp') =>
    session.send('Input.dispatchKeyEvent', { type, ...endStrokes.Tab, text: undefined });
  await Promise.all(Array.from({ length: times }).flatMap(() => [press('keyDown'), press('keyUp')]));
}

interface Stroke {
  key: string;
  code: string;
  windowsVirtualKeyCode: number;
  text: string;
}

const endStrokes: Record<'Enter' | 'Tab', Stroke> = {
  Enter: { key: 'Enter', code: 'Enter', windowsVirtualKeyCode: 13, text: '\r' },
  Tab: { key: 'Tab', code: 'Tab', windowsVirtualKeyCode: 9, text: '\t' },
};

function strokeOf(character: string): Stroke {
  const upper = character.toUpperCase();
  const code = /[A-Z]/.test(upper)
    ? `Key${upper}`
    : /\d/.test(character)
      ? `Digit${character}`
      : character === ' '
        ? 'Space'
        : '';
  return { key: character, code, windowsVirtualKeyCode: upper.charCodeAt(0), text: character };
}

const patienceMs = 15_000;
const lookAgainMs = 25;

/** Asks until the answer holds. The last failure is thrown when it never does. */
export async function eventually(claim: () => Promise<void>, withinMs = patienceMs): Promise<void> {
  const end = performance.now() + withinMs;
  for (;;) {
    try {
      return await claim();
    } catch (error) {
      if (performance.now() > end) throw error;
    }
    await new Promise((resolve) => setTimeout(resolve, lookAgainMs));
  }
}
