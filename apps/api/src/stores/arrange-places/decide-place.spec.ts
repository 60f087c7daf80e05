import { mayStandIn } from '@corewright/contracts/places';
import type { PlaceKind } from '@corewright/contracts/stores';
import { type Around, type Arranged, whyNotCarried, whyNotClosed, whyNotEdited } from './decide-place.js';

const rack: Arranged = { id: 'r', name: 'Rack 3', path: 'Stores, Rack 3', kind: 'rack', parentId: 's', isClosed: false };
const around = (changed: Partial<Around> = {}): Around => ({
  id: 'y',
  path: 'Yard',
  kind: 'area',
  isClosed: false,
  isInside: false,
  ...changed,
});

describe('what may stand in what', () => {
  it.each<[PlaceKind, PlaceKind, boolean]>([
    ['bin', 'rack', true],
    ['bin', 'bin', true],
    ['rack', 'rack', true],
    ['rack', 'bin', false],
    ['site', 'site', true],
    ['site', 'bin', false],
    ['area', 'rack', false],
    ['tray', 'bin', true],
    ['bin', 'tray', false],
    ['quarantine', 'bin', true],
    ['quarantine', 'tray', false],
  ])('a %s in a %s: %s', (kind, holder, may) => expect(mayStandIn(kind, holder)).toBe(may));
});

describe('a place that is carried', () => {
  it('goes where it fits, and out of every other place', () => {
    expect(whyNotCarried(rack, around(), false)).toBeNull();
    expect(whyNotCarried(rack, null, false)).toBeNull();
  });
  it.each<[string, Around | null, boolean, string, RegExp]>([
    ['itself', around({ id: 'r', path: rack.path, isInside: true }), false, 'place-in-itself', /the very place that is carried/],
    ['what stands in it', around({ isInside: true }), false, 'place-in-itself', /is in Stores, Rack 3/],
    ['where it stands', around({ id: 's' }), false, 'stands-there-already', /stands there already/],
    ['a closed place', around({ isClosed: true }), false, 'place-closed', /Yard is closed/],
    ['a smaller place', around({ kind: 'bin' }), false, 'cannot-stand-there', /Yard is a bin, and a rack does not stand in one/],
    ['a tray', around({ kind: 'tray' }), false, 'cannot-stand-there', /kit tray of a job/],
    ['a namesake', around(), true, 'name-taken', /In Yard there is a “Rack 3” already/],
    ['a namesake at the top', null, true, 'name-taken', /In the workshop itself/],
  ])('does not go into %s', (_, into, isTaken, code, words) => {
    const refusal = whyNotCarried(rack, into, isTaken);
    expect(refusal).toMatchObject({ status: 409, code, detail: expect.stringMatching(words) });
    expect(refusal?.detail).toMatch(/Nothing was changed\.$/);
  });
});

describe('what a place is', () => {
  const beside = { around: around(), inside: [{ name: 'Bin 1', kind: 'bin' as const }], isNameTaken: false };
  it('is changed to what fits between what is around it and what stands in it', () => {
    expect(whyNotEdited(rack, { kind: 'bin', name: 'Rack 3' }, beside)).toBeNull();
    expect(whyNotEdited(rack, { kind: 'site', name: 'Rack 3' }, beside)?.values).toMatchObject({ fields: [{ path: 'kind' }] });
    const inside = [{ name: 'Rack 4', kind: 'rack' as const }];
    expect(whyNotEdited(rack, { kind: 'bin', name: 'Rack 3' }, { ...beside, inside })?.detail).toMatch(/^Rack 4 stands in it/);
    expect(whyNotEdited(rack, { kind: 'rack', name: 'Rack 4' }, { ...beside, isNameTaken: true })?.values).toMatchObject({
      fields: [{ path: 'name' }],
    });
  });
});

describe('closing', () => {
  const nothing = { things: 0, places: 0, isGoodsIn: false };
  it('is for a place in which nothing lies and no open place stands', () => {
    expect(whyNotClosed(rack, nothing)).toBeNull();
    expect(whyNotClosed(rack, { ...nothing, things: 2 })?.detail).toMatch(/^2 things lie in Stores, Rack 3/);
    expect(whyNotClosed(rack, { ...nothing, places: 1 })?.detail).toMatch(/^1 open place stands/);
    expect(whyNotClosed({ ...rack, isClosed: true }, nothing)?.code).toBe('closed-already');
    expect(whyNotClosed({ ...rack, kind: 'tray' }, nothing)?.code).toBe('tray-of-a-job');
    expect(whyNotClosed(rack, { ...nothing, isGoodsIn: true })?.code).toBe('in-use');
  });
});
