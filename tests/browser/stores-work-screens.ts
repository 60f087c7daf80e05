import type { Examples } from './examples-for-screens.js';
import { button, heading, type Screen, scanField } from './screen.js';

/** What is done in the stores. */
export function storesWorkScreens({
  lot,
  place,
  counted,
  theirs,
  condemned,
  sealant,
  container,
  sale,
  shelf,
}: Examples): Screen[] {
  return [
    {
      name: 'held back',
      path: '/stores/held-back',
      ready: heading('Condemned, and still here'),
      action: (page) => page.getByLabel('In the order'),
    },
    {
      name: 'not ours',
      path: '/stores/not-ours',
      ready: (page) => page.getByRole('link', { name: /^A list for / }).first(),
      action: (page) => page.getByRole('link', { name: /^A list for / }).first(),
    },
    {
      name: 'the list of one owner',
      path: `/stores/not-ours?owner=${theirs}`,
      ready: heading('What of yours lies here'),
      action: button('Print it'),
    },
    {
      name: 'kept for their owners',
      path: '/stores/kept-for-owners',
      ready: (page) => page.getByRole('link', { name: /Lapping plate in a sack/ }),
      action: button('Write it down'),
      prepare: async (page) => {
        await page
          .getByRole('button', { name: /^What became of it/ })
          .first()
          .click();
        await page.getByRole('button', { name: 'Something was found' }).click();
        await page.getByLabel('Where it was found').waitFor();
      },
    },
    {
      name: 'what is condemned',
      path: `/stores/things/${condemned}`,
      ready: button('What becomes of it'),
      action: button('Put it on the record'),
      prepare: async (page) => {
        await page.getByRole('button', { name: 'What becomes of it', exact: true }).click();
        await page.getByLabel('In words').waitFor();
      },
    },
    {
      name: 'stores as it stood',
      path: `/stores/as-it-stood?on=2030-01-01&place=${place.id}`,
      ready: heading('In all'),
      action: button('Show it'),
    },
    {
      name: 'a counter sale',
      path: `/stores/sell?code=${lot.code}`,
      ready: heading('On this receipt'),
      action: button(/^Sell it/),
      prepare: async (page) => {
        await page.getByLabel(/^Why .* is let go$/).waitFor();
      },
    },
    { name: 'what was sold', path: '/stores/sales', ready: heading('What it came to'), action: scanField },
    {
      name: 'a receipt',
      path: `/stores/sales/${sale.id}`,
      ready: heading(/^Receipt \d/),
      action: button('Take it back'),
      prepare: async (page) => {
        await page.getByRole('button', { name: /^Take back L/ }).click();
        await page.getByLabel('Why it comes back').waitFor();
      },
    },
    {
      name: 'what is due to be counted',
      path: '/stores/counting',
      ready: heading('What is due'),
      action: button(/^Count it: /),
    },
    {
      name: 'a count',
      path: `/stores/counting/${counted.id}`,
      ready: heading('What differs'),
      action: button('Keep it'),
      prepare: async (page) => {
        await page.getByRole('button', { name: 'Write something down' }).click();
        await page.getByLabel('What it is').waitFor();
      },
    },
    {
      name: 'a difference in hand',
      path: `/stores/counting/${counted.id}`,
      ready: heading('What differs'),
      action: button('Leave it as it is'),
      prepare: async (page) => {
        await page
          .getByRole('button', { name: /^Leave it, and say why/ })
          .first()
          .click();
        await page.getByLabel('Why it is left as it is').waitFor();
      },
    },
    {
      name: 'consumables',
      path: '/stores/consumables',
      ready: (page) => page.getByText('Past use-by since').first(),
      action: button(/^Open one of L/),
    },
    {
      name: 'an open container',
      path: `/stores/things/${container.id}`,
      ready: heading('Container'),
      action: button(/^It is empty: L/),
    },
    {
      name: 'a consumable in hand',
      path: `/stores/parts/${sealant.partId}`,
      ready: heading('Consumable'),
      action: button('Keep it'),
      prepare: async (page) => {
        await page.getByRole('button', { name: 'Change how it is kept' }).click();
        await page.getByText('so much a job', { exact: true }).click();
        await page.getByLabel('So much a job, of any type').waitFor();
      },
    },
    {
      name: 'the list to buy',
      path: '/stores/to-buy',
      ready: heading('Veldrow Supplies'),
      action: button('Write the order down'),
      prepare: async (page) => {
        await page.getByRole('button', { name: 'It is ordered: Flange sealant' }).click();
        await page.getByLabel('Order reference').waitFor();
      },
    },
    {
      name: 'opening stock',
      path: '/stores/opening',
      ready: (page) => page.getByRole('list', { name: 'Shelves of Rack Z' }),
      action: (page) => page.getByRole('link', { name: 'Name and cost it' }),
      prepare: async (page) => {
        await page.getByRole('button', { name: 'A place that is not in the books yet' }).click();
        await page.getByLabel('What it is called').waitFor();
      },
    },
    {
      name: 'a shelf that is being keyed',
      path: `/stores/opening/shelf/${shelf}`,
      ready: heading('What is here'),
      action: button('Next'),
      prepare: async (page) => {
        await page.getByRole('button', { name: 'Whose, marks, a note' }).click();
        await page.getByLabel('Whose it is').waitFor();
      },
    },
    {
      name: 'opening stock at the desk',
      path: '/stores/opening/desk',
      ready: (page) => page.getByText('12 of oil flinger rings'),
      action: button('Name it, and the next'),
      prepare: async (page) => {
        await page.keyboard.press('1');
        await page.getByLabel('Part number').waitFor();
        await page.getByLabel('What all of it cost').selectOption('estimate');
      },
    },
  ];
}
