import { button, heading, type Screen } from './screen.js';

/** What else will serve. */
export function crossReferenceScreens(): Screen[] {
  return [
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
  ];
}
