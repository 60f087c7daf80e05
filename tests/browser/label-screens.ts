/** The screens of labels that are lost, blank or one too few. */
import { pressFolded } from './acts.js';
import type { Screen } from './screen.js';

/** @param blank the code of a blank label for a lot */
export function labelScreens(lot: { id: string; code: string }, blank: string): Screen[] {
  return [
    {
      name: 'another label for a lost one',
      path: `/labels/${lot.code}/replace?blank=${blank}`,
      ready: (page) => page.getByRole('heading', { name: /^Another label for/ }),
      action: (page) => page.getByRole('button', { name: 'Put this label in its place' }),
    },
    {
      name: 'a blank label',
      path: `/labels/${blank}/blank`,
      ready: (page) => page.getByRole('heading', { name: /^Blank label/ }),
      action: (page) => page.getByRole('link', { name: /^It has lost/ }).first(),
      prepare: async (page) => {
        await page.getByLabel(/^Look for it/).fill('seal');
        await page
          .getByRole('button', { name: /^Its lots/ })
          .first()
          .click();
        await page
          .getByRole('link', { name: /^It has lost/ })
          .first()
          .waitFor();
      },
    },
    {
      name: 'a lot that is two bags',
      path: `/stores/things/${lot.id}`,
      ready: (page) => page.getByRole('heading', { name: 'Labels of this' }),
      action: (page) => page.getByRole('button', { name: 'Split it' }),
      prepare: async (page) => {
        await pressFolded(page, 'Two bags in one');
        await page.getByLabel('Why it is split').waitFor();
      },
    },
  ];
}
