import type { Locator, Page } from 'playwright-core';

/** A screen of the web app, and how a test comes to it. */
export interface Screen {
  name: string;
  path: string;
  /** What stands there once it is whole. */
  ready: (page: Page) => Locator;
  /** What a person comes for; it must be within reach of Tab. */
  action: (page: Page) => Locator;
  /** Before the door: nobody is signed in. */
  outside?: true;
  /** Brings it into the state that is looked at. */
  prepare?: (page: Page) => Promise<void>;
}
