import type { Examples } from './examples-for-screens.js';
import { labelScreens } from './label-screens.js';
import { scan } from './scene.js';
import { button, heading, type Screen, scanField } from './screen.js';

/** The doors, Today, goods-in, labels, the bench and the settings. */
export function benchScreens({ job, lot, stripped, load, blank }: Examples): Screen[] {
  return [
    { name: 'sign-in', path: '/sign-in', ready: heading('Sign in'), action: button('Sign in'), outside: true },
    {
      name: 'set-up',
      path: '/set-up?token=none',
      ready: heading('Set up the workshop'),
      action: button('Set it up'),
      outside: true,
    },
    {
      name: 'pass phrase',
      path: '/pass-phrase?token=none',
      ready: heading('Choose a pass phrase'),
      action: button('Keep it and sign in'),
      outside: true,
    },
    { name: 'today', path: '/', ready: heading(/./), action: scanField },
    {
      name: 'goods-in',
      path: '/goods-in',
      ready: (page) => page.getByRole('link', { name: /^Load 61/ }),
      action: button('Begin a load'),
    },
    { name: 'a load', path: `/goods-in/${load.id}`, ready: button('Key a row'), action: button('Key a row') },
    {
      name: 'a row in hand',
      path: `/goods-in/${load.id}`,
      ready: button('Key a row'),
      action: button(/^Save, next row/),
      prepare: async (page) => {
        await page.getByRole('button', { name: 'Change row 12', exact: true }).click();
        await page.getByLabel('packet date').waitFor();
      },
    },
    {
      name: 'several rows alike',
      path: `/goods-in/${load.id}`,
      ready: button('Key a row'),
      action: button('Add them'),
      prepare: async (page) => {
        await page.getByRole('button', { name: 'Change row 5', exact: true }).click();
        await page.getByRole('button', { name: /^Several like this/ }).click();
        await page.getByLabel('How many more like this one').waitFor();
      },
    },
    {
      name: 'rows from a spreadsheet',
      path: `/goods-in/${load.id}`,
      ready: button('Key a row'),
      action: button('Take 2 rows in'),
      prepare: async (page) => {
        await page.getByRole('button', { name: 'Paste rows from a spreadsheet' }).click();
        await page.getByLabel('Paste the rows here').fill('number\tcount\tshelf\n48-2230\t6\ta\n1.20E+04\t1\tb\n48-2218\t2\tc');
        await page.getByText('2 rows can be taken in.', { exact: false }).waitFor();
      },
    },
    {
      name: 'what a load cost',
      path: `/goods-in/${load.id}`,
      ready: heading('What it cost'),
      action: button('Keep it'),
      prepare: async (page) => {
        await page.getByRole('button', { name: /what was paid$/ }).click();
        await page.getByLabel('Price').waitFor();
      },
    },
    {
      name: 'a label',
      path: `/labels/${job.unit.code}`,
      ready: (page) => page.getByRole('img', { name: /tie-on tag/i }),
      action: button('Print 2 labels'),
    },
    ...labelScreens(lot, blank),
    { name: 'bench', path: '/bench', ready: heading('Last ten acts'), action: scanField },
    {
      name: 'a stopped scan',
      path: '/bench',
      ready: heading('Last ten acts'),
      action: button(/^1/),
      prepare: async (page) => {
        await page.keyboard.press('F8');
        await scan(page, job.code);
        await page.getByText('This job', { exact: true }).waitFor();
        await scan(page, lot.code);
        await page.getByText('Or scan on.').waitFor();
      },
    },
    {
      name: 'a strip-down that nobody has begun',
      path: `/bench/strip-down/${job.unit.id}`,
      ready: heading('Strip-down'),
      action: button('Begin to strip it'),
    },
    {
      name: 'a component in hand',
      path: `/bench/strip-down/${stripped.id}`,
      ready: (page) => page.getByRole('list', { name: 'Components' }),
      action: button('Record it'),
      prepare: async (page) => {
        await page.getByRole('button', { name: /^4\s*Worm wheel/ }).click();
        await page.getByRole('button', { name: /^to stores/ }).click();
        await page.getByLabel('Where it is put').waitFor();
      },
    },
    { name: 'settings', path: '/settings', ready: heading('Settings'), action: scanField },
    {
      name: 'a sign in hand',
      path: '/settings',
      ready: heading('What a unit type is known by'),
      action: button('Keep the sign'),
      prepare: async (page) => {
        await page.getByRole('button', { name: /^A small thrust cover closes the end of the worm/ }).click();
        await page.getByRole('button', { name: 'Add a sign' }).click();
        await page.getByRole('form', { name: 'A new sign' }).getByLabel('Kind of sign').waitFor();
      },
    },
    {
      name: 'a grade in hand',
      path: '/settings',
      ready: (page) => page.getByRole('button', { name: /^Grades of cores/ }),
      action: button('Keep it'),
      prepare: async (page) => {
        await page.getByRole('button', { name: /^Grades of cores/ }).click();
        await page.getByRole('button', { name: 'Change grade B of cores' }).click();
        await page.getByLabel('Letter').waitFor();
      },
    },
    {
      name: 'no such page',
      path: '/nowhere',
      ready: heading('There is no such page'),
      action: (page) => page.getByRole('link', { name: 'To Today' }),
    },
  ];
}
