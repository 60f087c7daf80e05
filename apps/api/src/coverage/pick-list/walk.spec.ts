import { decimalFrom } from '@corewright/quantities/decimal';
import type { Fetch } from './fetches.js';
import { type Lying, walkOf } from './stops.js';
import { compareWays } from './walking-order.js';

describe('the walking order', () => {
  it('is by site, area, rack and bin, with the numbers in their names as numbers', () => {
    const walked = [
      'Goods-in',
      'Stores',
      'Stores, Rack 2, Bin 2',
      'Stores, Rack 2, Bin 10',
      'Stores, Rack 2, Bin 10, Box 1',
      'Stores, Rack 10, Bin 1',
      'Stores, rack 11',
      'Yard, R3 B9',
      'Yard, R3 B12',
    ];
    expect(walked.toReversed().toSorted(compareWays)).toEqual(walked);
  });

  it('ends the names of a place before the next: a long rack name does not come between the bins of a short one', () => {
    const walked = ['Rack A, Bin 2', 'Rack A 1, Bin 1'];
    expect(walked.toReversed().toSorted(compareWays)).toEqual(walked);
  });
});

const place = (path: string) => ({ id: `id of ${path}`, code: 'P00000100', name: path.split(', ').at(-1) as string, path });
const lying = (thing: string, path: string, quantity: string): Lying => ({ thingId: thing, place: place(path), quantity });
const fetch = (jobId: string, thing: string, quantity: string, lineNo = 1): Fetch => ({
  jobId,
  line: { lineId: `${jobId} line ${lineNo}`, lineNo },
  thing: { id: thing, code: thing, name: 'Thrust washer' },
  part: { id: 'part', name: 'Thrust washer', number: '48-2217', maker: '' },
  inPlaceOf: null,
  unitOfMeasure: 'm',
  isReserved: false,
  quantity: decimalFrom(quantity),
  where: '',
});
const told = ({ stops }: ReturnType<typeof walkOf>) =>
  stops.map(({ place: { path }, rows }) => [
    path,
    ...rows.map(({ jobId, thing, quantity, inAll }) => `${thing.code} ${quantity} of ${inAll} for ${jobId}`),
  ]);

describe('the stops', () => {
  it('are one for a place, with everything that is taken there, by thing and job', () => {
    const fetches = [fetch('J2', 'L2', '1'), fetch('J1', 'L1', '2'), fetch('J2', 'L1', '1'), fetch('J1', 'L3', '4')];
    const places = [lying('L1', 'Bin 10', '3'), lying('L2', 'Bin 10', '5'), lying('L3', 'Bin 2', '4')];
    expect(told(walkOf(fetches, places))).toEqual([
      ['Bin 2', 'L3 4 of 4 for J1'],
      ['Bin 10', 'L1 2 of 2 for J1', 'L1 1 of 1 for J2', 'L2 1 of 1 for J2'],
    ]);
  });

  it('take a thing that lies in two places in two rows that add up, exactly', () => {
    const walk = walkOf(
      [fetch('J1', 'L1', '0.3'), fetch('J2', 'L1', '0.1')],
      [lying('L1', 'Bin 9', '0.2'), lying('L1', 'Bin 1', '0.2')],
    );
    expect(told(walk)).toEqual([
      ['Bin 1', 'L1 0.1 of 0.3 for J1', 'L1 0.1 of 0.1 for J2'],
      ['Bin 9', 'L1 0.2 of 0.3 for J1'],
    ]);
    expect(walk.unreached).toEqual([]);
  });

  it('have one row for lines of one job that want the same thing, and name the lines', () => {
    const { stops } = walkOf([fetch('J1', 'L1', '1', 3), fetch('J1', 'L1', '2', 7)], [lying('L1', 'Bin 1', '3')]);
    expect(stops[0]?.rows).toMatchObject([
      {
        quantity: '3',
        lines: [
          { lineNo: 3, quantity: '1' },
          { lineNo: 7, quantity: '2' },
        ],
      },
    ]);
  });

  it('say what no place has, and never more than lies there', () => {
    const { stops, unreached } = walkOf([fetch('J1', 'L1', '3')], [lying('L1', 'Bin 1', '2')]);
    expect(stops[0]?.rows[0]?.quantity).toBe('2');
    expect(unreached).toMatchObject([{ jobId: 'J1', quantity: decimalFrom('1') }]);
  });
});
