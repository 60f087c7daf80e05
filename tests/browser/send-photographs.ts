/** Photographs that wait on the device, sent by a press where they have not gone by themselves. */
import type { Page } from 'playwright-core';
import { eventually } from './scene.js';

/** Presses until they have arrived, as `arrived` finds: it sends by itself too, and then there is nothing to press. */
export function sendWhatWaits(page: Page, arrived: () => Promise<void>): Promise<void> {
  const sendNow = page.getByRole('button', { name: 'Send them now' });
  return eventually(async () => {
    if (await sendNow.isVisible()) await sendNow.click({ timeout: 1_000 }).catch(() => undefined);
    await arrived();
  }, 60_000);
}
