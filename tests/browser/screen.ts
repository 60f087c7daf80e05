import type { Locator, Page } from 'playwright-core';

/** A screen of the web app as it is looked at by the rules that hold for all of them. */
export interface Screen {
  name: string;
  path: string;
  /** What stands there once it is whole. */
  ready: (page: Page) => Locator;
  /** What a person comes for; it must be within reach of Tab. */
  action: (page: Page) => Locator;
  /** Before the door: nobody is signed in. */
  outside?: true;
  /** What it shows at first goes by the width of the window: it is loaded anew for a phone. */
  opensByWidth?: true;
  /** Brings it into the state that is looked at. */
  prepare?: (page: Page) => Promise<void>;
}

export const button = (name: string | RegExp) => (page: Page) => page.getByRole('button', { name, exact: true }).first();
export const heading = (name: string | RegExp) => (page: Page) => page.getByRole('heading', { name }).first();
export const scanField = (page: Page) => page.getByLabel('Scan, or key a code');
