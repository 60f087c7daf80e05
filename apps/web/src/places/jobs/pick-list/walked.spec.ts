import type { JobKit, PickList, PickRow } from '@corewright/contracts/pick-list';
import { beginWalk, stopsOf, type Walked, walkOn } from './walked.js';

const kit = (taken: Record<string, string>): JobKit => ({
  id: 'J1',
  code: 'J00000107',
  name: 'Axle',
  state: 'building',
  tray: { id: 'T', code: 'P00000100', name: 'Tray 1' },
  kit: 'partly kitted',
  sums: [],
  waits: [],
  offers: [],
  taken: Object.entries(taken).map(([lineId, quantity]) => ({ lineId, lineNo: 1, quantity })),
});
const row = (thing: string, quantity: string, line: string): PickRow => ({
  jobId: 'J1',
  thing: { id: thing, code: thing, name: 'Washer' },
  part: { id: 'p', name: 'Washer', number: '48-2217', maker: '' },
  unitOfMeasure: 'each',
  quantity,
  inAll: quantity,
  inPlaceOf: null,
  isReserved: false,
  lines: [{ lineId: line, lineNo: 1, quantity }],
});
const list = (places: Record<string, PickRow[]>, taken: Record<string, string> = {}): PickList => ({
  jobs: [kit(taken)],
  stops: Object.entries(places).map(([name, rows]) => ({ place: { id: name, code: 'P00000100', name, path: name }, rows })),
  offersAt: [],
  mayAccept: [],
});
const told = (walked: Walked) =>
  stopsOf(walked).map(({ place, rows }) => [
    place.name,
    ...rows.map((each) => `${each.row.thing.id} ${each.left} left, ${each.picked} taken`),
  ]);

const first = beginWalk(
  list({ 'Bin 2': [row('L1', '3', 'a')], 'Bin 5': [row('L2', '1', 'b'), row('L3', '2', 'c')], 'Bin 9': [row('L4', '1', 'd')] }),
);

describe('a list that is followed', () => {
  it('keeps what was taken where it stood, and says how many', () => {
    const then = walkOn(
      first,
      list({ 'Bin 5': [row('L3', '1', 'c')], 'Bin 9': [row('L4', '1', 'd')] }, { a: '3', b: '1', c: '1' }),
    );
    expect(told(then)).toEqual([
      ['Bin 2', 'L1 0 left, 3 taken'],
      ['Bin 5', 'L2 0 left, 1 taken', 'L3 1 left, 1 taken'],
      ['Bin 9', 'L4 1 left, 0 taken'],
    ]);
    const later = walkOn(then, list({ 'Bin 9': [row('L4', '1', 'd')] }, { a: '3', b: '1', c: '2' }));
    expect(told(later)[1]).toEqual(['Bin 5', 'L2 0 left, 1 taken', 'L3 0 left, 2 taken']);
  });

  it('lets go of what went elsewhere, and takes up what is new', () => {
    const then = walkOn(
      first,
      list({ 'Bin 5': [row('L2', '1', 'b')], 'Bin 7': [row('L5', '3', 'a')], 'Bin 9': [row('L4', '1', 'd')] }),
    );
    expect(told(then)).toEqual([
      ['Bin 5', 'L2 1 left, 0 taken'],
      ['Bin 7', 'L5 3 left, 0 taken'],
      ['Bin 9', 'L4 1 left, 0 taken'],
    ]);
  });

  it('takes a strike back when the pick is taken back', () => {
    const picked = walkOn(first, list({ 'Bin 5': [row('L2', '1', 'b')] }, { a: '3' }));
    const back = walkOn(picked, list({ 'Bin 2': [row('L1', '3', 'a')], 'Bin 5': [row('L2', '1', 'b')] }));
    expect(told(back)[0]).toEqual(['Bin 2', 'L1 3 left, 0 taken']);
  });
});
