/** Every screen of the web app, as the example workshop fills it. */
import type { Page } from 'playwright-core';
import { examplesFor } from './examples-for-screens.js';
import { labelScreens } from './label-screens.js';
import { type Scene, scan } from './scene.js';
import type { Screen } from './screen.js';

const button = (name: string | RegExp) => (page: Page) => page.getByRole('button', { name, exact: true }).first();
const heading = (name: string | RegExp) => (page: Page) => page.getByRole('heading', { name }).first();
const scanField = (page: Page) => page.getByLabel('Scan, or key a code');

export async function everyScreen(scene: Scene): Promise<Screen[]> {
  const examples = await examplesFor(scene);
  const { job, tray, early, part, lot, place, unknown, box, line, stripped, core, judged, emptied, load } = examples;
  const { blank, counted, theirs, condemned, sealant, container, sale, shelf } = examples;
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
    { name: 'stores', path: '/stores', ready: heading('Stores'), action: scanField },
    { name: 'a search', path: '/stores?q=seal', ready: (page) => page.getByText('48-2230').first(), action: scanField },
    { name: 'a part', path: `/stores/parts/${part.id}`, ready: heading(/Oil seal, worm input/), action: scanField },
    { name: 'a lot', path: `/stores/things/${lot.id}`, ready: heading('Where it has been'), action: button('Hold it back') },
    {
      name: 'an inspection',
      path: `/stores/things/${lot.id}`,
      ready: heading('Where it has been'),
      action: button('Put it on the record'),
      prepare: async (page) => {
        await page.getByRole('button', { name: 'Inspect it' }).click();
        await page.getByLabel('What was found').waitFor();
      },
    },
    {
      name: 'shelf life',
      path: '/stores/shelf-life?on=2030-01-01',
      ready: (page) => page.getByRole('link', { name: /Oil seal, worm input/ }).first(),
      action: button('Reckon it'),
    },
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
      name: 'cores by age',
      path: '/stores/cores-by-age',
      ready: heading('The oldest first'),
      action: button('Put it on the record'),
      prepare: async (page) => {
        await page
          .getByRole('button', { name: /^Look it through, U\d+$/ })
          .first()
          .click();
        await page.getByLabel('What was seen, and why').waitFor();
      },
    },
    {
      name: 'what cores have given',
      path: `/stores/yields?type=${stripped.unitTypeId}`,
      ready: heading('The worst first'),
      action: button('Reckon it'),
      prepare: async (page) => {
        await page.getByRole('button', { name: 'How it is counted' }).click();
        await page.getByText('Jeffreys’ prior', { exact: false }).waitFor();
      },
    },
    {
      name: 'a unit',
      path: `/stores/things/${job.unit.id}`,
      ready: heading('Where it has been'),
      action: button('Hold it back'),
    },
    {
      name: 'units not yet identified',
      path: '/stores/unidentified',
      ready: (page) => page.getByRole('link', { name: /six wheel studs/ }).first(),
      action: scanField,
    },
    {
      name: 'what a unit is',
      path: `/stores/things/${unknown.id}/identify`,
      ready: heading('Contradicted'),
      action: button(/^It is Brantock WD5/),
      prepare: async (page) => {
        await page.getByLabel('How many wheel studs on each hub').fill('6');
      },
    },
    {
      name: 'a photograph in full',
      path: `/stores/things/${job.unit.id}`,
      ready: heading('Where it has been'),
      action: button('Close'),
      prepare: async (page) => {
        await page.getByRole('img', { name: /the nose, as it came/ }).click();
        await page.getByRole('dialog').waitFor();
      },
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
      name: 'a tray to be emptied',
      path: `/jobs/${job.id}/un-kit`,
      ready: heading('Empty the tray'),
      action: scanField,
    },
    {
      name: 'an acceptance sheet that nobody has filled in',
      path: `/stores/things/${core.id}/acceptance`,
      ready: heading('Look it over'),
      action: button('Keep the sheet'),
      prepare: async (page) => {
        await page.getByRole('group', { name: 'No cracks' }).getByRole('button', { name: 'no', exact: true }).click();
        await page.getByLabel('Note on: No cracks').waitFor();
      },
    },
    {
      name: 'an acceptance sheet that is decided',
      path: `/stores/things/${judged.id}/acceptance`,
      ready: heading('The sheet that stands'),
      action: button('Fill in another sheet'),
    },
    {
      name: 'a box of unsorted things',
      path: `/stores/things/${box.id}`,
      ready: button('It is empty'),
      action: button('Take it out and name it'),
      prepare: async (page) => {
        await page.getByRole('button', { name: 'Name something out of it' }).click();
        await page.getByLabel('What the rest is called now').waitFor();
      },
    },
    {
      name: 'a box whose cost is passed on',
      path: `/stores/things/${emptied.id}`,
      ready: button('Share it again so'),
      action: button('Share it again so'),
    },
    {
      name: 'what nobody could name',
      path: '/stores/ask-around',
      ready: (page) => page.getByRole('article', { name: /six wheel studs/ }),
      action: button(/^Somebody knows/),
      prepare: async (page) => {
        const first = page.getByRole('article').first();
        await first.getByRole('button', { name: /^Somebody knows/ }).click();
        await first.getByLabel('Who said so').waitFor();
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
    { name: 'a place', path: `/stores/places/${place.id}`, ready: heading(place.name), action: scanField },
    {
      name: 'a rack with its bins',
      path: `/stores/places/${place.parentId}`,
      ready: heading('What stands in it'),
      action: (page) => page.getByRole('link', { name: new RegExp(`^${place.name} `) }),
    },
    {
      name: 'a place that is to be carried',
      path: `/stores/places/${place.id}`,
      ready: heading(place.name),
      action: button('It stands there'),
      prepare: async (page) => {
        await page.getByRole('button', { name: 'Carry it elsewhere' }).click();
        await page.getByRole('combobox', { name: 'Where it stands then' }).waitFor();
      },
    },
    {
      name: 'jobs',
      path: '/jobs',
      ready: (page) => page.getByText('Overhead-worm axle, Brantock WD7').first(),
      action: scanField,
    },
    {
      name: 'what could be built',
      path: '/jobs/could-be-built?donors=broken',
      ready: heading('What rests on cores not yet stripped'),
      action: (page) => page.getByLabel('What may be used again'),
    },
    {
      name: 'a pick list',
      path: `/jobs/pick-list?jobs=${job.id},${early.id}`,
      ready: heading('How the trays stand'),
      action: button('Print it'),
      prepare: async (page) => {
        await page.getByRole('button', { name: '2 jobs on this list' }).click();
        await page.getByRole('checkbox').first().waitFor({ state: 'attached' });
      },
    },
    {
      name: 'a kit tray',
      path: `/stores/places/${tray.id}`,
      ready: heading('What is missing from it'),
      action: (page) => page.getByRole('link', { name: 'Pick list', exact: true }),
    },
    {
      name: 'parts in conflict',
      path: '/jobs/by-part',
      ready: (page) => page.getByText('goes without').first(),
      action: (page) => page.getByRole('link', { name: /^What if J/ }).first(),
    },
    {
      name: 'what all jobs could reserve',
      path: '/jobs/to-reserve',
      ready: button(/^Reserve for all/),
      action: button(/^Reserve for all/),
    },
    {
      name: 'what would be if a job came first',
      path: `/jobs/what-if?suppose=first.${early.id}`,
      ready: heading('Who wins, who loses'),
      action: button('Suppose this as well'),
    },
    {
      name: 'a supposition in hand',
      path: `/jobs/what-if?job=${early.id}`,
      ready: heading('What if'),
      action: button('Suppose this'),
      prepare: async (page) => {
        await page.getByLabel('Suppose that').selectOption('order');
        await page.getByLabel('Later by').waitFor();
      },
    },
    { name: 'a new job', path: '/jobs/new', ready: heading('Open a job'), action: button('Open the job') },
    { name: 'a job', path: `/jobs/${job.id}`, ready: heading('These two stop the job'), action: button(/date/) },
    {
      name: 'another part for a line',
      path: `/jobs/${job.id}/lines/${line.id}/instead`,
      ready: heading(`Accept a part for line ${line.lineNo}`),
      action: button('Accept it, in my name'),
    },
    {
      name: 'a new part',
      path: '/stores/new-part?number=48-9999',
      ready: heading('A new part'),
      action: button('Write it down'),
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
    {
      name: 'a unit that is being stripped',
      path: `/stores/things/${stripped.id}`,
      ready: heading('Strip-down'),
      action: (page) => page.getByRole('link', { name: 'Go on with it' }),
    },
    {
      name: 'by number',
      path: '/cross-reference/number?number=48-2030',
      ready: heading('This number'),
      action: button('Find it'),
    },
    {
      name: 'a bearing by its number',
      path: '/cross-reference/bearing?number=NU%20311&with=6311-2Z',
      ready: (page) => page.getByText('6311-2Z in place of NU 311').first(),
      action: button('Look it up'),
    },
    {
      name: 'a bearing by measurement',
      path: '/cross-reference/measured?bore=55&outside=120&width=29',
      ready: (page) => page.getByRole('link', { name: '6311', exact: true }),
      action: button('Find it'),
    },
    {
      name: 'a bearing in its packet',
      path: '/cross-reference/packet',
      ready: heading('Nobody can say'),
      action: (page) => page.getByLabel('Date on the packet'),
    },
    {
      name: 'the tables of bearings',
      path: '/cross-reference/tables',
      ready: heading('Makers’ suffixes'),
      action: button('Key a bearing'),
      prepare: async (page) => {
        await page.getByRole('button', { name: 'Key a suffix' }).click();
        await page.getByLabel('Number begins with').fill('62');
        await page.getByRole('cell', { name: '6200', exact: true }).waitFor();
      },
    },
    {
      name: 'by thread',
      path: '/cross-reference/thread?outside=5%2F16&unit=in&pitch=18&kind=tpi&state=worn',
      ready: (page) => page.getByRole('cell', { name: '5/16 in BSW', exact: true }),
      action: button('Find the thread'),
    },
    {
      name: 'by ratio',
      path: '/cross-reference/ratio?teeth=18%2F32%2013%2F37&input=48%203%2F4&off=1%2F8&output=10&side=wheel&drivers=6%20to%2014&drivens=30%20to%2060',
      ready: (page) => page.getByRole('cell', { name: '8 and 39', exact: true }),
      action: button('Find the teeth'),
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
