import { pressFolded, unfoldActs } from './acts.js';
import type { Examples } from './examples-for-screens.js';
import { button, heading, type Screen, scanField } from './screen.js';

/** What is in the stores. */
export function storesScreens({ job, part, lot, place, unknown, box, stripped, core, judged, emptied }: Examples): Screen[] {
  return [
    { name: 'stores', path: '/stores', ready: heading('Stores'), action: scanField },
    { name: 'a search', path: '/stores?q=seal', ready: heading('Found'), action: scanField },
    { name: 'a part', path: `/stores/parts/${part.id}`, ready: heading(/Oil seal, worm input/), action: scanField },
    { name: 'a lot', path: `/stores/things/${lot.id}`, ready: heading('Where it has been'), action: button('Not there') },
    {
      name: 'all that can be done with a lot',
      path: `/stores/things/${lot.id}`,
      ready: heading('Where it has been'),
      action: button('Hold it back'),
      prepare: unfoldActs,
    },
    {
      name: 'an inspection',
      path: `/stores/things/${lot.id}`,
      ready: heading('Where it has been'),
      action: button('Put it on the record'),
      prepare: async (page) => {
        await pressFolded(page, 'Inspect it');
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
      prepare: unfoldActs,
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
    { name: 'a place', path: `/stores/places/${place.id}`, ready: heading(place.name), action: scanField },
    {
      name: 'all that can be done with a place',
      path: `/stores/places/${place.id}`,
      ready: heading(place.name),
      action: button('Name and kind'),
      prepare: unfoldActs,
    },
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
        await pressFolded(page, 'Carry it elsewhere');
        await page.getByRole('combobox', { name: 'Where it stands then' }).waitFor();
      },
    },
    {
      name: 'a new part',
      path: '/stores/new-part?number=48-9999',
      ready: heading('A new part'),
      action: button('Write it down'),
    },
    {
      name: 'a unit that is being stripped',
      path: `/stores/things/${stripped.id}`,
      ready: heading('Strip-down'),
      action: (page) => page.getByRole('link', { name: 'Go on with it' }),
    },
  ];
}
