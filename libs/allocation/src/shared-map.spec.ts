import fc from 'fast-check';
import { SharedMap } from './shared-map.js';

const id = fc.nat({ max: 300 }).map((number) => `id ${number}`);

describe('a map that shares what is not changed', () => {
  it('holds what a plain one does after any changes, and what was before them stays as it was', () => {
    const anyChange = fc.array(fc.tuple(id, fc.option(fc.nat(), { nil: undefined })), { maxLength: 200 });
    fc.assert(
      fc.property(
        fc.array(fc.tuple(id, fc.nat()), { maxLength: 20 }),
        fc.array(anyChange, { maxLength: 5 }),
        (first, changes) => {
          const plain = new Map(first);
          let shared = SharedMap.of([...plain]);
          for (const change of changes) {
            const [before, held] = [shared, [...shared.values()].toSorted()];
            shared = shared.with(new Map(change));
            for (const [key, value] of new Map(change)) {
              if (value === undefined) plain.delete(key);
              else plain.set(key, value);
            }
            expect([...before.values()].toSorted()).toEqual(held);
            expect(shared.size).toBe(plain.size);
            expect([...shared.values()].toSorted()).toEqual([...plain.values()].toSorted());
            for (const [key, value] of plain) expect(shared.get(key)).toBe(value);
          }
        },
      ),
    );
  });
});
