import { jest } from '@jest/globals';
import { exportFiles } from '../../libs/contracts/src/imports.js';
import { type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { type Files, faultsIn, sendFiles } from '../support/import-client.js';
import { lines } from '../support/small-workshop.js';

jest.setTimeout(120_000);

let server: BareServer;
let other: BareServer;
let owner: Visitor;
let otherOwner: Visitor;

beforeAll(async () => {
  server = await startBareServer('imp_said');
  owner = await server.setUp();
  other = await startBareServer('imp_said_to');
  otherOwner = await other.setUp();
});
afterAll(async () => {
  await server.stop();
  await other.stop();
});

const files: Files = {
  people: lines('sign_in_name,display_name,role', 'ned,Ned Orley,stores', 'office,Front office,viewer'),
  makers: lines('name', 'Marlhouse', 'Brantock'),
  firms: lines('name,customer,supplier', 'Marlhouse Jointing,no,yes', 'R. Sandiman,yes,no'),
  places: lines(
    'path,kind,nicknames,closed',
    'Old loft,area,,yes',
    'Old loft/Shelf 1,bin,,yes',
    'Stores/Rack 1/Bin 1,bin,,',
    'Stores/Rack 1/Bin 2,bin,,no',
  ),
  'count-schedule': lines(
    'counts,which,days,at_most',
    'every place,,180,',
    'scarce parts,,14,3',
    'kind of place,rack,90,',
    'place,Stores/Rack 1/Bin 1,30,',
  ),
  parts: lines(
    'maker,number,name,unit',
    'Marlhouse,MJ 7,"=Sealant, grey",each',
    'Marlhouse,MJ 9,Marking blue,each',
    'Brantock,48-2206,Casing stud,each',
    'Brantock,48-2290,Packing,m',
  ),
  'count-marks': lines('maker,number,scarce', 'Brantock,48-2206,yes', 'Brantock,48-2290,no'),
  minimums: lines(
    'maker,number,minimum,up_to,supplier,note',
    'Marlhouse,MJ 7,2,6,Marlhouse Jointing,"-by the box"',
    'Brantock,48-2290,1.5,4,,',
  ),
  'unit-types': lines('reference,maker,kind,model', 'WD7,Brantock,Overhead-worm axle,WD7'),
  consumables: lines(
    'maker,number,container,keeps_days,one_at_a_time,charged,use_amount,uses_per_container,flat,flat_from',
    'Marlhouse,MJ 7,tube,60,yes,by use,0.85,,,',
    'Marlhouse,MJ 9,"@tin",,no,flat,,,3.50; WD7: 6.00,2026-01-05',
  ),
  units: lines(
    'reference,unit_type,place,held_back,held_by,may_lift,look_again_on',
    'T-1,WD7,Stores/Rack 1,a crack is looked for,ned,ned,2030-02-01',
    'T-2,WD7,Stores/Rack 1,,,,',
  ),
  lots: lines(
    'reference,maker,number,quantity,place,use_by,opened,opened_on,held_back,held_by',
    'S-1,Marlhouse,MJ 7,4,Stores/Rack 1/Bin 1,2031-03-31,,,,',
    'S-2,Marlhouse,MJ 7,1,Stores/Rack 1/Bin 2,2031-03-31,yes,2026-01-07,,',
    'S-3,Marlhouse,MJ 9,1,Stores/Rack 1/Bin 2,,yes,,looks thin,ned',
    'S-4,Brantock,48-2206,5,Stores/Rack 1/Bin 2,,,,,',
  ),
  'kept-for-jobs': lines(
    'maker,number,unit,lot,reason',
    'Brantock,48-2206,,,"+the last that anybody made"',
    ',,T-2,,Promised to ourselves.',
    ',,,S-4,Measured.',
  ),
};

async function takeAll(url: string, by: Visitor): Promise<Record<string, string>> {
  const taken: Record<string, string> = {};
  for (const file of exportFiles)
    taken[file] = await (await fetch(`${url}/api/exports/${file}`, { headers: { cookie: by.cookie ?? '' } })).text();
  return taken;
}

describe('consumables, minimums, counting, holds and what is kept', () => {
  it('come in by the rules of the screens', async () => {
    const answer = await sendFiles(server.url, files, { by: owner, apply: true });
    expect(faultsIn(answer)).toEqual([]);
    expect(answer.body).toMatchObject({ applied: true, notes: [] });
    const { consumables } = (await owner.get<{ consumables: Consumable[] }>('/api/consumables')).body;
    expect(consumables.map(({ settings, open, fullCount }) => [settings.container, open.length, fullCount])).toEqual(
      expect.arrayContaining([
        ['tube', 1, '4'],
        ['@tin', 1, '0'],
      ]),
    );
    const tube = consumables.find(({ settings }) => settings.container === 'tube');
    // opened on 7 January, and it keeps 60 days: earlier than what the packet says
    expect(tube?.open[0]).toMatchObject({ openedOn: '2026-01-07', useBy: { on: '2026-03-08' } });
    const scanned = (await owner.get<{ warning: string | null }>(`/api/scan/${tube?.open[0]?.thing.code}`)).body;
    expect(scanned.warning).toBe('past its use-by since 8 Mar 2026; open since 7 Jan 2026');
    const full = (await owner.get<{ warning: string | null }>(`/api/scan/${tube?.full[0]?.thing.code}`)).body;
    expect(full.warning).toBeNull();
    const places = await server.database.rows('SELECT path FROM places WHERE closed_at IS NOT NULL ORDER BY path');
    expect(places).toEqual([{ path: 'Old loft' }, { path: 'Old loft, Shelf 1' }]);
    const [hold] = await server.database.rows<Record<string, unknown>>(`
      SELECT held.sign_in_name AS by, lifter.sign_in_name AS lifter, hold_look_again_on::text AS again, held_back_since IS NOT NULL AS since
        FROM things JOIN people AS held ON held.id = held_back_by JOIN people AS lifter ON lifter.id = hold_lifter_id`);
    expect(hold).toEqual({ by: 'ned', lifter: 'ned', again: '2030-02-01', since: true });
  });

  it('change nothing when they come in again', async () => {
    const { body } = await sendFiles(server.url, files, { by: owner, apply: true });
    expect(body).toMatchObject({ applied: true, faultsTotal: 0, notes: [] });
    for (const file of body.files) expect(file).toMatchObject({ added: 0, unchanged: file.rows });
  });

  it('are taken out, change nothing where they came from and fill an empty workshop the same', async () => {
    const taken = await takeAll(server.url, owner);
    expect(taken.consumables).toBe(
      [
        'maker,number,container,keeps_days,one_at_a_time,charged,use_amount,uses_per_container,flat,flat_from',
        'Marlhouse,MJ 7,tube,60,yes,by use,0.85,,,',
        "Marlhouse,MJ 9,'@tin,,no,flat,,,3.50;WD7: 6.00,2026-01-05",
        '',
      ].join('\r\n'),
    );
    expect(taken.minimums).toContain("Marlhouse,MJ 7,2,6,Marlhouse Jointing,'-by the box\r\n");
    expect(taken['kept-for-jobs']).toContain("Brantock,48-2206,,,'+the last that anybody made\r\n");
    expect(taken.places).toContain('Old loft/Shelf 1,bin,,yes\r\n');
    const again = await sendFiles(server.url, taken, { by: owner, apply: true });
    expect(faultsIn(again)).toEqual([]);
    for (const file of again.body.files) expect(file).toMatchObject({ added: 0, unchanged: file.rows });
    const whole = await sendFiles(other.url, { people: files.people as string, ...taken }, { by: otherOwner, apply: true });
    expect(faultsIn(whole)).toEqual([]);
    expect(whole.body).toMatchObject({ applied: true, notes: [] });
    expect(await takeAll(other.url, otherOwner)).toEqual(taken);
  });

  it('keep what the workshop has said since, and say so', async () => {
    const changed = {
      minimums: lines('maker,number,minimum,up_to', 'Marlhouse,MJ 7,3,6'),
      'count-schedule': lines('counts,which,days,at_most', 'every place,,200,', 'kind of place,rack,60,'),
      'count-marks': lines('maker,number,scarce', 'Brantock,48-2206,no'),
      consumables: lines('maker,number,container', 'Marlhouse,MJ 7,cartridge'),
      places: lines('path,kind,closed', 'Old loft,area,no'),
    };
    const { body } = await sendFiles(server.url, changed, { by: owner, apply: true });
    expect(body.files.every(({ added }) => added === 0)).toBe(true);
    expect(body.notes.map(({ file, column }) => `${file} ${column}`)).toEqual(
      expect.arrayContaining([
        'minimums minimum',
        'count-schedule days',
        'count-marks scarce',
        'consumables container',
        'places closed',
      ]),
    );
  });

  it('notes who held something where nobody has that name, and asks for whoever is to lift it', async () => {
    const head = 'reference,words,place,held_back,held_by,may_lift';
    const tried = await sendFiles(
      server.url,
      {
        units: lines(
          head,
          'T-7,an axle,Stores,looked at,nobody-here,',
          'T-8,an axle,Stores,looked at,,nobody-here',
          'T-9,an axle,Stores,,ned,',
          'T-10,an axle,Stores,looked at,,office',
        ),
      },
      { by: owner },
    );
    expect(tried.body.notes).toMatchObject([{ line: 2, column: 'held_by' }]);
    expect(faultsIn(tried)).toEqual([
      expect.stringMatching(/^units 3 may_lift: Nobody who signs in as "nobody-here"/),
      expect.stringMatching(/^units 4 held_by: /),
      expect.stringMatching(/^units 5 may_lift: /),
    ]);
  });

  it.each([
    [
      'lots',
      'reference,maker,number,quantity,opened',
      'S-9,Marlhouse,MJ 7,2,yes',
      /opened: An open container is a row of its own/,
    ],
    ['lots', 'reference,maker,number,quantity,opened', 'S-9,Marlhouse,MJ 7,1,yes', /opened: .*one container at a time is open/],
    [
      'lots',
      'reference,maker,number,quantity,opened',
      'S-9,Brantock,48-2206,1,yes',
      /opened: Its part does not go by the container/,
    ],
    ['lots', 'reference,maker,number,quantity,use_by', 'S-9,Brantock,48-2206,1,2030-01-01', /use_by: Its part does not go/],
    ['lots', 'reference,maker,number,quantity,opened_on', 'S-9,Marlhouse,MJ 7,1,2026-01-01', /opened_on: Say yes under "opened"/],
    [
      'lots',
      'reference,maker,number,quantity,place',
      'S-9,Marlhouse,MJ 7,1,Old loft',
      /place: Old loft is closed and takes no goods/,
    ],
    ['consumables', 'maker,number,container', 'Brantock,48-2290,roll', /container: Containers are counted one by one/],
    ['consumables', 'maker,number,container,charged', 'Brantock,48-2206,box,by use', /use_amount: Say either what a use costs/],
    ['consumables', 'maker,number,container,charged,flat', 'Brantock,48-2206,box,flat,XX: 2', /flat: The unit type "XX"/],
    ['minimums', 'maker,number,minimum,up_to', 'Brantock,48-2206,4,3', /up_to: /],
    ['count-schedule', 'counts,which,days', 'place,,30', /which: Say which place/],
    ['count-schedule', 'counts,which,days', 'every place,Stores,30', /which: This is of all of them/],
    ['count-schedule', 'counts,which,days', 'scarce parts,,30', /at_most: Say of how many/],
    ['count-schedule', 'counts,which,days', 'kind of place,tray,30', /which: This is one of/],
    ['kept-for-jobs', 'maker,number,lot,reason', 'Brantock,48-2206,S-4,both', /number: Name one of three/],
    ['kept-for-jobs', 'lot,reason', 'S-404,none', /lot: The lot "S-404"/],
  ])('says what is wrong with a row of %s (%s): %s', async (file, head, row, words) => {
    const answer = await sendFiles(server.url, { [file]: lines(head, row) }, { by: owner });
    expect(faultsIn(answer)).toEqual([expect.stringMatching(words)]);
  });

  it('closes a place only when it is empty', async () => {
    const places = lines('path,kind,closed', 'Far shed,area,yes', 'Far shed/Bin 1,bin,');
    const answer = await sendFiles(server.url, { places }, { by: owner });
    expect(faultsIn(answer)).toEqual([expect.stringMatching(/^places 2 closed: 1 open place stands in/)]);
  });
});

interface Consumable {
  settings: { container: string };
  full: { thing: { code: string } }[];
  open: { thing: { code: string }; openedOn: string; useBy: { on: string } }[];
  fullCount: string;
}
