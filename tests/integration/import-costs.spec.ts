import { jest } from '@jest/globals';
import { verifyBooks } from '../../apps/api/src/stores/verify/verify-books.js';
import type { LoadCost } from '../../libs/contracts/src/costs.js';
import { type BareServer, startBareServer, type Visitor } from '../support/bare-server.js';
import { type Files, faultsIn, sendFiles } from '../support/import-client.js';
import { lines } from '../support/small-workshop.js';

jest.setTimeout(120_000);

let server: BareServer;
let owner: Visitor;

beforeAll(async () => {
  server = await startBareServer('import_costs');
  owner = await server.setUp();
  const firms = lines('name,customer,supplier,outworker', "Trewin's of Callow Bridge,no,yes,no");
  expect((await send({ firms }, true)).body.faults).toEqual([]);
});
afterAll(async () => {
  expect(await verifyBooks(server.database)).toEqual([]);
  await server.stop();
});

const send = (files: Files, apply = false) => sendFiles(server.url, files, { by: owner, apply });
const head = 'reference,words,seller,bought_on,price,haulage,fees,currency,rate,shared_by';
const load = (reference: string, cells: string): string =>
  lines(head, `${reference},Three axles,Trewin's of Callow Bridge,2026-10-30,${cells}`);
const units = (loadOf: string, ...worths: string[]): string =>
  lines('reference,load,words,worth', ...worths.map((worth, index) => `${loadOf}-${index},${loadOf},worm axle,${worth}`));

async function costOf(number: number): Promise<LoadCost> {
  const { loads } = (await owner.get<{ loads: { id: string; number: number }[] }>('/api/loads')).body;
  const id = loads.find((each) => each.number === number)?.id;
  return (await owner.get<LoadCost>(`/api/loads/${id}/cost`)).body;
}

describe('a load that comes in by a file', () => {
  it('has its price and the worth of its rows, and its cost is shared when all of it is read', async () => {
    const files = { loads: load('61', '1000,85.50,14.51,,,relative value'), units: units('61', '600', '200', '50') };
    expect((await send(files, true)).body).toMatchObject({ applied: true, faultsTotal: 0 });
    const cost = await costOf(61);
    expect(cost).toMatchObject({ price: '1000.00', haulage: '85.50', fees: '14.51', cost: '1100.01', outOfDate: [] });
    expect(cost.rows.map((row) => [row.worth, row.share])).toEqual([
      ['600.00', '776.48'],
      ['200.00', '258.82'],
      ['50.00', '64.71'],
    ]);
    expect((await send(files, true)).body).toMatchObject({ faultsTotal: 0 });
    expect((await costOf(61)).sharings).toHaveLength(1);
  });

  it('in another currency keeps its rate and what it came to; what is left empty is not known', async () => {
    expect((await send({ loads: load('62', '500,,0,EUR,0.864,') }, true)).body.faults).toEqual([]);
    expect(await costOf(62)).toMatchObject({
      paidIn: 'EUR',
      rate: '0.864',
      haulage: null,
      cost: '432.00',
      notKnown: ['haulage'],
      sharings: [],
    });
    const file = await owner.get<string>('/api/exports/loads');
    expect(file.body).toContain('2026-10-30,500.00,,0.00,EUR,0.864,');
  });

  it.each([
    ['0,,,,,', 'price', 'nought is no price'],
    ['-3,,,,,', 'price', 'less than nought'],
    ['1.001,,,,,', 'price', 'too fine'],
    ['10,x,,,,', 'haulage', 'figures alone'],
    ['10,,,EUR,,', 'rate', 'what 1 EUR came to'],
    ['10,,,,0.8,', 'rate', 'there is no rate'],
    ['10,,,euro,1,', 'currency', 'three capital letters'],
    ['10,,,,,by hand', 'shared_by', 'one of'],
    [',,,,,equally', 'shared_by', 'nothing to share yet'],
    ['10,,,,,weight', 'shared_by', 'Nobody has said'],
    ['10,,,,,relative value', 'shared_by', 'Nobody has said'],
  ])('with %s: a fault in its column, in words', async (cells, column, words) => {
    const faults = faultsIn(await send({ loads: load('63', cells), units: units('63', '5', '') }));
    // its rows cannot come in without it, and say so themselves
    const ofLoad = faults.filter((fault) => fault.startsWith('loads '));
    expect(ofLoad).toEqual([expect.stringMatching(new RegExp(`^loads 2 ${column}: .*${words}`))]);
  });

  it('has rows with a worth; what came otherwise has none', async () => {
    const without = lines('reference,words,worth', 'T-1,worm axle,90');
    expect(faultsIn(await send({ units: without }))).toEqual([
      expect.stringContaining('units 2 worth: Only what came with a load'),
    ]);
    expect(faultsIn(await send({ units: units('61', 'a lot') }))).toEqual([expect.stringContaining('not an amount')]);
  });
});
