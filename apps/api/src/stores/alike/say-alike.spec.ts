import { nearestEmpty } from './say-alike.js';

const bins = (...names: string[]) => names.map((name) => ({ id: name, name, path: name }));

describe('the empty bin near others', () => {
  const all = bins('Bin 10', 'Bin 1', 'Bin 2', 'Bin 11');
  it('is the one fewest bins away, as one walks past them', () => {
    expect(nearestEmpty({ all, empty: bins('Bin 1', 'Bin 11') }, 'Bin 2')?.name).toBe('Bin 1');
    expect(nearestEmpty({ all, empty: bins('Bin 11', 'Bin 1') }, 'Bin 10')?.name).toBe('Bin 11');
  });
  it('is the one before where two are as near, and none where all are full', () => {
    expect(nearestEmpty({ all, empty: bins('Bin 10', 'Bin 1') }, 'Bin 2')?.name).toBe('Bin 1');
    expect(nearestEmpty({ all, empty: [] }, 'Bin 2')).toBeNull();
  });
});
