import type { PlaceNode } from '@corewright/contracts/places';
import { treeRows } from './tree-rows.js';

const node = (id: string, kind: PlaceNode['kind'], placesBelow = 0) => ({ id, kind, placesBelow }) as PlaceNode;
const levels = new Map<string | null, PlaceNode[]>([
  [null, [node('stores', 'area', 3), node('tray', 'tray'), node('yard', 'area')]],
  ['stores', [node('rack', 'rack', 1)]],
  ['rack', [node('bin', 'bin')]],
]);
const shown = (...open: string[]) =>
  treeRows((within) => levels.get(within), new Set(open)).map(({ place, depth }) => [place.id, depth]);

describe('the tree of places', () => {
  it('shows the top alone until a level is opened, and no kit trays', () => {
    expect(shown()).toEqual([
      ['stores', 0],
      ['yard', 0],
    ]);
  });
  it('shows what stands in an open place, and nothing in an open one that cannot be seen', () => {
    expect(shown('stores', 'rack')).toEqual([
      ['stores', 0],
      ['rack', 1],
      ['bin', 2],
      ['yard', 0],
    ]);
    expect(shown('rack')).toEqual(shown());
  });
  it('waits for a level that has not come yet', () => {
    expect(treeRows(() => undefined, new Set(['stores']))).toEqual([]);
  });
});
