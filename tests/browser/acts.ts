/** What can be done with a thing or a place, from its page: a few acts stand, the others are folded away. */
import type { Page } from 'playwright-core';

const more = 'More to do with it';
const folded = (page: Page) => page.getByRole('list', { name: more });

/** Opens the fold: what is in it can be pressed then, and what is not offered can be looked for in vain. */
export async function unfoldActs(page: Page): Promise<void> {
  const handle = page.getByRole('button', { name: more });
  if ((await handle.getAttribute('aria-expanded')) !== 'true') await handle.click();
  await folded(page).waitFor();
}

/** Presses a button, or follows a link, that is folded away. */
export async function pressFolded(page: Page, name: string): Promise<void> {
  await unfoldActs(page);
  const act = { name, exact: true };
  await folded(page).getByRole('button', act).or(folded(page).getByRole('link', act)).click();
}
