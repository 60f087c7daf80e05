import { termOf } from './term-of.js';

const places = [
  { id: 'shed', kind: 'site', parentId: null, path: 'Shed' },
  { id: 'rack', kind: 'rack', parentId: 'shed', path: 'Shed, Rack' },
  { id: 'bin', kind: 'bin', parentId: 'rack', path: 'Shed, Rack, Bin' },
];
const term = (placeId: string | null, placeKind: string | null, days: number) => ({ placeId, placeKind, words: '', days });
const of = (id: string, terms: ReturnType<typeof term>[]) =>
  termOf(places.find((each) => each.id === id)!, places, { terms, usualDays: 365 });

describe('how often a place is counted', () => {
  it('is as usual where nobody says otherwise', () => expect(of('bin', []).days).toBe(365));
  it('is its own term before that of a place around it, and the nearest of those', () => {
    const terms = [term('shed', null, 90), term('rack', null, 60)];
    expect(of('bin', terms)).toEqual({ days: 60, words: 'all of Shed, Rack: every 60 days' });
    expect(of('bin', [...terms, term('bin', null, 7)])).toEqual({ days: 7, words: 'this place: every 7 days' });
    expect(of('shed', terms).days).toBe(90);
  });
  it('is that of its kind where no place around it has one', () => {
    expect(of('bin', [term(null, 'bin', 180)])).toEqual({ days: 180, words: 'every bin: every 180 days' });
    expect(of('bin', [term(null, 'bin', 180), term('shed', null, 90)]).days).toBe(90);
    expect(of('rack', [term(null, 'bin', 180)]).days).toBe(365);
  });
});
