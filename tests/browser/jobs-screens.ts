import type { Examples } from './examples-for-screens.js';
import { button, heading, type Screen, scanField } from './screen.js';

/** Jobs, over all of them and each. */
export function jobsScreens({ job, tray, early, line }: Examples): Screen[] {
  return [
    {
      name: 'a tray to be emptied',
      path: `/jobs/${job.id}/un-kit`,
      ready: heading('Empty the tray'),
      action: scanField,
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
    {
      name: 'a job',
      path: `/jobs/${job.id}`,
      ready: heading('These two stop the job'),
      action: button(/date/),
      opensByWidth: true,
    },
    {
      name: 'another part for a line',
      path: `/jobs/${job.id}/lines/${line.id}/instead`,
      ready: heading(`Accept a part for line ${line.lineNo}`),
      action: button('Accept it, in my name'),
    },
  ];
}
